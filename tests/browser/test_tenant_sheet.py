"""A tenant's page in a browser and on paper: big type, one sheet a symptom, black on white, usable by everybody."""

import base64
import io
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader
from selenium.common.exceptions import WebDriverException
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By

from generator.pages.tenant_pages import nowhere_html
from generator.views.tenant import nowhere_page
from generator.views.tenant_wording import ENGLISH, load_wordings
from tests.browser.site_pages import reset_window, set_window
from tests.tenant_pages import FIRM, REFERENCES, page_proved, page_with_every_step, page_without_steps
from tests.tools.accessibility import axe_violations

LONGEST_SHEETS = "EB-0033"
"""Six zones: the most symptoms, and the most on one sheet."""
_HEADINGS = re.compile(r'<h2 id="see-\d+-is">(.*?)</h2>')


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("tenants")
    for reference in REFERENCES:
        (out / f"{reference}.html").write_text(page_proved(reference), encoding="utf-8")
        (out / f"{reference}-all.html").write_text(page_with_every_step(reference), encoding="utf-8")
    (out / "none.html").write_text(page_without_steps("EB-0012"), encoding="utf-8")
    wording = load_wordings()[0][ENGLISH]
    (out / "404.html").write_text(nowhere_html(nowhere_page(wording=wording, firm=FIRM)), encoding="utf-8")
    return out


@pytest.fixture
def window(browser: Chrome) -> Iterator[Chrome]:
    """The browser, put back to its own size and colours afterwards."""
    yield browser
    reset_window(browser)
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "", "features": []})


def printed(window: Chrome) -> PdfReader:
    """The page on paper. On a busy machine the browser now and then says that printing failed, and then can."""
    for left in reversed(range(3)):
        try:
            pdf = window.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True})["data"]
        except WebDriverException as error:
            if "Printing failed" not in str(error) or not left:
                raise
        else:
            break
    return PdfReader(io.BytesIO(base64.b64decode(pdf)))


def heading_of(page: object) -> str:
    return " ".join(str(page.extract_text()).split())  # type: ignore[attr-defined]


def sheets_of(html: str) -> list[str]:
    found = _HEADINGS.findall(html)
    return [re.sub(r"<[^>]*>", "", each).replace("&amp;", "&") for each in found]


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 360])
@pytest.mark.parametrize("page", ["EB-0012", LONGEST_SHEETS, f"{LONGEST_SHEETS}-all", "none", "404"])
def test_fits_and_can_be_read_by_everybody(
    window: Chrome, site: Path, page: str, width: int, theme: str
) -> None:
    set_window(window, width, theme)
    window.get((site / f"{page}.html").as_uri())
    assert window.execute_script("return document.documentElement.scrollWidth") <= width
    assert json.dumps(axe_violations(window), indent=1) == "[]"
    size_px = window.find_element(By.CSS_SELECTOR, ".stop p, .stop li").value_of_css_property("font-size")
    assert float(size_px.removesuffix("px")) >= 20


@pytest.mark.parametrize("page", [*REFERENCES, "EB-0012-all", f"{LONGEST_SHEETS}-all"])
def test_prints_one_sheet_a_symptom(window: Chrome, site: Path, page: str) -> None:
    """First when to stop and what to pick, then a page of A4 for each thing seen, whole by itself."""
    window.get((site / f"{page}.html").as_uri())
    pages = printed(window).pages
    sheets = sheets_of((site / f"{page}.html").read_text(encoding="utf-8"))
    assert len(pages) == 1 + len(sheets)
    for one, heading in zip(pages[1:], sheets, strict=True):
        width, height = float(one.mediabox.width), float(one.mediabox.height)
        assert (round(width), round(height)) == (595, 842)
        text = heading_of(one)
        assert text.startswith(heading)
        assert FIRM.phone in text


@pytest.mark.parametrize(("bigger", "size_pt"), [(False, 14), (True, 18)])
def test_prints_black_on_white_in_big_type(window: Chrome, site: Path, bigger: bool, size_pt: int) -> None:
    """UKAAF G003: clear print ideally 14 pt, large print ideally 18 pt, without capitals in blocks, italics or underlines."""
    window.get((site / f"{LONGEST_SHEETS}.html").as_uri())
    if bigger:
        window.find_element(By.CSS_SELECTOR, "label[for=bigger]").click()
    window.execute_cdp_cmd(
        "Emulation.setEmulatedMedia",
        {"media": "print", "features": [{"name": "prefers-color-scheme", "value": "dark"}]},
    )
    body = window.find_element(By.TAG_NAME, "body")
    assert body.value_of_css_property("background-color") == "rgba(255, 255, 255, 1)"
    for element in window.find_elements(By.CSS_SELECTOR, ".all p, .all li, .all dt, .all dd, .all b:not(.n)"):
        assert element.value_of_css_property("color") == "rgba(0, 0, 0, 1)"
        size_px = float(element.value_of_css_property("font-size").removesuffix("px"))
        assert size_px * 72 / 96 >= size_pt - 0.01
        assert element.value_of_css_property("font-style") == "normal"
        assert element.value_of_css_property("text-align") in ("start", "left")
    for link in window.find_elements(By.CSS_SELECTOR, ".all a"):
        assert "underline" not in link.value_of_css_property("text-decoration-line")
    assert not window.find_element(By.ID, "bigger").is_displayed()


def test_bigger_letters_need_no_script(window: Chrome, site: Path) -> None:
    window.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    window.get((site / "EB-0012.html").as_uri())
    before = window.find_element(By.CSS_SELECTOR, ".stop li").value_of_css_property("font-size")
    box = window.find_element(By.ID, "bigger")
    box.send_keys(" ")
    after = window.find_element(By.CSS_SELECTOR, ".stop li").value_of_css_property("font-size")
    assert float(after.removesuffix("px")) >= 1.3 * float(before.removesuffix("px"))


def test_what_a_screen_reader_is_told(window: Chrome, site: Path) -> None:
    """Each step is an item of a list with its own number, and its picture says what it shows."""
    window.get((site / "EB-0012.html").as_uri())
    tree = window.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]
    told = [(node["role"]["value"], node.get("name", {}).get("value", "")) for node in tree if "role" in node]
    pictures = [name for role, name in told if role in ("image", "img")]
    assert "A round dial on the wall." in pictures
    assert all(pictures)
    assert ("heading", "The rooms are cold, but the hot water is fine") in told
    assert any(role == "checkbox" and name == "Bigger letters" for role, name in told)
    steps = window.find_elements(By.CSS_SELECTOR, "#see-1 .steps li")
    assert [step.get_attribute("value") for step in steps] == [str(n) for n in range(1, len(steps) + 1)]


def test_every_picture_is_really_drawn(window: Chrome, site: Path) -> None:
    for page in (LONGEST_SHEETS, "EB-0012", "EB-0012-all"):
        window.get((site / f"{page}.html").as_uri())
        empty = window.execute_script(
            "return [...document.querySelectorAll('svg.picture')].filter(s => { const b = s.getBBox();"
            " return b.width < 40 || b.height < 40; }).map(s => s.getAttribute('aria-label'))"
        )
        assert empty == []


def test_nothing_is_asked_of_any_host(window: Chrome, site: Path) -> None:
    """The page is whole: opened once, it works with no network at all."""
    window.get((site / "EB-0012.html").as_uri())
    assert window.execute_script("return performance.getEntriesByType('resource').length") == 0
