"""Tables of the stock as CSV and XLSX: read back by another program, the same bytes each time, and harmless."""

import csv
import io
from collections.abc import Iterator
from datetime import date, datetime
from zipfile import ZipFile

import pytest
from openpyxl import load_workbook
from openpyxl.utils.escape import unescape

import generator.site.stock_files
from generator.site.stock_files import csv_text, xlsx_bytes
from generator.views.stock_lines import finished
from generator.views.stock_model import StockRow
from generator.views.stock_table import Column, Line, StockTable
from generator.views.stock_tables import ALL, FINDINGS, ORANGE, REPORTS, Report
from tests.stock_rows import DAY, made_rows

ROWS = made_rows(40)
HOSTILE = '=HYPERLINK("x";"y")'


def cells(data: bytes) -> list[tuple[object, ...]]:
    book = load_workbook(io.BytesIO(data))
    return [tuple(cell.value for cell in row) for row in book.worksheets[0].iter_rows()]


@pytest.mark.parametrize("report", REPORTS, ids=lambda report: report.name)
def test_workbook_holds_what_the_csv_holds(report: Report) -> None:
    read = list(csv.reader(io.StringIO(csv_text(report, report.csv_body(ROWS, day=DAY)))))
    found = cells(xlsx_bytes(report.table(ROWS, day=DAY)))
    assert found[0] == tuple(column.words for column in report.columns)
    assert read[0] == [column.key for column in report.columns]
    assert [[_as_text(value) for value in row] for row in found[1:]] == read[1:]


def _as_text(value: object) -> str:
    plain = _as_cell(value)
    if isinstance(plain, date):
        return plain.isoformat()
    return "" if plain is None else str(plain)


def test_the_same_bytes_whenever_it_is_written() -> None:
    for report in (ALL, FINDINGS):
        data = xlsx_bytes(report.table(ROWS, day=DAY))
        assert data == xlsx_bytes(report.table(ROWS, day=DAY))
        book = load_workbook(io.BytesIO(data))
        with ZipFile(io.BytesIO(data)) as parts:
            assert parts.testzip() is None
            assert len(set(parts.namelist())) == len(parts.namelist())
        assert {book.properties.created, book.properties.modified} == {datetime(1980, 1, 1)}  # noqa: DTZ001  # as read


@pytest.mark.parametrize("looked_at", [1, 3, 200])
def test_cells_do_not_depend_on_the_lines_that_widths_are_from(
    looked_at: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first lines have no day, no number and no text where later ones do."""
    monkeypatch.setattr(generator.site.stock_files, "_WIDTH_FROM", looked_at)
    columns = tuple(Column(key=name, words=name.upper(), days=name == "a") for name in "abc")
    day = date(2026, 3, 14)
    lines: list[Line] = [(None, "", None), (day, "x", 3), (None, 8, ""), (day, None, "w"), ("never", 9, 0)] * 2
    data = xlsx_bytes(StockTable("t", "T", "About.", columns, iter(lines)))
    plain = [tuple(None if cell == "" else cell for cell in line) for line in lines]
    assert [tuple(map(_as_cell, line)) for line in cells(data)[1:]] == plain


def _as_cell(value: object) -> object:
    """As it was given: XLSX has one sort of number, and days are some of them."""
    if isinstance(value, datetime):
        return value.date()
    return int(value) if isinstance(value, float) and value.is_integer() else value


def test_no_text_is_too_long_or_odd_for_a_cell() -> None:
    texts = ("x" * 40_000, "a\x00b\x0bc", "_x000B_", " lead\nand \t trail ", "<b>&amp;", "007", "http://x.y/")
    columns = tuple(Column(key=str(at), words=str(at)) for at in range(len(texts)))
    data = xlsx_bytes(StockTable("t", "T", "About.", columns, iter([texts])))
    book = load_workbook(io.BytesIO(data))
    found = next(iter(book.worksheets[0].iter_rows(min_row=2)))
    assert [cell.data_type for cell in found] == ["s"] * len(texts)
    assert [cell.hyperlink for cell in found] == [None] * len(texts)
    read = [unescape(str(cell.value)) for cell in found]
    assert read == [text[:32_767] for text in texts]


def test_no_cell_acts_in_a_spreadsheet() -> None:
    row = finished(StockRow(reference="A-1", address=HOSTILE, orange=("+1", "@x"), arrangement="\t=1"))
    (line,) = list(csv.reader(io.StringIO(ORANGE.csv_body([row], day=DAY))))
    assert line == ["A-1", f"'{HOSTILE}", "", "'+1, @x", "'\t=1"]
    book = load_workbook(io.BytesIO(xlsx_bytes(ORANGE.table([row], day=DAY))))
    shown = book.worksheets[0]["B2"]
    assert (shown.value, shown.data_type) == (HOSTILE, "s")


def test_numbers_and_days_are_such() -> None:
    def lines() -> Iterator[Line]:
        yield ("a", 3, date(2026, 3, 14), None)

    columns = tuple(Column(key=name, words=name.upper(), days=name == "y") for name in "wxyz")
    data = xlsx_bytes(
        StockTable("t", "A title that is longer than what a sheet may be called", "About.", columns, lines())
    )
    assert cells(data) == [("W", "X", "Y", "Z"), ("a", 3, datetime(2026, 3, 14), None)]  # noqa: DTZ001  # as read


def test_an_empty_table_is_a_heading() -> None:
    heading, *lines = cells(xlsx_bytes(ORANGE.table([], day=DAY)))
    assert heading == tuple(column.words for column in ORANGE.columns)
    assert not any(any(line) for line in lines)
    assert csv_text(ORANGE, ORANGE.csv_body([], day=DAY)).count("\r\n") == 1
