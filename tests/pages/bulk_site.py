"""Pages of all properties written into a folder without the program that makes frames."""

from html import escape
from pathlib import Path

from generator.site.page import SiteContent
from generator.site.shell import BODY, DESCRIPTION, HEAD, TITLE

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
    return pages | {page.url: page.body + page.head + escape(page.title) for page in content.pages}
