"""The tables of the stock: which lines each has, in which order, and the counts that go with them."""

import csv
import io
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.findings.finding import Severity
from generator.findings.findings_csv import safe_cell
from generator.views.stock_counts import Looked, looked, stock_counts
from generator.views.stock_lines import csv_lines
from generator.views.stock_model import PartGroup, StockCylinder, StockPart, StockRow
from generator.views.stock_parts import AGES, age_band, part_counts
from generator.views.stock_table import Cell, Line
from generator.views.stock_tables import (
    ALL,
    ARRANGEMENTS,
    FINDINGS,
    FITTED,
    NOT_LOOKED_AT,
    ORANGE,
    PARTS,
    REPORTS,
    UNVENTED_CYLINDERS,
    Report,
    report_named,
)
from tests.stock_rows import made_rows

DAY = date(2026, 11, 25)
VALVE = StockPart(
    group=PartGroup.VALVES,
    kind="two-port-valve",
    words="two-port valve",
    detail="22 mm",
    device="Hall valve",
    place="loft",
    part="V-1",
    fitted=date(2015, 1, 1),
)
CYLINDER = StockCylinder(
    device="Cylinder", place="cupboard", system="unvented", litres=150, cut_out="wired", relief_valve="seen"
)
ROWS = [
    StockRow(reference="A-1", address="1 Kiln Row", arrangement="One zone.", looked_on=date(2020, 1, 1)),
    StockRow(reference="A-2", address="2 Kiln Row", arrangement="Two zones.", parts=(VALVE, VALVE)),
    StockRow(reference="A-3", address="3 Kiln Row", arrangement="Two zones.", orange=("Hall valve",), looked_on=DAY),
    StockRow(reference="A-4", address="Address not read", cylinders=(CYLINDER,), looked_on=date(2025, 11, 1)),
]  # fmt: skip


def lines(report: Report) -> list[Line]:
    return list(report.table(ROWS, day=DAY).lines)


def test_every_report_has_as_many_cells_as_columns() -> None:
    rows = made_rows(60)
    for report in REPORTS:
        found = list(report.table(rows, day=DAY).lines)
        assert found, report.name
        assert {len(line) for line in found} == {len(report.columns)}, report.name
        keys = [column.key for column in report.columns]
        assert len(set(keys)) == len(keys), report.name
        assert report_named(report.name) is report
    assert report_named("nothing") is None


def test_csv_made_with_the_rows_is_that_of_the_lines() -> None:
    rows = made_rows(60)
    for report in REPORTS:
        body = report.csv_body(rows, day=DAY)
        assert body == csv_lines(report.table(rows, day=DAY).lines), report.name


def test_all_has_every_property_in_order() -> None:
    assert [line[0] for line in lines(ALL)] == ["A-1", "A-2", "A-3", "A-4"]


def test_arrangements_commonest_first_and_what_was_not_worked_out_last() -> None:
    assert [line[:3] for line in lines(ARRANGEMENTS)] == [
        ("Two zones.", 2, "A-2"),
        ("Two zones.", 2, "A-3"),
        ("One zone.", 1, "A-1"),
        ("not worked out", 1, "A-4"),
    ]


def test_not_looked_at_for_longest_first() -> None:
    assert [(line[0], line[-1]) for line in lines(NOT_LOOKED_AT)] == [
        ("A-2", "never"),
        ("A-1", "more than two years ago"),
        ("A-4", "one to two years ago"),
    ]


def test_orange_unvented_and_fitted() -> None:
    assert lines(ORANGE) == [("A-3", "3 Kiln Row", "", "Hall valve", "Two zones.")]
    assert lines(UNVENTED_CYLINDERS) == [
        ("A-4", "Address not read", "", "Cylinder", "cupboard", 150, "wired", "seen")
    ]
    assert [line[-2:] for line in lines(FITTED)] == [("V-1", date(2015, 1, 1))] * 2


def test_findings_worst_first() -> None:
    rows = made_rows(60)
    severities = [Severity(str(line[2])) for line in FINDINGS.table(rows, day=DAY).lines]
    assert severities == sorted(severities, key=lambda each: -each.rank)
    assert len(severities) == sum(len(row.findings) for row in rows)


def test_parts_are_counted_by_sort_age_and_own_reference() -> None:
    (one,) = part_counts(ROWS, day=DAY)
    assert (one.count, one.properties, one.own) == (2, 1, (("V-1", 2),))
    assert dict(zip(AGES, one.ages, strict=True))["10 to 14 years"] == 2
    assert lines(PARTS) == [("valves", "two-port valve", "22 mm", 2, 1, 0, 0, 2, 0, 0, "V-1 (2)")]


@pytest.mark.parametrize(
    ("fitted", "band"),
    [
        (None, "not recorded"),
        (date(2027, 1, 1), "under 5 years"),
        (date(2021, 11, 26), "under 5 years"),
        (date(2021, 11, 25), "5 to 9 years"),
        (date(2016, 11, 25), "10 to 14 years"),
        (date(2011, 11, 26), "10 to 14 years"),
        (date(2011, 11, 25), "15 years and over"),
        (date(1969, 1, 1), "15 years and over"),
    ],
)
def test_age(fitted: date | None, band: str) -> None:
    assert AGES[age_band(fitted, DAY)] == band


@pytest.mark.parametrize(
    ("days", "when"),
    [(0, Looked.LATELY), (365, Looked.LATELY), (366, Looked.OVER_A_YEAR), (730, Looked.OVER_A_YEAR), (731, Looked.LONG_AGO)],
)  # fmt: skip
def test_a_year_is_365_days(days: int, when: Looked) -> None:
    assert looked(ROWS[0]._replace(looked_on=DAY - timedelta(days=days)), DAY) is when


def test_counts() -> None:
    counts = stock_counts(ROWS, day=DAY)
    assert (counts.properties, counts.overdue, counts.orange, counts.unvented, counts.parts) == (
        4,
        3,
        1,
        1,
        2,
    )
    assert counts.arrangements == (("Two zones.", 2), ("One zone.", 1))


def test_headings_of_a_report_differ() -> None:
    """A workbook has its columns by these."""
    for report in REPORTS:
        words = [column.words for column in report.columns]
        assert len(set(words)) == len(words), report.name


@given(st.lists(st.lists(st.one_of(st.text(), st.integers(), st.dates(), st.none()), min_size=2, max_size=5)))
def test_csv_is_read_back_by_the_standard_library(made: list[list[Cell]]) -> None:
    read = list(csv.reader(io.StringIO(csv_lines(tuple(line) for line in made), newline="")))
    assert read == [[as_read(cell) for cell in line] for line in made]


def as_read(cell: Cell) -> str:
    return safe_cell(cell) if isinstance(cell, str) else "" if cell is None else str(cell)
