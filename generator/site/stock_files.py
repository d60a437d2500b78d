"""Tables about the stock as files for a spreadsheet: CSV, and XLSX, the same bytes for the same table.

No cell can act in a spreadsheet, whatever a record says. It must not know what is in a table.
"""

from collections.abc import Iterator
from datetime import UTC, date, datetime
from hashlib import sha256
from itertools import chain, islice
from pathlib import Path
from tempfile import TemporaryDirectory

from xlsxwriter import Workbook
from xlsxwriter.worksheet import Worksheet

from generator.site.page import SiteAsset
from generator.views.stock_lines import csv_lines
from generator.views.stock_table import Cell, Column, Line, StockTable
from generator.views.stock_tables import REPORTS, Report, Rows

_MADE = datetime(1980, 1, 1, tzinfo=UTC)
"""When every workbook says that it was made, so that the same table gives the same bytes."""
_WIDEST = 60
_WIDTH_FROM = 200
"""How many lines are looked at to find how wide the columns are to be."""
_KEPT_FROM = 1_000
"""A stock of fewer properties has its workbooks made anew each time: that takes no time."""
_HELD = 20_000
"""How many lines are held in memory at most."""
_MOST_LINES = 1_048_575
"""What a sheet holds below its heading: XLSX as spreadsheets read it."""


def csv_text(report: Report, rows: Rows, *, day: date) -> str:
    """The table with its keys for a heading, lines ended as RFC 4180 has it, dates as ISO 8601 has them."""
    return csv_lines([tuple(column.key for column in report.columns)]) + report.csv_body(rows, day=day)


def xlsx_bytes(table: StockTable) -> bytes:
    """The table as a workbook of one sheet, its first line held in sight and filters on.

    Texts are written as texts, never as formulas, numbers or links. The lines of a long table go to disk as they come:
    that is slower, and needs no more memory than its file.
    """
    with TemporaryDirectory(prefix="hearthbook-") as folder:
        file = Path(folder) / f"{table.name}.xlsx"
        lines = iter(table.lines)
        first = list(islice(lines, _HELD))
        options = {
            "constant_memory": len(first) == _HELD,
            "tmpdir": folder,
            "strings_to_formulas": False,
            "strings_to_urls": False,
            "strings_to_numbers": False,
        }
        book = Workbook(str(file), options)
        book.set_properties({"title": table.title, "comments": table.about, "created": _MADE})
        heading = book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1})
        day = book.add_format({"num_format": "yyyy-mm-dd", "align": "left"})
        sheet = book.add_worksheet(table.title[:31])
        for at, width in enumerate(_widths(table.columns, first[:_WIDTH_FROM])):
            sheet.set_column(at, at, width)
        sheet.freeze_panes(1, 1)
        for at, column in enumerate(table.columns):
            sheet.write_string(0, at, column.words, heading)
        count = 0
        for count, line in enumerate(chain(first, lines), start=1):
            if count > _MOST_LINES:
                break
            for at, cell in enumerate(line):
                _write(sheet, count, at, cell, day)
        sheet.autofilter(0, 0, max(min(count, _MOST_LINES), 1), len(table.columns) - 1)
        book.close()
        return file.read_bytes()


def _write(sheet: Worksheet, row: int, column: int, cell: Cell, day: object) -> None:
    if cell is None or cell == "":
        return
    if isinstance(cell, str):
        sheet.write_string(row, column, cell)
    elif isinstance(cell, int):
        sheet.write_number(row, column, cell)
    else:
        sheet.write_datetime(row, column, cell, day)


def _widths(columns: tuple[Column, ...], lines: list[Line]) -> Iterator[int]:
    for at, column in enumerate(columns):
        longest = max((_length(line[at]) for line in lines), default=0)
        yield min(max(longest, len(column.words)) + 2, _WIDEST)


def _length(cell: Cell) -> int:
    return 10 if isinstance(cell, date) else len(str(cell or ""))


def stock_files(rows: Rows, *, day: date, kept: Path | None = None) -> Iterator[SiteAsset]:
    """Every report of a stock as CSV, and as XLSX where it is not too long for that.

    Args:
        rows: the stock.
        day: the day by which ages are told.
        kept: a folder that can be deleted at any time, where workbooks are kept from build to build: making one takes
            ten times as long as the CSV, and few of them change. None keeps nothing, and a small stock needs none.
    """
    if len(rows) < _KEPT_FROM:
        kept = None
    used = set()
    for report in REPORTS:
        data = csv_text(report, rows, day=day).encode()
        yield SiteAsset(path=report.path("csv"), data=data)
        if not report.workbook:
            continue
        name = f"{report.name}-{sha256(data).hexdigest()[:24]}.xlsx"
        used.add(name)
        yield SiteAsset(path=report.path("xlsx"), data=_kept(kept, name, report, rows, day))
    if kept is not None and kept.is_dir():
        for file in kept.glob("*.xlsx"):
            if file.name not in used:
                file.unlink(missing_ok=True)


def _kept(folder: Path | None, name: str, report: Report, rows: Rows, day: date) -> bytes:
    """The workbook from the folder, or made anew; whole or not at all there, whoever else writes."""
    if folder is None:
        return xlsx_bytes(report.table(rows, day=day))
    file = folder / name
    if file.is_file():
        return file.read_bytes()
    data = xlsx_bytes(report.table(rows, day=day))
    folder.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory(dir=folder, prefix=".") as beside:
        whole = Path(beside) / name
        whole.write_bytes(data)
        whole.replace(file)
    return data
