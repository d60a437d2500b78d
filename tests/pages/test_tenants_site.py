"""The tenants' site: sheets that stand alone, at addresses that nobody can guess, and nothing else."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from generator.site.errors import BadPage, NotOurFolder
from generator.site.swap import MARK
from generator.site.tenants import TenantContact, TenantSheet, build_tenants_site
from tests.pages.site_tools import content_of, pages_of

CONTACT = TenantContact(
    firm_name="Ember & Sons", firm_phone="01632 960123", gas_name="Gas emergency", gas_phone="0800 111 999"
)
SHEET = TenantSheet(
    address="a" * 32,
    home="14 Alder Row, Marsh <End>",
    stop_when=("You smell gas.", "Water drips on a socket."),
    never=("Never take off a cover.",),
    still_works=("The shower has its own heater.",),
    contact=CONTACT,
    revision="Revision 4f2a91c, last visit 12 May 2026",
)


def test_one_page_a_property_and_no_list(tmp_path: Path) -> None:
    sheets = [replace(SHEET, address=letter * 32) for letter in "abc"]
    assert build_tenants_site(sheets, tmp_path / "site", contact=CONTACT) == 3
    assert sorted(content_of(tmp_path / "site")) == sorted(
        [MARK, "404.html", "index.html", *(f"{letter * 32}/index.html" for letter in "abc")]
    )
    for name in ("index.html", "404.html"):
        text = (tmp_path / "site" / name).read_text(encoding="utf-8")
        assert "aaaa" not in text
        assert "0800 111 999" in text
        assert "01632 960123" in text


def test_a_sheet_says_what_it_was_given(tmp_path: Path) -> None:
    build_tenants_site([SHEET], tmp_path / "site", contact=CONTACT)
    html = (tmp_path / "site" / SHEET.address / "index.html").read_text(encoding="utf-8")
    for words in (*SHEET.stop_when, *SHEET.never, *SHEET.still_works, SHEET.revision):
        assert f">{words}</" in html
    assert "<h1>Heating help for 14 Alder Row, Marsh &lt;End&gt;</h1>" in html
    assert '<a href="tel:0800111999">0800 111 999</a>' in html
    assert "Ember &amp; Sons" in html
    assert html.count("<h1") == 1


def test_sheets_load_nothing_link_nowhere_and_ask_not_to_be_found(tmp_path: Path) -> None:
    build_tenants_site([SHEET], tmp_path / "site", contact=CONTACT)
    for path, html in pages_of(tmp_path / "site").items():
        assert "noindex" in html, path
        assert "<script" not in html, path
        assert "://" not in html, path
        assert re.findall(r'(?:src|href)="(?!tel:)', html) == [], path
        assert "url(" not in html, path


def test_a_number_that_is_not_set_is_shown_plainly(tmp_path: Path) -> None:
    contact = replace(CONTACT, firm_phone="not set")
    build_tenants_site([replace(SHEET, contact=contact, still_works=())], tmp_path / "site", contact=contact)
    html = (tmp_path / "site" / SHEET.address / "index.html").read_text(encoding="utf-8")
    assert "<dd>not set</dd>" in html
    assert "What still works" not in html


def test_twice_gives_the_same_bytes_and_what_is_gone_goes(tmp_path: Path) -> None:
    other = replace(SHEET, address="b" * 32)
    build_tenants_site([SHEET, other], tmp_path / "site", contact=CONTACT)
    before = content_of(tmp_path / "site")
    build_tenants_site([SHEET, other], tmp_path / "site", contact=CONTACT)
    assert content_of(tmp_path / "site") == before
    build_tenants_site([SHEET], tmp_path / "site", contact=CONTACT)
    assert not (tmp_path / "site" / other.address).exists()


@pytest.mark.parametrize("address", ["short", "a" * 25, "../" + "a" * 32, "a" * 31 + "/"])
def test_addresses_that_can_be_guessed_are_refused(tmp_path: Path, address: str) -> None:
    with pytest.raises(BadPage, match="128 bits"):
        build_tenants_site([replace(SHEET, address=address)], tmp_path / "site", contact=CONTACT)
    assert not (tmp_path / "site").exists()


def test_the_engineers_site_is_never_overwritten(sample_site: Path) -> None:
    before = content_of(sample_site)
    with pytest.raises(NotOurFolder):
        build_tenants_site([SHEET], sample_site, contact=CONTACT)
    assert content_of(sample_site) == before
