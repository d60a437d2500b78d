"""The engineers' site in a browser: wide and narrow, light and dark, with and without the script."""

from collections.abc import Iterator

import pytest
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement

from tests.browser.site_pages import faults_of_page, served, set_window
from tests.pages.site_tools import build, make_stock

_PAGES = (
    "",
    "p/HB-0001/",
    "p/HB-0001/wiring/",
    "p/HB-0001/calls/",
    "p/HB-0001/readings/",
    "p/HB-0001/record/",
    "rules/crossed-zones/",
    "drawings/",
    "glossary/",
    "cautions/",
)
_WIRING = "p/HB-0001/wiring/"


@pytest.fixture(scope="module")
def site_url(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The sample site, served on this machine."""
    folder = tmp_path_factory.mktemp("served")
    build(folder / "site", make_stock(folder / "properties", "HB-0001", "HB-0002"))
    with served(folder / "site") as address:
        yield address


def _all(browser: Chrome, selector: str) -> list[WebElement]:
    return browser.find_elements(By.CSS_SELECTOR, selector)


def _columns(browser: Chrome) -> list[str]:
    """Return the states whose columns can be seen in the head of the table."""
    return [
        e.get_attribute("data-state-col") or ""
        for e in _all(browser, "thead [data-state-col]")
        if e.is_displayed()
    ]


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 360])
@pytest.mark.parametrize("page", _PAGES)
def test_fits_and_can_be_read_by_everybody(
    window: Chrome, site_url: str, page: str, width: int, theme: str
) -> None:
    set_window(window, width, theme)
    window.get(site_url + page)
    scheme = window.execute_script("return document.body.getAttribute('data-md-color-scheme')")
    assert scheme == {"light": "default", "dark": "slate"}[theme]
    assert faults_of_page(window, width) == []


def test_asks_only_this_machine(window: Chrome, site_url: str) -> None:
    window.get(site_url + _WIRING)
    asked = window.execute_script("return performance.getEntriesByType('resource').map(e => e.name)")
    assert asked
    assert [each for each in asked if not each.startswith(site_url)] == []


def test_a_state_lights_the_drawing_and_picks_its_column(window: Chrome, site_url: str) -> None:
    window.get(site_url + _WIRING)
    assert _columns(window) == ["rest"]
    _all(window, "[data-state-id=water]")[0].click()
    drawing = window.find_element(By.CSS_SELECTOR, "svg.hb-drawing")
    assert drawing.get_attribute("class") == "hb-drawing state-water"
    assert window.find_element(By.TAG_NAME, "article").get_attribute("data-state") == "water"
    assert window.find_element(By.CSS_SELECTOR, "[data-state-words]").text == "hot water calls"
    assert _columns(window) == ["water"]
    assert window.current_url.endswith("#state=water")
    _all(window, ".hb-tools button")[0].click()
    assert _columns(window) == ["rest", "all", "hall", "water"]


def test_the_choice_is_a_group_of_radio_buttons(window: Chrome, site_url: str) -> None:
    window.get(site_url + _WIRING)
    _all(window, "[data-state-id=rest]")[0].send_keys(Keys.ARROW_LEFT)
    checked = _all(window, "[role=radio][aria-checked=true]")
    assert [each.get_attribute("data-state-id") for each in checked] == ["water"]
    assert window.switch_to.active_element == checked[0]
    window.switch_to.active_element.send_keys(Keys.HOME)
    assert _columns(window) == ["rest"]
    assert [each.get_attribute("tabindex") for each in _all(window, "[role=radio]")] == [
        "0",
        "-1",
        "-1",
        "-1",
    ]


@pytest.mark.parametrize(
    ("hash_", "state"), [("#state=hall", "hall"), ("#state=nonsense", "rest"), ("#state=%", "rest")]
)
def test_an_address_can_name_the_state(window: Chrome, site_url: str, hash_: str, state: str) -> None:
    window.get(f"{site_url}{_WIRING}{hash_}")
    assert _columns(window) == [state]


def test_without_the_script_everything_is_there(window: Chrome, site_url: str) -> None:
    window.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    window.get(site_url + _WIRING)
    assert [each.is_displayed() for each in _all(window, ".hb-choice")] == [False]
    assert _columns(window) == ["rest", "all", "hall", "water"]
    assert _all(window, "svg.hb-drawing")[0].get_attribute("class") == "hb-drawing state-rest"


def test_table_scrolls_in_its_own_box_with_the_terminal_in_sight(window: Chrome, site_url: str) -> None:
    set_window(window, 360, "light")
    window.get(site_url + _WIRING)
    box = window.find_element(By.CSS_SELECTOR, ".hb-scroll")
    assert window.execute_script("return arguments[0].scrollWidth - arguments[0].clientWidth", box) == 0
    _all(window, ".hb-tools button")[0].click()
    window.execute_script("arguments[0].scrollLeft = 200", box)
    assert window.execute_script("return arguments[0].scrollLeft", box) > 100
    first = window.find_element(By.CSS_SELECTOR, ".hb-table tbody th")
    assert first.rect["x"] == pytest.approx(box.rect["x"], abs=1)


def test_print_is_black_on_white_without_the_frame(window: Chrome, site_url: str) -> None:
    set_window(window, 1280, "dark")
    window.get(site_url + _WIRING)
    window.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    for selector in (".md-header", ".hb-tabs", ".hb-choice", ".hb-tools", ".md-footer"):
        assert not any(each.is_displayed() for each in _all(window, selector)), selector
    assert window.find_element(By.CSS_SELECTOR, ".hb-print-foot").is_displayed()
    paper = window.find_element(By.TAG_NAME, "body").value_of_css_property("background-color")
    ink = window.find_element(By.TAG_NAME, "h1").value_of_css_property("color")
    assert (paper, ink) == ("rgba(255, 255, 255, 1)", "rgba(0, 0, 0, 1)")
    assert _columns(window) == ["rest", "all", "hall", "water"]
