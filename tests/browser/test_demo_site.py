"""The demo stock's own site in a browser: a page of each kind, wide and light, narrow and dark."""

from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from selenium.webdriver import Chrome

from generator.plugin import write_site
from generator.site.build import build_engineers_site
from tests.browser.site_pages import faults_of_page, reset_window, served, set_window
from tests.tools.paths import PROPERTIES

_PAGES = (
    "",
    "p/EB-0012/",
    "p/EB-0012/wiring/",
    "p/EB-0012/calls/",
    "p/EB-0012/readings/",
    "p/EB-0012/record/",
    "p/EB-0071/",
    "p/EB-0033/wiring/",
    "rules/",
    "rules/crossed-zones/",
    "fields/",
    "kinds/",
    "writing-a-record/",
)


@pytest.fixture(scope="module")
def demo_url(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("demo")
    write = partial(write_site, properties=PROPERTIES, settings=folder / "hearthbook.yml")
    build_engineers_site(folder / "site", write=write)
    with served(Path(folder / "site")) as address:
        yield address


@pytest.mark.parametrize(("width", "theme"), [(1280, "light"), (360, "dark")])
@pytest.mark.parametrize("page", _PAGES)
def test_fits_and_can_be_read_by_everybody(
    browser: Chrome, demo_url: str, page: str, width: int, theme: str
) -> None:
    set_window(browser, width, theme)
    try:
        browser.get(demo_url + page)
        assert faults_of_page(browser, width) == []
    finally:
        reset_window(browser)
