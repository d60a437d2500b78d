"""One headless browser for the whole run, with no way to other hosts."""

import os
import shutil
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from selenium.webdriver import Chrome, ChromeOptions, ChromeService
from selenium.webdriver.support.ui import WebDriverWait

from generator.plugin import write_site
from generator.site.build import build_engineers_site
from tests.browser.site_pages import reset_window, served
from tests.tools.paths import PROPERTIES

_OPTIONS = (
    "--headless=new",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-background-networking",
    "--no-first-run",
    # No name but this machine's resolves: a page that asks another host for something gets nothing.
    "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE localhost , EXCLUDE 127.0.0.1",
    "--force-device-scale-factor=1",
)


class _Patient(Chrome):
    """It sometimes says that a page is there while it still looks at the one before."""

    def get(self, url: str) -> None:
        super().get(url)
        there = (
            "const wanted = new URL(arguments[0]);"
            "return document.readyState === 'complete' && location.protocol === wanted.protocol"
            " && location.pathname === wanted.pathname;"
        )
        WebDriverWait(self, 30, poll_frequency=0.05).until(lambda browser: browser.execute_script(there, url))


@pytest.fixture(scope="session")
def _one_browser() -> Iterator[Chrome]:
    options = ChromeOptions()
    options.binary_location = shutil.which("chromium") or "chromium"
    for option in _OPTIONS:
        options.add_argument(option)
    if os.geteuid() == 0:
        # The browser's own sandbox refuses to run as root, as which a build machine often runs.
        options.add_argument("--no-sandbox")
    driver = _Patient(options=options, service=ChromeService(shutil.which("chromedriver")))
    driver.set_script_timeout(60)
    yield driver
    driver.quit()


@pytest.fixture
def browser(_one_browser: Chrome) -> Iterator[Chrome]:
    """The browser, at desktop size and on an empty page."""
    _one_browser.set_window_size(1280, 1600)
    _one_browser.get("about:blank")
    # What an earlier test's pages complained of is no matter of this one's.
    _one_browser.get_log("browser")  # type: ignore[no-untyped-call]  # selenium's own
    yield _one_browser
    _one_browser.get("about:blank")


@pytest.fixture
def window(browser: Chrome) -> Iterator[Chrome]:
    """The browser, put back to its own size and colours afterwards."""
    yield browser
    reset_window(browser)


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The engineers' site of the whole demo stock, built once."""
    folder = tmp_path_factory.mktemp("demo")
    write = partial(write_site, properties=PROPERTIES, settings=folder / "hearthbook.yml")
    build_engineers_site(folder / "site", write=write)
    return folder / "site"


@pytest.fixture(scope="session")
def demo_url(demo_site: Path) -> Iterator[str]:
    """The same site, served on this machine."""
    with served(demo_site) as address:
        yield address
