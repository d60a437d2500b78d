"""The pages about the whole stock: small at ten thousand properties, and each link to the finder means something there."""

import re
from html import unescape
from urllib.parse import parse_qs

import pytest

from generator.findings.finding import Severity
from generator.pages.late_page import LatePage
from generator.pages.stock_pages import (
    AT_HOME,
    HOME,
    MOST_PAGES,
    PAGE_LINES,
    find,
    stock_pages,
)
from generator.views.stock_index import stock_index
from generator.views.stock_lines import UNVENTED, WORST_FIRST
from generator.views.stock_model import StockCylinder, StockRow
from generator.views.stock_tables import Stock
from tests.pages.test_hostile_text import HOSTILE, Shape
from tests.stock_rows import DAY, made_rows

MANY = made_rows(10_000)
FIRM = "A <b>firm</b>"


def pages(rows: list[StockRow]) -> dict[str, LatePage]:
    made = list(stock_pages(Stock(rows, DAY), firm=FIRM, rules=frozenset()))
    assert len({page.url for page in made}) == len(made)
    return {page.url: page for page in made}


@pytest.fixture(scope="module")
def many() -> dict[str, LatePage]:
    return pages(MANY)


def test_no_page_grows_with_the_stock(many: dict[str, LatePage]) -> None:
    assert max(len(page.make().encode()) for page in many.values()) < 200_000
    assert len(many) < 10_000 / PAGE_LINES + 10 * MOST_PAGES
    assert len(many[HOME].make()) < 20_000


def test_every_property_is_listed_once(many: dict[str, LatePage]) -> None:
    listed = [
        reference
        for url, page in many.items()
        if url.startswith("stock/all/")
        for reference in re.findall(r'<th scope="row"><a href="[./]+p/([^/]+)/"', page.make())
    ]
    assert listed == [row.folder for row in MANY]


def test_a_list_that_is_too_long_says_so(many: dict[str, LatePage]) -> None:
    first = many["stock/not-looked-at/"].make()
    assert f"of which the first {MOST_PAGES * PAGE_LINES:,} are listed here and all are in the table" in first
    assert f"stock/not-looked-at/{MOST_PAGES}/" in many
    assert f"stock/not-looked-at/{MOST_PAGES + 1}/" not in many
    assert first.count("<tr>") == PAGE_LINES + 1


@pytest.mark.parametrize("count", [0, 1, AT_HOME, AT_HOME + 1])
def test_small_stocks(count: int) -> None:
    made = pages(MANY[:count])
    home = made[HOME].make()
    assert ('id="hb-stock"' in home) == (0 < count <= AT_HOME)
    assert ("hb-ranges" in home) == (count > AT_HOME)
    assert {f"findings/{severity}/" for severity in Severity} <= made.keys()
    assert all(page.make().count("<h1>") == 1 for page in made.values())
    assert "A &lt;b&gt;firm&lt;/b&gt;" in home


def test_links_to_the_finder_mean_something_there(many: dict[str, LatePage]) -> None:
    index = stock_index(MANY, day=DAY)
    values = {
        facet["key"]: {each if isinstance(each, str) else each[0] for each in facet["values"]}
        for facet in index["facets"]
    }
    links = {
        unescape(link)
        for page in many.values()
        for link in re.findall(r'href="[^"#]*#find\?([^"]+)"', page.make())
    }
    asked = {(key, value) for link in links for key, (value,) in parse_qs(link).items()}
    assert {key for key, _ in asked} == {
        "severity",
        "rule",
        "arrangement",
        "kind",
        "looked",
        "unusual",
        "cylinder",
    }
    # that no valve of a house differs from another is no fault of a link to those where one does
    assert {(key, value) for key, value in asked if value not in values[key]} <= {
        ("unusual", "permanent-live-mixed")
    }


def test_counts_are_those_of_the_finder(many: dict[str, LatePage]) -> None:
    home = many[HOME].make()
    for severity in WORST_FIRST:
        having = sum(any(each.severity is severity for each in row.findings) for row in MANY)
        assert f'<a href="./#find?severity={severity}">{having:,}</a>' in home


@pytest.mark.parametrize("text", HOSTILE)
def test_words_of_a_record_never_act(text: str) -> None:
    row = MANY[0]
    finding = made_rows(20)[7].findings[0]
    part = row.parts[0]._replace(words=text, detail=text, part=text)
    hostile = row._replace(
        address=text,
        arrangement=text,
        house_type=text,
        orange=(text,),
        findings=(finding._replace(message=text, holds=text, severity=Severity.DANGER),),
        parts=(part,),
        cylinders=(StockCylinder(text, text, UNVENTED, 150, text, text),),
    )
    for url, page in pages([hostile]).items():
        assert Shape(page.make()).active == [], url
        assert "alert(1)</script>" not in page.make(), url


def test_an_address_of_the_finder() -> None:
    assert find("", severity="danger") == "./#find?severity=danger"
    assert find("../", arrangement="One zone & two, on a valve.") == (
        "../#find?arrangement=One%20zone%20%26%20two%2C%20on%20a%20valve."
    )
