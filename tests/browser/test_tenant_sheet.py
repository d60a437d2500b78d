"""A tenant's sheet in a browser and on paper: big type, one A4 page, readable by everybody."""

import base64
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By

from generator.site.tenants import build_tenants_site
from tests.pages.test_tenants_site import CONTACT, SHEET
from tests.tools.accessibility import axe_violations


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("tenants") / "site"
    build_tenants_site([SHEET], out, contact=CONTACT)
    return out


@pytest.fixture
def window(browser: Chrome) -> Iterator[Chrome]:
    """The browser, put back to its own size and colours afterwards."""
    yield browser
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "", "features": []})


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 360])
@pytest.mark.parametrize("page", [f"{SHEET.address}/index.html", "404.html"])
def test_fits_and_can_be_read_by_everybody(
    window: Chrome, site: Path, page: str, width: int, theme: str
) -> None:
    size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 500}
    window.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    scheme = {"features": [{"name": "prefers-color-scheme", "value": theme}]}
    window.execute_cdp_cmd("Emulation.setEmulatedMedia", scheme)
    window.get((site / page).as_uri())
    assert window.execute_script("return document.documentElement.scrollWidth") <= width
    assert json.dumps(axe_violations(window), indent=1) == "[]"
    size_px = window.find_element(By.TAG_NAME, "li" if "404" not in page else "p").value_of_css_property(
        "font-size"
    )
    assert float(size_px.removesuffix("px")) >= 20


def test_prints_on_one_sheet_black_on_white(window: Chrome, site: Path) -> None:
    """Type of at least 14 pt: UKAAF G003, clear print, ideally 14."""
    window.get((site / SHEET.address / "index.html").as_uri())
    pdf = base64.b64decode(window.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True})["data"])
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == 1
    window.execute_cdp_cmd(
        "Emulation.setEmulatedMedia",
        {"media": "print", "features": [{"name": "prefers-color-scheme", "value": "dark"}]},
    )
    body = window.find_element(By.TAG_NAME, "body")
    assert body.value_of_css_property("background-color") == "rgba(255, 255, 255, 1)"
    assert body.value_of_css_property("color") == "rgba(0, 0, 0, 1)"
    size_px = window.find_element(By.TAG_NAME, "li").value_of_css_property("font-size")
    assert float(size_px.removesuffix("px")) * 72 / 96 >= 14
