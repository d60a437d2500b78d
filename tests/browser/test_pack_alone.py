"""The pack on its own: read from a file, asking nobody for anything, and printed on A4."""

import re
import subprocess
import sys
from pathlib import Path

import pytest
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By

from generator.command.to_pdf import find_browser, print_to_pdf
from tests.browser.site_pages import faults_of_page, set_window
from tests.tools.paths import PROPERTIES, ROOT

_PAGE = re.compile(rb"/Type\s*/Page\b")
_A4 = re.compile(rb"/MediaBox\s*\[\s*0 0 59[45](?:\.\d+)? 84[12](?:\.\d+)?\s*\]")


@pytest.fixture(scope="module")
def packs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Packs made by the command itself: a house like many, and one with six zones and pictures."""
    folder = tmp_path_factory.mktemp("packs")
    for reference in ("EB-0012", "EB-0033"):
        subprocess.run(
            [
                sys.executable,
                "-c",
                "from generator.command.main import main; main()",
                "export",
                reference,
                "--properties",
                str(PROPERTIES),
                "--out",
                str(folder / f"{reference}.html"),
            ],
            cwd=ROOT,
            check=True,
            capture_output=True,
        )
    return folder


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 360])
def test_fits_and_can_be_read_by_everybody(window: Chrome, packs: Path, width: int, theme: str) -> None:
    set_window(window, width, theme)
    window.get((packs / "EB-0012.html").as_uri() + "#state=zone-2")
    assert faults_of_page(window, width) == []
    assert window.execute_script("return performance.getEntriesByType('resource').length") == 0
    paper = window.find_element(By.TAG_NAME, "body").value_of_css_property("background-color")
    assert (paper == "rgba(252, 252, 250, 1)") == (theme == "light")
    assert window.find_element(By.TAG_NAME, "article").get_attribute("data-state") == "zone-2"


def test_pictures_are_inside(browser: Chrome, packs: Path) -> None:
    browser.get((packs / "EB-0012.html").as_uri())
    sizes = browser.execute_script("return [...document.images].map((each) => each.naturalWidth)")
    assert len(sizes) == 2
    assert min(sizes) > 0


@pytest.mark.parametrize(("reference", "most"), [("EB-0012", 20), ("EB-0033", 38)])
def test_prints_on_upright_a4_sheets(packs: Path, tmp_path: Path, reference: str, most: int) -> None:
    pdf = tmp_path / "pack.pdf"
    print_to_pdf(packs / f"{reference}.html", pdf, browser=find_browser(None))
    data = pdf.read_bytes()
    pages = len(_PAGE.findall(data))
    assert 6 <= pages <= most
    assert len(_A4.findall(data)) == pages


def test_nothing_is_cut_off_on_paper(window: Chrome, packs: Path) -> None:
    """A sheet is 182 mm wide between its margins, 688 px: nothing may be wider but a drawing, which is made to fit."""
    window.get((packs / "EB-0033.html").as_uri())
    size = {"width": 688, "height": 1000, "deviceScaleFactor": 1, "mobile": False}
    window.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    window.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    wide = window.execute_script(
        "return [...document.querySelectorAll('table, svg.hb-drawing, img, pre, p')]"
        ".filter((each) => each.getBoundingClientRect().right > 690)"
        ".map((each) => `${each.tagName} ${each.className.baseVal ?? each.className} ${each.getBoundingClientRect().right}`)"
    )
    assert wide == []
    for selector in (".hb-choice", ".hb-tools", ".hb-contents"):
        assert not any(each.is_displayed() for each in window.find_elements(By.CSS_SELECTOR, selector)), (
            selector
        )


def test_every_state_is_on_paper(window: Chrome, packs: Path) -> None:
    """More states than fit beside one another stand in tables one after the other."""
    window.get((packs / "EB-0033.html").as_uri())
    every = [
        each.get_attribute("value") for each in window.find_elements(By.CSS_SELECTOR, "#hb-state option")
    ]
    assert len(every) == 9
    window.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    for part in ("part-wiring", "part-readings"):
        heads = window.find_elements(By.CSS_SELECTOR, f"#{part} th[data-state-col]")
        shown = [each.get_attribute("data-state-col") for each in heads if each.is_displayed()]
        assert set(shown) == set(every), part
        assert len(shown) == len(every) * (2 if part == "part-wiring" else 1), part
