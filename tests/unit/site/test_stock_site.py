"""What is made of the whole stock is known by what it is made from: the same digest, the same bytes; and a visit changes little."""

from collections.abc import Iterator
from datetime import date, timedelta

import pytest

from generator.findings.finding import Severity
from generator.pages.stock_pages import PAGE_LINES
from generator.site.page import Later, SiteAsset, SitePage
from generator.site.stock_site import assets_of_stock, pages_of_stock
from generator.views.stock_lines import UNVENTED, finished
from generator.views.stock_model import PartGroup, StockCylinder, StockFinding, StockPart, StockRow
from generator.views.stock_tables import Stock
from tests.stock_rows import DAY, made_rows

Piece = SitePage | Later[SitePage] | SiteAsset | Later[SiteAsset]
ROWS = made_rows(450)
PLACE = 200
FINDING = StockFinding(
    "pump-never-runs", Severity.DANGER, "message", "fix", "f.yaml", 3, 4, "holds", "subject", "cure", "example"
)
PART = StockPart(PartGroup.VALVES, "two-port-valve", "two-port valve", "22 mm", "Hall valve", "Hall", "V-1", DAY)
CYLINDER = StockCylinder("Cylinder", "Landing", UNVENTED, 150, "cut-out", "valve")


def odd(one: StockFinding | StockPart, name: str) -> StockFinding | StockPart:
    return one._replace(**{name: "odd"})  # type: ignore[arg-type]  # only texts are changed so


CHANGED: dict[str, tuple[object, ...]] = {
    "reference": ("ZZ-1",),
    "address": ("1 Odd Lane", "=1 Odd Lane", "'=1 Odd Lane"),
    "postcode": ("QE9 9ZZ",),
    "uprn": ("100000009999",),
    "nation": ("scotland",),
    "fuel": ("oil",),
    "house_type": ("odd-type",),
    "arrangement": ("Odd arrangement.",),
    "kinds": ((("odd-kind", "odd kind"),),),
    "unusual": (("odd-thing",),),
    "orange": (("Odd valve",),),
    "worked_out": (True, False),
    "findings": ((), *((odd(FINDING, name),) for name in ("rule", "message", "holds", "fix", "cure"))),
    "parts": ((), *((odd(PART, name),) for name in ("kind", "words", "detail", "device", "place", "part"))),
    "cylinders": ((), (CYLINDER,), (CYLINDER._replace(system="vented"),), (CYLINDER._replace(litres=None),)),
    "looked_on": (None, DAY, DAY - timedelta(days=400), DAY - timedelta(days=900)),
    "visited_on": (None, DAY, DAY - timedelta(days=400)),
}


def everything(rows: list[StockRow], day: date = DAY) -> Iterator[Piece]:
    stock = Stock(rows, day)
    yield from pages_of_stock(stock, firm="A firm")
    yield from assets_of_stock(stock)


def known(rows: list[StockRow], day: date = DAY) -> dict[str, str]:
    """By what each page and file is known; itself where it is not known by anything."""
    return {
        each.path: each.made_from if isinstance(each, Later) else str(hash(content(each)))
        for each in everything(rows, day)
    }


def content(one: Piece) -> object:
    """The page or the bytes of the file, made now."""
    whole: object = one.make() if isinstance(one, Later) else one
    return whole.data if isinstance(whole, SiteAsset) else whole


def with_one(**values: object) -> list[StockRow]:
    changed = finished(ROWS[PLACE]._replace(**values))  # type: ignore[arg-type]  # each of its own sort
    return [*ROWS[:PLACE], changed, *ROWS[PLACE + 1 :]]


def test_every_field_of_a_row_is_tried() -> None:
    assert CHANGED.keys() == set(StockRow._fields) - {"csv", "settled"}


@pytest.fixture(scope="module")
def seen() -> dict[tuple[str, str], object]:
    return {}


@pytest.mark.parametrize("name", CHANGED)
def test_the_same_digest_means_the_same_bytes(name: str, seen: dict[tuple[str, str], object]) -> None:
    for rows in [ROWS, *(with_one(**{name: value}) for value in CHANGED[name])]:
        for each in everything(rows):
            if isinstance(each, Later):
                now = content(each)
                assert seen.setdefault((each.path, each.made_from), now) == now


def test_so_it_is_with_days_and_with_fewer_properties() -> None:
    seen: dict[tuple[str, str], object] = {}
    trials = [(ROWS, DAY + timedelta(days=days)) for days in (0, 1, 400)] + [(ROWS[:number], DAY) for number in (449, 200)]
    for rows, day in trials:
        for each in everything(list(rows), day):
            if isinstance(each, Later):
                now = content(each)
                assert seen.setdefault((each.path, each.made_from), now) == now


def test_a_visit_changes_only_what_tells_of_visits() -> None:
    late = next(row for row in ROWS if row.looked_on is not None and row.looked_on == row.visited_on)
    at = ROWS.index(late)
    rows = [*ROWS[:at], finished(late._replace(visited_on=DAY, looked_on=DAY)), *ROWS[at + 1 :]]
    before, after = known(ROWS), known(rows)
    changed = {path for path in before if before[path] != after.get(path)}
    page = f"stock/all/{at // PAGE_LINES + 1}/index.html" if at >= PAGE_LINES else "stock/all/index.html"
    assert {page, "stock/all.csv", "stock/all.xlsx"} <= changed
    assert all(path.startswith(("stock/all", "stock/not-looked-at", "index.html", "find/")) for path in changed)
    assert sum(path.startswith("stock/all/") for path in changed) == 1


def test_nothing_is_made_again_for_the_same_rows() -> None:
    assert known(ROWS) == known(list(ROWS))
