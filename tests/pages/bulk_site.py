"""Pages of all properties written into a folder without the program that makes frames."""

from html import escape
from pathlib import Path

from generator.pipeline import today
from generator.site.config import FirmConfig
from generator.site.page import SiteContent, made
from generator.site.publish import PropertyPages
from generator.site.publish_tenants import nowhere
from generator.site.shell import BODY, DESCRIPTION, HEAD, TITLE
from generator.site.stock_build import Places, StockBuild
from generator.site.tenancies import read_tenancies
from generator.site.tenant_address import tenant_address
from generator.site.tenants import tenants_rest
from generator.views.tenant_wording import load_wordings

FRAME = f"<html><head><title>{TITLE}</title><meta name='description' content='{DESCRIPTION}'>{HEAD}</head>{BODY}</html>"


def write_bulk(content: SiteContent, root: Path) -> dict[str, str]:
    """Write the pages of all properties, and return them by their address below the folder."""
    bulk = content.bulk
    assert bulk is not None
    root.mkdir(exist_ok=True)
    bulk.write(dict.fromkeys(bulk.kinds, FRAME), root, older=None, site_url=None)
    return {
        f"{file.relative_to(root).parent.as_posix()}/": file.read_text(encoding="utf-8")
        for file in sorted(root.rglob("*.html"))
    }


def all_pages(content: SiteContent, root: Path) -> dict[str, str]:
    """Every page of the content by address: those of properties with a frame of nothing, the others without."""
    pages = write_bulk(content, root)
    return pages | {page.url: page.body + page.head + escape(page.title) for page in map(made, content.pages)}


def write_tenants(properties: Path, firm: FirmConfig, root: Path, secret: bytes) -> dict[str, str]:
    """Write the whole tenants' site beside a folder for the engineers', and return each property's page by its name."""
    stock = StockBuild(properties, firm, today=today(), kept=False)
    bulk = PropertyPages(stock)
    root.mkdir(parents=True)
    engineers = root.with_name(f"{root.name}-engineers")
    engineers.mkdir()
    bulk.places = Places(root=engineers, tenants=root, secret=secret)
    written = bulk.write(dict.fromkeys(bulk.kinds, FRAME), engineers, older=None, site_url=None)
    past = [
        tenant_address(stem, secret, tenancy=number)
        for stem, tenancy in read_tenancies(properties).items()
        for number in range(tenancy)
    ]
    for path, data in tenants_rest(nowhere(firm, load_wordings(properties)[0]), past).items():
        (root / path).parent.mkdir(exist_ok=True)
        (root / path).write_bytes(data)
    return {
        stem: (root / address / "index.html").read_text(encoding="utf-8")
        for stem, address in written.have.addresses.items()
    }
