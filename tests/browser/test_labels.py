"""Labels as they come out of the printer: each code is read by a program that shares nothing with what wrote it."""

import base64
import io
from collections.abc import Iterator
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from pypdf import PdfReader
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By

from generator.pages.label_pages import A_PAGE, label_sheet_html
from generator.site.config import FirmConfig, Published
from generator.site.publish_tenants import labels
from generator.site.tenant_address import tenant_address
from generator.views.tenant_wording import load_wordings
from tests.browser.site_pages import reset_window
from tests.tenant_pages import PROPERTIES, REFERENCES
from tests.tools.accessibility import axe_violations

SECRET = bytes(range(32))
FIRM = FirmConfig(
    published=Published(
        engineers="https://engineers.example.org/a/longer/way/to/the/book",
        tenants="https://heating.example.org/",
    )
)
SMALLEST_MM = 25
"""Of a code's side, the quiet zone not counted: read at arm's length by any telephone. Common practice, no source."""


def sheet(*references: str, firm: FirmConfig = FIRM) -> str:
    files = [PROPERTIES / f"{reference}.yaml" for reference in references]
    return label_sheet_html(list(labels(PROPERTIES, files, firm, SECRET, load_wordings()[0])))


@pytest.fixture
def window(browser: Chrome) -> Iterator[Chrome]:
    yield browser
    reset_window(browser)
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})


def show(window: Chrome, html: str, folder: Path) -> None:
    (folder / "labels.html").write_text(html, encoding="utf-8")
    window.get((folder / "labels.html").as_uri())
    window.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    # About 300 dots an inch, as printed.
    size = {"width": 1280, "height": 1600, "deviceScaleFactor": 3, "mobile": False}
    window.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)


def read(window: Chrome, css: str) -> list[str]:
    """What the codes within an element say, from its picture."""
    found = []
    for element in window.find_elements(By.CSS_SELECTOR, css):
        place = window.execute_script(
            "const r = arguments[0].getBoundingClientRect();"
            "return {x: r.x + scrollX, y: r.y + scrollY, width: r.width, height: r.height, scale: 1}",
            element,
        )
        shot = window.execute_cdp_cmd(
            "Page.captureScreenshot", {"clip": place, "captureBeyondViewport": True}
        )
        picture = Image.open(io.BytesIO(base64.b64decode(shot["data"]))).convert("L")
        found += [code.text for code in zxingcpp.read_barcodes(picture)]
    return found


def test_every_code_leads_to_that_very_property(window: Chrome, tmp_path: Path) -> None:
    show(window, sheet(*REFERENCES), tmp_path)
    articles = window.find_elements(By.CSS_SELECTOR, "article")
    assert [each.find_element(By.CSS_SELECTOR, ".top b").text for each in articles] == list(REFERENCES)
    for number, reference in enumerate(REFERENCES):
        page, place = divmod(number, A_PAGE)
        css = f".page:nth-of-type({page + 1}) article:nth-of-type({place + 1}) figure"
        assert read(window, css) == [
            f"https://heating.example.org/{tenant_address(reference, SECRET)}/",
            f"https://engineers.example.org/a/longer/way/to/the/book/p/{reference}/",
        ]


def test_eight_a_page_and_one_alone(window: Chrome, tmp_path: Path) -> None:
    for references, pages in ((REFERENCES, -(-len(REFERENCES) // A_PAGE)), (REFERENCES[:1], 1)):
        show(window, sheet(*references), tmp_path)
        pdf = window.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True})["data"]
        assert len(PdfReader(io.BytesIO(base64.b64decode(pdf))).pages) == pages


def test_nothing_on_a_label_is_cut_off_and_codes_are_large_enough(window: Chrome, tmp_path: Path) -> None:
    show(window, sheet(*REFERENCES), tmp_path)
    cut = window.execute_script(
        "return [...document.querySelectorAll('article')].filter(a => a.scrollHeight > a.clientHeight + 1 ||"
        " a.scrollWidth > a.clientWidth + 1).map(a => a.innerText)"
    )
    assert cut == []
    sides = window.execute_script(
        "return [...document.querySelectorAll('svg.code')].map(s => [s.viewBox.baseVal.width, s.getBoundingClientRect().width])"
    )
    assert len(sides) == 2 * len(REFERENCES)
    for modules, side_px in sides:
        side_mm = side_px / 96 * 25.4
        assert side_mm * (modules - 8) / modules >= SMALLEST_MM


def test_a_torn_corner_does_no_harm(window: Chrome, tmp_path: Path) -> None:
    show(window, sheet("EB-0012"), tmp_path)
    window.execute_script(
        "const d = document.createElement('div');"
        "d.style = 'position:absolute;width:5mm;height:5mm;background:#555;right:7mm;bottom:9mm';"
        "const f = document.querySelector('figure'); f.style.position = 'relative'; f.append(d);"
    )
    assert len(read(window, "figure")) == 2


def test_labels_can_be_used_by_everybody_and_ask_for_nothing(window: Chrome, tmp_path: Path) -> None:
    html = sheet("EB-0012", "EB-0052")
    show(window, html, tmp_path)
    assert axe_violations(window) == []
    assert "://" not in html.replace("http://www.w3.org/2000/svg", "")


def test_without_published_addresses_there_are_no_codes() -> None:
    html = sheet("EB-0012", firm=FirmConfig())
    assert "<svg" not in html
    assert "The web address has not been set yet." in html
    assert tenant_address("EB-0012", SECRET) not in html
