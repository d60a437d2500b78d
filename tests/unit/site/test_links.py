"""Links found in HTML, and judged."""

from pathlib import Path

import pytest

from generator.pages.links import links_of, places_in
from generator.site.links import LinkCheck, has_place


def broken(
    tmp_path: Path, html: str, *, page: str = "p/x/index.html", site_url: str | None = None
) -> tuple[str, ...]:
    (tmp_path / "p/x").mkdir(parents=True, exist_ok=True)
    (tmp_path / "index.html").write_text('<p id="top">', encoding="utf-8")
    (tmp_path / "p/y").mkdir(exist_ok=True)
    (tmp_path / "p/y/index.html").write_text('<h2\nid="a b">', encoding="utf-8")
    (tmp_path / "p/y/plan.svg").write_text("<svg/>", encoding="utf-8")
    check = LinkCheck(site_url)
    check.gather(page, links_of(html.encode()))
    return check.broken(tmp_path, set())


@pytest.mark.parametrize(
    "link",
    [
        "../y/",
        "../../",
        "../..",
        "../../#top",
        "../y/#a%20b",
        "../y/plan.svg",
        "../y/plan.svg?x=1",
        "tel:01632960123",
        "mailto:a@b.example",
        "data:image/gif;base64,AA",
        "#here",
        "#state=hall",
        "#",
        "../../index.html",
    ],
)
def test_good_links(tmp_path: Path, link: str) -> None:
    assert broken(tmp_path, f'<b id="here"></b><i data-state-id="hall"></i><a href="{link}">') == ()


@pytest.mark.parametrize(
    ("link", "words"),
    [
        ("../z/", "'p/z/index.html' does not exist"),
        ("../y", "'p/y' does not exist"),
        ("../../#bottom", "'index.html' has no place '#bottom'"),
        ("#there", "no place '#there' on this page"),
        ("#state=attic", "no place '#state=attic' on this page"),
        ("//other.example/x", "'//other.example/x' leads to another host"),
        ("http://other.example/", "'http://other.example/' leads to another host"),
        ("../../../", "'../../../' leads out of the site"),
        ("/p/y/", "'/p/y/' leads out of the site"),
        ("javascript:alert(1)", "'javascript:alert(1)' leads to another host"),
    ],
)
def test_bad_links(tmp_path: Path, link: str, words: str) -> None:
    assert broken(tmp_path, f'<b id="here"></b><a href="{link}">') == (f"p/x/index.html: {words}",)


def test_full_addresses_of_the_site_itself_stay_in_it(tmp_path: Path) -> None:
    own = "https://book.example/"
    assert broken(tmp_path, f'<a href="{own}p/y/"><a href="{own}">', site_url=own) == ()
    assert broken(tmp_path, f'<a href="{own}p/z/">', site_url=own) == (
        "p/x/index.html: 'p/z/index.html' does not exist",
    )


def test_a_place_is_an_id_of_its_own() -> None:
    assert has_place(places_in(b'<p id="a">'), "a")
    assert not has_place(places_in(b'<p data-id="a">'), "a")
    assert not has_place(places_in(b'<p id="ab">'), "a")


def test_a_place_may_lie_in_the_frame(tmp_path: Path) -> None:
    check = LinkCheck()
    check.gather("p/x/index.html", links_of(b'<a href="#top"><a href="#foot">'), {"top"})
    assert check.broken(tmp_path, set()) == ("p/x/index.html: no place '#foot' on this page",)
