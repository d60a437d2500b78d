"""The demo stock's own site in a browser: every kind of page at both widths and in both themes; odd houses once each way."""

from itertools import pairwise

import pytest
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

from tests.browser.overlaps import overlapping_texts
from tests.browser.site_pages import faults_of_page, set_window

_KINDS = (
    "",
    "p/EB-0012/",
    "p/EB-0012/wiring/",
    "p/EB-0012/calls/",
    "p/EB-0012/readings/",
    "p/EB-0012/overrides/",
    "p/EB-0012/record/",
    "p/EB-0012/pack/",
    "findings/",
    "findings/error/",
    "stock/arrangements/",
    "stock/parts/",
    "rules/",
    "rules/crossed-zones/",
    "fields/",
    "kinds/",
    "writing-a-record/",
    "drawings/",
    "glossary/",
    "cautions/",
)
_ODD = (
    "p/EB-0071/",  # dangers
    "p/EB-0033/wiring/",  # six zones, a relay
    "p/EB-0153/wiring/",  # underfloor
    "p/EB-0130/calls/",  # mid-position, with what came before
    "p/EB-0066/wiring/",  # two wiring centres
    "p/EB-0167/calls/",  # long names of terminals
    "p/EB-0127/",  # faults that are proved
)


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 360])
@pytest.mark.parametrize("page", _KINDS)
def test_fits_and_can_be_read_by_everybody(
    window: Chrome, demo_url: str, page: str, width: int, theme: str
) -> None:
    set_window(window, width, theme)
    window.get(demo_url + page)
    assert faults_of_page(window, width) == []


@pytest.mark.parametrize(("width", "theme"), [(1280, "dark"), (360, "light")])
@pytest.mark.parametrize("page", _ODD)
def test_odd_houses_fit_as_well(window: Chrome, demo_url: str, page: str, width: int, theme: str) -> None:
    set_window(window, width, theme)
    window.get(demo_url + page)
    assert faults_of_page(window, width) == []


@pytest.mark.parametrize("page", [page for page in (*_KINDS, *_ODD) if page.startswith("p/")])
def test_headings_go_down_one_at_a_time(browser: Chrome, demo_url: str, page: str) -> None:
    browser.get(demo_url + page)
    headings = WebDriverWait(browser, 20).until(
        lambda _: browser.find_elements(By.CSS_SELECTOR, "article :is(h1,h2,h3,h4,h5,h6)")
    )
    names = [each.tag_name for each in headings]
    levels = [int(name[1]) for name in names]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert [(a, b) for a, b in pairwise(levels) if b > a + 1] == []


@pytest.mark.parametrize(
    ("body", "found"),
    [
        ("<p>one</p><p>two</p>", []),
        ("<p>one</p><p style='margin-top:-2em'>two</p>", ['"one" and "two"']),
        (
            "<svg width='90' height='40'><text x='5' y='20'>one</text><text x='9' y='22'>two</text></svg>",
            ['"one" and "two"'],
        ),
        ("<svg width='90' height='40'><text x='5' y='15'>one</text><text x='5' y='32'>two</text></svg>", []),
        ("<p>one</p><p style='margin-top:-2em;visibility:hidden'>two</p>", []),
    ],
)
def test_text_on_text_is_found(browser: Chrome, body: str, found: list[str]) -> None:
    browser.get(f"data:text/html,<!doctype html><body>{body}")
    assert overlapping_texts(browser) == found
