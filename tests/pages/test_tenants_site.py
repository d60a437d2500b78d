"""The tenants' site: pages that stand alone, at addresses that nobody can guess, and nothing else."""

from dataclasses import replace
from pathlib import Path

import pytest

from generator.site.errors import BadPage, NotOurFolder
from generator.site.swap import MARK
from generator.site.tenants import TenantFile, build_tenants_site
from tests.pages.site_tools import content_of

NOWHERE = "<!doctype html><p>not here"
PAGE = TenantFile(address="a" * 32, html="<!doctype html><p>page of a")


def build(out: Path, *pages: TenantFile) -> int:
    return build_tenants_site(pages, out, nowhere=NOWHERE)


def test_one_page_a_property_and_no_list(tmp_path: Path) -> None:
    pages = [TenantFile(address=letter * 32, html=f"page of {letter}") for letter in "abc"]
    assert build(tmp_path / "site", *pages) == 3
    assert sorted(content_of(tmp_path / "site")) == sorted(
        [MARK, "404.html", "index.html", "robots.txt", *(f"{letter * 32}/index.html" for letter in "abc")]
    )
    for name in ("index.html", "404.html"):
        assert (tmp_path / "site" / name).read_text(encoding="utf-8") == NOWHERE
    assert (tmp_path / "site" / "robots.txt").read_text() == "User-agent: *\nDisallow: /\n"


def test_old_addresses_say_whom_to_call_and_nothing_of_the_home(tmp_path: Path) -> None:
    build(tmp_path / "site", replace(PAGE, old=("b" * 32, "c" * 32)))
    for letter in "bc":
        assert (tmp_path / "site" / (letter * 32) / "index.html").read_text(encoding="utf-8") == NOWHERE


def test_twice_gives_the_same_bytes_and_what_is_gone_goes(tmp_path: Path) -> None:
    other = replace(PAGE, address="b" * 32)
    build(tmp_path / "site", PAGE, other)
    before = content_of(tmp_path / "site")
    build(tmp_path / "site", PAGE, other)
    assert content_of(tmp_path / "site") == before
    build(tmp_path / "site", PAGE)
    assert not (tmp_path / "site" / other.address).exists()


@pytest.mark.parametrize("address", ["short", "a" * 25, "../" + "a" * 32, "a" * 31 + "/", "é" * 32])
def test_addresses_that_can_be_guessed_are_refused(tmp_path: Path, address: str) -> None:
    with pytest.raises(BadPage, match="128 bits"):
        build(tmp_path / "site", replace(PAGE, address=address))
    assert not (tmp_path / "site").exists()


def test_two_properties_never_share_an_address(tmp_path: Path) -> None:
    with pytest.raises(BadPage):
        build(tmp_path / "site", PAGE, replace(PAGE, html="another home"))
    assert not (tmp_path / "site").exists()


def test_the_engineers_site_is_never_overwritten(sample_site: Path) -> None:
    before = content_of(sample_site)
    with pytest.raises(NotOurFolder):
        build(sample_site, PAGE)
    assert content_of(sample_site) == before
