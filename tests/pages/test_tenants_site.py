"""The tenants' site: pages that stand alone, at addresses that nobody can guess, and nothing else."""

from pathlib import Path

import pytest

from generator.site.config import FirmConfig
from generator.site.errors import BadPage
from generator.site.tenant_address import tenant_address
from generator.site.tenants import page_file, tenants_rest
from tests.pages.bulk_site import write_tenants
from tests.pages.site_tools import content_of
from tests.tenant_pages import PROPERTIES

NOWHERE = "<!doctype html><p>not here"
SECRET = b"0" * 32


def stock(folder: Path, *references: str) -> Path:
    folder.mkdir(parents=True)
    for reference in references:
        text = (PROPERTIES / f"{reference}.yaml").read_text(encoding="utf-8")
        (folder / f"{reference}.yaml").write_text(text, encoding="utf-8")
    return folder


def test_one_page_a_property_and_no_list(tmp_path: Path) -> None:
    references = ("EB-0012", "EB-0175")
    firm = FirmConfig(base=tmp_path)
    pages = write_tenants(stock(tmp_path / "records", *references), firm, tmp_path / "site", SECRET)
    assert sorted(content_of(tmp_path / "site")) == sorted(
        ["404.html", "index.html", "robots.txt", *(page_file(tenant_address(r, SECRET)) for r in references)]
    )
    again = write_tenants(tmp_path / "records", firm, tmp_path / "again", SECRET)
    assert again == pages


def test_what_is_no_property_leads_nowhere_and_is_not_searched() -> None:
    rest = tenants_rest(NOWHERE, ("b" * 32, "c" * 32))
    assert rest.pop("robots.txt") == b"User-agent: *\nDisallow: /\n"
    old = [f"{letter * 32}/index.html" for letter in "bc"]
    assert rest == dict.fromkeys(("index.html", "404.html", *old), NOWHERE.encode())


@pytest.mark.parametrize("address", ["short", "a" * 25, "../" + "a" * 32, "a" * 31 + "/", "\u00e9" * 32])
def test_addresses_that_can_be_guessed_are_refused(address: str) -> None:
    with pytest.raises(BadPage, match="128 bits"):
        page_file(address)
    with pytest.raises(BadPage, match="128 bits"):
        tenants_rest(NOWHERE, (address,))
