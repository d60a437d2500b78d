"""What a page and a file of a site may be."""

import pytest

from generator.site.errors import BadPage
from generator.site.page import HOME, SiteAsset, SitePage


def page(url: str, body: str = "<h1>A</h1>") -> SitePage:
    return SitePage(url=url, title="A", kind="a", body=body, description="")


@pytest.mark.parametrize(
    ("url", "path", "depth"),
    [
        (HOME, "index.html", 0),
        ("p/", "p/index.html", 1),
        ("p/HB-0001/wiring/", "p/HB-0001/wiring/index.html", 3),
        ("p/HB%200001/", "p/HB 0001/index.html", 2),
    ],
)
def test_place_of_a_page(url: str, path: str, depth: int) -> None:
    assert (page(url).path, page(url).depth) == (path, depth)


@pytest.mark.parametrize(
    "url",
    [
        "",
        "p",
        "/p/",
        "p//x/",
        "../p/",
        "p/../x/",
        "p/.hidden/",
        "p/%2e%2e/x/",
        "p/a%2fb/",
        "p/a\\b/",
        "p/%00/",
        "/",
    ],
)
def test_addresses_that_could_lead_astray_are_refused(url: str) -> None:
    with pytest.raises(BadPage):
        page(url)


@pytest.mark.parametrize("body", ["", "<h2>A</h2>", "<h1>A</h1><h1>B</h1>"])
def test_a_page_has_one_heading(body: str) -> None:
    with pytest.raises(BadPage, match="first-level headings"):
        page("p/", body)


@pytest.mark.parametrize("path", ["", "/x", "../x", "a//x", ".x", "a/.x"])
def test_files_stay_in_the_site(path: str) -> None:
    with pytest.raises(BadPage):
        SiteAsset(path=path, data=b"")
