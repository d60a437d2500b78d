"""Choosing a state and following a conductor: by keyboard alone, by address, from a file, on a telephone, with many zones."""

import csv
import gzip
import io
from datetime import date
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from selenium.webdriver import Chrome
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import Select, WebDriverWait

from generator.pages.alone import pack_alone
from generator.pages.property_pages import property_bodies
from generator.pipeline import examine_text
from generator.rules.rules import ALL
from generator.views.property import PropertyView, property_view
from tests.browser.overlaps import overlapping_texts
from tests.browser.site_pages import complaints, faults_of_page, set_window
from tests.browser.test_states_shown import view_of
from tests.short_houses import HEAD

_RULES = {rule.name: rule for rule in ALL}
_MANY = 16
_WEIGHT_LIMIT = 150_000
"""Bytes, compressed, of an engineers' page with all that it loads first: what the project sets itself."""


def _all(browser: Chrome, selector: str) -> list[WebElement]:
    return browser.find_elements(By.CSS_SELECTOR, selector)


def _one(browser: Chrome, selector: str) -> WebElement:
    return browser.find_element(By.CSS_SELECTOR, selector)


def _state(browser: Chrome) -> str:
    return _one(browser, "article").get_attribute("data-state") or ""


def _lit(browser: Chrome) -> set[str]:
    found: list[str] = browser.execute_script(
        "return [...document.querySelectorAll('svg.hb-drawing')].map((each) =>"
        " [...each.classList].filter((name) => name.startsWith('state-')).join())"
    )
    return {name for name in found if name}


def _traced(browser: Chrome, inside: str) -> set[str]:
    return {each.get_attribute("data-conductor") or "" for each in _all(browser, f"{inside} .hb-traced")}


def _press(browser: Chrome, *keys: str) -> None:
    ActionChains(browser).send_keys(*keys).perform()


def _tab_to(browser: Chrome, selector: str, limit: int = 60) -> WebElement:
    """Press the Tab key until something that fits is reached."""
    for _ in range(limit):
        _press(browser, Keys.TAB)
        reached = browser.switch_to.active_element
        if browser.execute_script("return arguments[0].matches(arguments[1])", reached, selector):
            return reached
    pytest.fail(f"the Tab key did not reach {selector} in {limit} steps")


# ------------------------------------------------------------------ one choice for all
def test_one_choice_drives_drawings_and_tables_together(browser: Chrome, demo_url: str) -> None:
    browser.get(f"{demo_url}p/EB-0012/pack/")
    assert _lit(browser) == {"state-rest"}
    names = {
        name
        for each in _all(browser, "svg.hb-drawing")
        for name in (each.get_attribute("class") or "").split()
    }
    assert {"hb-terminal", "hb-ladder", "hb-water"} <= names
    _one(browser, "[data-state-id=zone-1]").click()
    assert _lit(browser) == {"state-zone-1"}
    heads = {e.get_attribute("data-state-col") for e in _all(browser, "th.hb-col-on") if e.is_displayed()}
    assert heads == {"zone-1"}
    assert [e for e in _all(browser, "th.hb-col-off") if e.is_displayed()] == []


def test_the_choice_goes_along_from_page_to_page(browser: Chrome, demo_url: str) -> None:
    browser.get(f"{demo_url}p/EB-0012/wiring/#state=zone-2")
    for name in ("How it calls for heat", "At a glance", "Readings", "Pack to print"):
        browser.find_element(By.LINK_TEXT, name).click()
        assert browser.current_url.endswith("#state=zone-2"), name
    assert _state(browser) == "zone-2"


@pytest.mark.parametrize("width", [1280, 360])
def test_by_keyboard_alone(window: Chrome, demo_url: str, width: int) -> None:
    """From the top of the page: choose a state, follow a core in the drawing, follow one in the table, let go."""
    set_window(window, width, "light")
    window.get(f"{demo_url}p/EB-0012/wiring/")
    if width == 1280:
        _tab_to(window, "[role=radio]")
        _press(window, Keys.ARROW_RIGHT, Keys.ARROW_RIGHT, Keys.ARROW_RIGHT)
    else:
        _tab_to(window, "#hb-state")
        _press(window, *"Heating")
    assert _state(window) == "zone-1"
    assert window.current_url.endswith("#state=zone-1")
    core = _tab_to(window, "svg .hb-core")
    name = core.get_attribute("data-conductor") or ""
    assert _traced(window, "svg") == {name}
    assert _traced(window, "table") == {name}
    landing = _tab_to(window, ".hb-lands", limit=200)
    _press(window, Keys.ARROW_DOWN)
    landing = window.switch_to.active_element
    name = landing.get_attribute("data-conductor") or ""
    assert _traced(window, "table") == _traced(window, "svg") == {name}
    _press(window, Keys.ENTER)
    assert landing.get_attribute("aria-pressed") == "true"
    assert f"core={name}" in unquote(window.current_url)
    _press(window, Keys.ESCAPE)
    assert landing.get_attribute("aria-pressed") == "false"
    assert "core=" not in window.current_url


# ------------------------------------------------------------------ following a conductor
def test_a_conductor_pointed_at_stands_out_in_drawing_and_table(browser: Chrome, demo_url: str) -> None:
    browser.get(f"{demo_url}p/EB-0033/wiring/")
    core = next(e for e in _all(browser, "svg .hb-core") if e.is_displayed())
    name = core.get_attribute("data-conductor") or ""
    code = core.find_element(By.CSS_SELECTOR, ".hb-code")
    ActionChains(browser).move_to_element(code).perform()
    assert _traced(browser, "svg") == _traced(browser, "table") == {name}
    rows = _all(browser, "tr.hb-traced-row")
    assert len(rows) == 2, "the terminal of the wiring centre, and the one of the device"
    landing = rows[0].find_element(By.CSS_SELECTOR, f'.hb-lands:not([data-conductor="{name}"])')
    other = landing.get_attribute("data-conductor") or ""
    ActionChains(browser).move_to_element(landing).perform()
    assert _traced(browser, "svg") == _traced(browser, "table") == {other}
    faint = browser.execute_script(
        "return [...document.querySelectorAll('svg .hb-core')].filter((each) => each.getClientRects().length)"
        ".filter((each) => getComputedStyle(each.querySelector('.hb-wire')).opacity === '1')"
        ".map((each) => each.dataset.conductor)"
    )
    assert faint == [other]


def test_a_picked_conductor_is_named_and_part_of_the_address(window: Chrome, demo_url: str) -> None:
    """On a telephone nothing can be pointed at: a touch picks, words say what, buttons lead there and back."""
    set_window(window, 360, "dark")
    window.get(f"{demo_url}p/EB-0012/wiring/")
    landing = _all(window, ".hb-lands")[0]
    name = landing.get_attribute("data-conductor")
    window.execute_script("arguments[0].click()", landing)
    words = _one(window, ".hb-traced-words")
    assert "core of the cable" in words.text
    assert faults_of_page(window, 360) == []
    words.find_elements(By.TAG_NAME, "button")[0].click()
    reached = window.switch_to.active_element
    assert reached.get_attribute("data-conductor") == name
    top = window.execute_script("return arguments[0].getBoundingClientRect().top", reached)
    below = window.execute_script(
        "return document.querySelector('.hb-choice').getBoundingClientRect().bottom"
    )
    assert below <= top + 1 <= 900
    address = window.current_url
    window.get("about:blank")
    window.get(address)
    WebDriverWait(window, 10).until(lambda _: _traced(window, "svg") == {name})


# ------------------------------------------------------------------ from a file, and without the script
def test_works_from_a_file_without_a_server(browser: Chrome, demo_site: Path) -> None:
    browser.get((demo_site / "p/EB-0012/wiring/index.html").as_uri() + "#state=zone-1")
    assert _state(browser) == "zone-1"
    assert _lit(browser) == {"state-zone-1"}
    _one(browser, "[data-state-id=zone-2]").click()
    assert browser.current_url.endswith("#state=zone-2")
    browser.find_element(By.LINK_TEXT, "Readings").click()
    assert browser.current_url.endswith("readings/index.html#state=zone-2")
    assert _state(browser) == "zone-2"
    assert complaints(browser) == []


def test_without_the_script_the_house_at_rest_and_the_whole_table(window: Chrome, demo_url: str) -> None:
    window.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    window.get(f"{demo_url}p/EB-0033/wiring/")
    assert [e.is_displayed() for e in _all(window, ".hb-choice")] == [False]
    assert "while nothing calls" in _one(window, ".hb-now").text
    drawing = next(e for e in _all(window, "svg.hb-terminal") if e.is_displayed())
    assert "state-rest" in (drawing.get_attribute("class") or "")
    shown = [
        e.get_attribute("data-state-col") for e in _all(window, "table")[0].find_elements(By.TAG_NAME, "th")
    ]
    solved = view_of("EB-0033").solved
    assert solved is not None
    assert {state.id for state in solved.states} <= set(shown)


# ------------------------------------------------------------------ tables taken away
def test_a_table_as_csv_has_every_state(browser: Chrome, demo_url: str, tmp_path: Path) -> None:
    browser.execute_cdp_cmd(
        "Browser.setDownloadBehavior", {"behavior": "allow", "downloadPath": str(tmp_path)}
    )
    browser.get(f"{demo_url}p/EB-0012/wiring/")
    tools = _one(browser, ".hb-tools")
    next(e for e in tools.find_elements(By.TAG_NAME, "button") if e.text == "All of it as CSV").click()
    WebDriverWait(browser, 10).until(lambda _: any(tmp_path.glob("*.csv")))
    (file,) = tmp_path.glob("*.csv")
    rows = list(csv.reader(io.StringIO(file.read_text(encoding="utf-8-sig"), newline="")))
    solved = view_of("EB-0012").solved
    assert solved is not None
    (centre,) = solved.centres
    assert rows[0][:3] == ["Terminal", "For", "What lands there"]
    assert len(rows[0]) == 3 + 2 * len(solved.states)
    assert [row[0] for row in rows[1:]] == [row.label for row in centre.rows]
    states = [head.removesuffix(", V") for head in rows[0][3::2]]
    named = {state.short: state.id for state in solved.states}
    for written, row in zip(rows[1:], centre.rows, strict=True):
        readings = [row.readings[named[state]] for state in states]
        assert written[3::2] == [one.shown for one in readings]
        assert written[4::2] == [one.word for one in readings]


def test_what_is_shown_can_be_copied(browser: Chrome, demo_url: str) -> None:
    browser.execute_cdp_cmd(
        "Browser.grantPermissions", {"permissions": ["clipboardReadWrite", "clipboardSanitizedWrite"]}
    )
    browser.get(f"{demo_url}p/EB-0012/wiring/#state=zone-1")
    tools = _one(browser, ".hb-tools")
    next(e for e in tools.find_elements(By.TAG_NAME, "button") if e.text == "Copy what is shown").click()
    WebDriverWait(browser, 10).until(lambda _: "Copied." in tools.text)
    text: str = browser.execute_async_script(
        "const done = arguments[0]; navigator.clipboard.readText().then(done, (e) => done(String(e)));"
    )
    assert text.splitlines()[0].split("\t") == [
        "Terminal",
        "For",
        "What lands there",
        "Heating calls, V",
        "Heating calls, word",
    ]


# ------------------------------------------------------------------ many zones, and what it all weighs
@pytest.fixture(scope="module")
def many() -> PropertyView:
    """A house of sixteen zones."""
    zones = ", ".join(
        f"room-{number}: {{serves: heating, thermostat: programmable-room-thermostat}}"
        for number in range(1, _MANY)
    )
    text = f"{HEAD}arrangement:\n  name: two-port\n  zones: {{{zones}, hot-water: {{serves: hot water}}}}\n  cylinder: vented\n"
    view = property_view(examine_text(text, today=date(2026, 11, 25)), stem="XX-1")
    assert view.solved is not None, view.findings
    return view


@pytest.fixture(scope="module")
def many_file(many: PropertyView, tmp_path_factory: pytest.TempPathFactory) -> str:
    file = tmp_path_factory.mktemp("many") / "XX-1.html"
    file.write_text(pack_alone(many, rules=_RULES, photos=()), encoding="utf-8")
    return file.as_uri()


@pytest.mark.parametrize("width", [1280, 360])
def test_sixteen_zones_are_one_list_and_not_a_wall_of_buttons(
    window: Chrome, many_file: str, width: int
) -> None:
    set_window(window, width, "light")
    window.get(many_file)
    assert _all(window, "[role=radio]") == []
    bar = _one(window, ".hb-choice")
    assert bar.rect["height"] <= 70
    chooser = Select(_one(window, "#hb-state"))
    words = [option.text for option in chooser.options]
    assert words[:3] == ["Nothing calls", "Timers on, all satisfied", "Everything calls"]
    assert len(words) == 3 + _MANY
    chooser.select_by_visible_text(words[9])
    assert _lit(window) == {f"state-{chooser.first_selected_option.get_attribute('value')}"}
    _one(window, "[data-step='1']").click()
    assert chooser.first_selected_option.text == words[10]
    assert window.execute_script("return document.documentElement.scrollWidth") <= width
    assert overlapping_texts(window) == []
    assert complaints(window) == []


def test_pages_are_light(browser: Chrome, demo_url: str, demo_site: Path, many: PropertyView) -> None:
    """Of the demo stock every page of the largest house; of sixteen zones every page but the pack, which is all of them."""
    weights = {}
    for page in ("", "wiring/", "calls/", "readings/", "record/", "pack/"):
        browser.get(f"{demo_url}p/EB-0033/{page}")
        asked: list[str] = browser.execute_script(
            "return performance.getEntriesByType('resource').map((each) => each.name)"
        )
        files = {demo_site / unquote(urlsplit(each).path).lstrip("/") for each in asked}
        around = sum(_packed(file.read_bytes()) for file in files)
        weights[page] = around + _packed((demo_site / "p/EB-0033" / page / "index.html").read_bytes())
    frame = _packed((demo_site / "p/EB-0033/record/index.html").read_bytes())
    for body in property_bodies(many, rules=_RULES, photos=()):
        if body.tab.folder != "pack/":
            weights[f"16 zones {body.tab.folder}"] = (
                around + frame + _packed((body.head + body.html).encode())
            )
    print(weights)
    assert {page: weight for page, weight in weights.items() if weight >= _WEIGHT_LIMIT} == {}


def _packed(data: bytes) -> int:
    return len(gzip.compress(data, 9))


def test_words_to_search_are_fetched_when_somebody_searches(browser: Chrome, demo_url: str) -> None:
    browser.get(f"{demo_url}p/EB-0012/wiring/")

    def fetched() -> bool:
        names: list[str] = browser.execute_script(
            "return performance.getEntriesByType('resource').map((each) => each.name)"
        )
        return any(name.endswith("/search_index.json") for name in names)

    assert not fetched()
    _one(browser, "input.md-search__input").send_keys("ghost voltage")
    WebDriverWait(browser, 20).until(lambda _: _all(browser, ".md-search-result__link"))
    assert fetched()
    assert complaints(browser) == []
