"""The finder in a real browser: what it finds and in which order, by keyboard and on a telephone, and how fast."""

from collections.abc import Iterator
from pathlib import Path
from shutil import copy
from time import monotonic, sleep

import pytest
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement

from generator.pages.stock_index import index_script
from generator.pages.stock_pages import HOME, INDEX, stock_pages
from generator.views.stock_model import StockRow
from generator.views.stock_tables import Stock
from tests.browser.site_pages import faults_of_page, reset_window, served, set_window
from tests.pages.made_stock import COUNT
from tests.pages.site_tools import build, make_stock
from tests.stock_rows import DAY, made_rows
from tests.tools.paths import SITE_TEMPLATES

_PAGES = (
    "",
    "#find?severity=danger&q=kiln",
    "findings/",
    "findings/danger/",
    "stock/all/2/",
    "stock/arrangements/",
    "stock/parts/",
    "stock/not-looked-at/",
    "stock/orange/",
    "stock/unvented/",
)
_MOST_MS = 50.0
"""What one key may take at ten thousand properties."""


@pytest.fixture
def window(browser: Chrome) -> Iterator[Chrome]:
    """The browser, put back to its own size and colours afterwards."""
    yield browser
    reset_window(browser)


@pytest.fixture(scope="module")
def site_url(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A site of a made-up stock, served on this machine."""
    folder = tmp_path_factory.mktemp("made")
    build(
        folder / "site",
        make_stock(folder / "properties", "EB-0001"),
        content="tests.pages.made_stock:made_content",
    )
    with served(folder / "site") as address:
        yield address


def _page_of(rows: list[StockRow], folder: Path) -> str:
    """The first page of a stock as a file without the theme's frame, and the address to open it by."""
    (folder / "assets").mkdir(parents=True)
    for name in ("finder.js", "hearthbook-stock.css"):
        copy(SITE_TEMPLATES / "assets" / name, folder / "assets")
    home = next(stock_pages(Stock(rows, DAY), firm="A firm", rules=frozenset()))
    assert home.url == HOME
    (folder / INDEX).parent.mkdir()
    (folder / INDEX).write_bytes(index_script(rows, day=DAY))
    page = folder / "index.html"
    page.write_text(
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>x</title>{home.head}</head>'
        f'<body><main class="md-typeset">{home.make()}</main></body></html>',
        encoding="utf-8",
    )
    return page.as_uri()


HOUSES = [
    StockRow(reference="EB-0012", address="4 Kiln Row, Embermere, QE1 4KR", postcode="QE1 4KR", uprn="990000000124",
             nation="england", arrangement="One heating zone.", kinds=(("relay", "relay"),), worked_out=True),
    StockRow(reference="EB-0123", address="12 Kiln Lane, Embermere, QE1 4KS", postcode="QE1 4KS", nation="england",
             arrangement="Two heating zones.", unusual=("old-colours",), worked_out=True),
    StockRow(reference="FW-12", address="Flat 12, 30 Fuller’s Walk, Embermere, QE2 1FW", postcode="QE2 1FW", nation="wales",
             arrangement="Two heating zones.", worked_out=True),
    StockRow(reference="MQ-7", address="Tŷ Gwyn, Llanhesgen, QW7 1HG", postcode="QW7 1HG", nation="wales"),
    StockRow(reference="EB-012", address="9 Mill Road, Embermere"),
]  # fmt: skip


@pytest.fixture(scope="module")
def houses(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The address of a file with five houses."""
    return _page_of(HOUSES, tmp_path_factory.mktemp("houses"))


def _open(window: Chrome, address: str) -> WebElement:
    window.get("about:blank")
    window.get(address)
    end = monotonic() + 20
    while window.find_element(By.CSS_SELECTOR, "form.hb-finder").get_attribute("data-ready") != "yes":
        assert monotonic() < end
        sleep(0.05)
    return window.find_element(By.ID, "hb-find")


def _found(window: Chrome) -> list[str]:
    return [each.text for each in window.find_elements(By.CSS_SELECTOR, ".hb-found__ref")]


def _told(window: Chrome) -> str:
    return window.find_element(By.CSS_SELECTOR, ".hb-finder output").text


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("EB-012", ["EB-012", "EB-0123"]),
        ("eb012", ["EB-012", "EB-0123"]),
        ("eb 0012", ["EB-0012"]),
        ("fw12", ["FW-12"]),
        ("990000000124", ["EB-0012"]),
        ("9900", ["EB-0012"]),
        ("qe14kr", ["EB-0012"]),
        ("QE1 4KR", ["EB-0012"]),
        ("qe1 4k", ["EB-0012", "EB-0123"]),
        ("kiln", ["EB-0012", "EB-0123"]),
        ("lane kiln", ["EB-0123"]),
        ("12 kiln", ["EB-0123", "EB-0012"]),
        ("fuller's", ["FW-12"]),
        ("ty gwyn", ["MQ-7"]),
        ("relay", ["EB-0012"]),
        ("old colours kiln", ["EB-0123"]),
        ("two heating", ["EB-0123", "FW-12"]),
        ("  EMBERMERE  9 ", ["EB-012", "EB-0012"]),
        ("-", []),
        ("nobody", []),
    ],
)
def test_what_is_found_and_in_which_order(window: Chrome, houses: str, typed: str, found: list[str]) -> None:
    field = _open(window, houses)
    field.send_keys(typed)
    assert _found(window) == found
    if typed != "-":
        number = (
            f"{len(found)} propert{'y' if len(found) == 1 else 'ies'} found."
            if found
            else "No property found."
        )
        assert _told(window) == number


def test_it_can_be_worked_from_the_keyboard(window: Chrome, houses: str) -> None:
    field = _open(window, houses)
    field.send_keys("kiln")
    field.send_keys(Keys.ARROW_DOWN)
    assert "EB-0012" in window.switch_to.active_element.text
    window.switch_to.active_element.send_keys(Keys.ARROW_DOWN)
    assert "EB-0123" in window.switch_to.active_element.text
    window.switch_to.active_element.send_keys(Keys.ARROW_DOWN)
    assert "EB-0123" in window.switch_to.active_element.text
    window.switch_to.active_element.send_keys(Keys.ARROW_UP)
    window.switch_to.active_element.send_keys(Keys.ARROW_UP)
    assert window.switch_to.active_element == field
    field.send_keys(Keys.ENTER)
    assert "EB-0012" in window.switch_to.active_element.text
    window.switch_to.active_element.send_keys(Keys.ESCAPE)
    assert window.switch_to.active_element == field
    link = window.find_element(By.CSS_SELECTOR, ".hb-found a").get_attribute("href")
    assert (link or "").endswith("/p/EB-0012/")


@pytest.mark.parametrize("typed", ["EB-012", "mill", "990000000124"])
def test_enter_opens_what_can_only_be_meant(window: Chrome, houses: str, typed: str) -> None:
    field = _open(window, houses)
    window.execute_script(
        "window.opened = []; document.addEventListener('click', (e) => { opened.push(e.target.closest('a').href); e.preventDefault(); })"
    )
    field.send_keys(typed, Keys.ENTER)
    (opened,) = window.execute_script("return window.opened")
    assert opened.endswith({"EB-012": "/p/EB-012/", "mill": "/p/EB-012/"}.get(typed, "/p/EB-0012/"))


def test_filters_go_together_and_stand_in_the_address(window: Chrome, houses: str) -> None:
    _open(window, f"{houses}#find?nation=wales&q=two")
    assert _found(window) == ["FW-12"]
    assert window.find_element(By.CSS_SELECTOR, ".hb-finder summary").text.startswith("Filters: Wales")
    window.find_element(By.CSS_SELECTOR, ".hb-finder__clear").click()
    assert (_found(window), _told(window)) == ([], "")
    assert window.current_url == houses
    window.find_element(By.CSS_SELECTOR, ".hb-finder summary").click()
    select = next(
        each
        for each in window.find_elements(By.CSS_SELECTOR, ".hb-finder__filters label")
        if each.text.startswith("Nation")
    )
    select.find_elements(By.TAG_NAME, "option")[1].click()
    assert window.current_url.endswith("#find?nation=wales") or window.current_url.endswith(
        "#find?nation=england"
    )
    assert _told(window) == "2 properties found."


def test_words_of_a_record_stay_words(window: Chrome, tmp_path: Path) -> None:
    hostile = "<img src=x onerror=window.hit=1>"
    rows = [HOUSES[0]._replace(address=f"4 {hostile}", arrangement=hostile, house_type=hostile, postcode="")]
    field = _open(window, _page_of(rows, tmp_path / "hostile"))
    field.send_keys("img")
    assert _told(window) == "1 property found."
    assert window.execute_script("return window.hit") is None
    assert window.find_element(By.CSS_SELECTOR, ".hb-found__address").text == f"4 {hostile}"


def test_an_index_that_is_not_there_is_told(window: Chrome, tmp_path: Path) -> None:
    address = _page_of(HOUSES, tmp_path / "gone")
    (tmp_path / "gone" / INDEX).unlink()
    window.get(address)
    sleep(0.5)
    assert "could not be loaded" in _told(window)


def test_without_the_script_every_property_is_in_reach(window: Chrome, site_url: str) -> None:
    window.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    window.get(site_url)
    assert not window.find_element(By.CSS_SELECTOR, "form.hb-finder").is_displayed()
    ranges = window.find_elements(By.CSS_SELECTOR, ".hb-ranges a")
    assert len(ranges) == -(-COUNT // 200)
    window.get(ranges[-1].get_attribute("href") or "")
    assert len(window.find_elements(By.CSS_SELECTOR, ".hb-table tbody tr")) == COUNT % 200


@pytest.mark.parametrize(("width", "theme"), [(1280, "light"), (360, "dark")])
@pytest.mark.parametrize("page", _PAGES)
def test_fits_and_can_be_read_by_everybody(
    window: Chrome, site_url: str, page: str, width: int, theme: str
) -> None:
    set_window(window, width, theme)
    window.get("about:blank")
    window.get(site_url + page)
    assert faults_of_page(window, width) == []


def test_counts_lead_to_what_was_counted(window: Chrome, site_url: str) -> None:
    window.get(f"{site_url}findings/")
    link = window.find_element(By.CSS_SELECTOR, "#by-severity + div tbody tr td:last-child a")
    count = link.text
    link.click()
    _wait_ready(window)
    assert _told(window).startswith(f"{count} propert")
    window.get(f"{site_url}stock/arrangements/")
    link = window.find_element(By.CSS_SELECTOR, "tbody td a")
    count = link.text
    link.click()
    _wait_ready(window)
    assert _told(window).startswith(f"{count} propert")


def _wait_ready(window: Chrome) -> None:
    end = monotonic() + 20
    while not window.find_elements(By.CSS_SELECTOR, "form.hb-finder[data-ready]"):
        assert monotonic() < end
        sleep(0.05)


def test_no_key_takes_long_at_ten_thousand_properties(window: Chrome, tmp_path: Path) -> None:
    """Counted in time of the processor, so that a busy machine does not fail it."""
    rows = made_rows(10_000)
    address = _page_of(rows, tmp_path / "many")
    set_window(window, 360, "light")
    window.execute_cdp_cmd("Performance.enable", {"timeDomain": "threadTicks"})
    try:
        _open(window, address)
        one = rows[4711]
        typed = ("kiln lane 4", one.reference, one.uprn, one.postcode, "diverter three old colours", "e")
        for words in typed:
            took = [_key(window, words[:length]) for length in range(1, len(words) + 1)]
            assert max(took) < _MOST_MS, (words, took)
        assert one.reference.lower() not in _found(window)
        _key(window, one.reference)
        assert _found(window) == [one.reference]
    finally:
        window.execute_cdp_cmd("Performance.disable", {})


def _key(window: Chrome, words: str) -> float:
    """Put words into the field as a key does; the milliseconds that finding, showing and layout took."""
    before = _worked_ms(window)
    window.execute_script(
        "const f = document.getElementById('hb-find'); f.value = arguments[0];"
        "f.dispatchEvent(new Event('input', {bubbles: true})); document.body.offsetHeight;",
        words,
    )
    return _worked_ms(window) - before


def _worked_ms(window: Chrome) -> float:
    metrics = window.execute_cdp_cmd("Performance.getMetrics", {})["metrics"]
    values = {each["name"]: each["value"] for each in metrics}
    return 1000 * sum(
        float(values[name]) for name in ("ScriptDuration", "LayoutDuration", "RecalcStyleDuration")
    )
