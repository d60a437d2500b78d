"""Tables of the stock as CSV and XLSX: read back by another program, the same bytes each time, and harmless."""

import csv
import io
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path

import pytest
from openpyxl import load_workbook

import generator.site.stock_files
from generator.site.stock_files import csv_text, stock_files, xlsx_bytes
from generator.views.stock_lines import with_csv
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
    read = list(csv.reader(io.StringIO(csv_text(report, ROWS, day=DAY))))
    found = cells(xlsx_bytes(report.table(ROWS, day=DAY)))
    assert found[0] == tuple(column.words for column in report.columns)
    assert read[0] == [column.key for column in report.columns]
    assert [[_as_text(value) for value in row] for row in found[1:]] == read[1:]


def _as_text(value: object) -> str:
    if isinstance(value, datetime):
        return value.date().isoformat()
    return "" if value is None else str(value)


@pytest.mark.parametrize("long", [False, True])
def test_the_same_bytes_each_time(long: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    if long:
        monkeypatch.setattr(generator.site.stock_files, "_HELD", 10)
    for report in (ALL, FINDINGS):
        assert xlsx_bytes(report.table(ROWS, day=DAY)) == xlsx_bytes(report.table(ROWS, day=DAY))


def test_a_long_table_written_to_disk_has_the_same_cells(monkeypatch: pytest.MonkeyPatch) -> None:
    short = cells(xlsx_bytes(ALL.table(ROWS, day=DAY)))
    monkeypatch.setattr(generator.site.stock_files, "_HELD", 10)
    assert cells(xlsx_bytes(ALL.table(ROWS, day=DAY))) == short


def test_no_cell_acts_in_a_spreadsheet() -> None:
    row = with_csv(StockRow(reference="A-1", address=HOSTILE, orange=("+1", "@x"), arrangement="\t=1"))
    (line,) = list(csv.reader(io.StringIO(ORANGE.csv_body([row], day=DAY))))
    assert line == ["A-1", f"'{HOSTILE}", "", "'+1, @x", "'\t=1"]
    book = load_workbook(io.BytesIO(xlsx_bytes(ORANGE.table([row], day=DAY))))
    shown = book.worksheets[0]["B2"]
    assert (shown.value, shown.data_type) == (HOSTILE, "s")


def test_numbers_and_days_are_such() -> None:
    def lines() -> Iterator[Line]:
        yield ("a", 3, date(2026, 3, 14), None)

    columns = tuple(Column(key=name, words=name.upper()) for name in "wxyz")
    data = xlsx_bytes(
        StockTable("t", "A title that is longer than what a sheet may be called", "About.", columns, lines())
    )
    assert cells(data) == [("W", "X", "Y", "Z"), ("a", 3, datetime(2026, 3, 14), None)]  # noqa: DTZ001  # as read


def test_an_empty_table_is_a_heading() -> None:
    assert len(cells(xlsx_bytes(ORANGE.table([], day=DAY)))) == 1
    assert csv_text(ORANGE, [], day=DAY).count("\r\n") == 1


def test_workbooks_are_kept_where_nothing_changed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(generator.site.stock_files, "_KEPT_FROM", 1)
    first = {asset.path: asset.data for asset in stock_files(ROWS, day=DAY, kept=tmp_path)}
    kept = {file.name: file.stat().st_mtime_ns for file in tmp_path.iterdir()}
    assert len(kept) == sum(report.workbook for report in REPORTS)
    again = {asset.path: asset.data for asset in stock_files(ROWS, day=DAY, kept=tmp_path)}
    assert again == first
    assert {file.name: file.stat().st_mtime_ns for file in tmp_path.iterdir()} == kept
    changed = {asset.path: asset.data for asset in stock_files(ROWS[1:], day=DAY, kept=tmp_path)}
    assert changed["stock/all.xlsx"] != first["stock/all.xlsx"]
    assert len(list(tmp_path.iterdir())) == len(kept)
    assert changed == {asset.path: asset.data for asset in stock_files(ROWS[1:], day=DAY)}
