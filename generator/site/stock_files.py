"""Tables about the stock as files for a spreadsheet: CSV, and XLSX, the same bytes for the same table.

No cell can act in a spreadsheet, whatever a record says. It must not know what is in a table.
"""

import io
import re
from collections.abc import Iterator
from datetime import date
from functools import partial
from itertools import chain, islice
from zipfile import ZIP_DEFLATED, ZipFile

from rustpy_xlsxwriter import Format, write_worksheet

from generator.site.page import Later, SiteAsset
from generator.views.stock_lines import csv_lines
from generator.views.stock_table import Cell, Column, Line, StockTable
from generator.views.stock_tables import REPORTS, Report, Stock

_WIDEST = 60
_WIDTH_FROM = 200
"""How many lines are looked at to find how wide the columns are to be."""
_MOST_LINES = 1_048_575
"""What a sheet holds below its heading: XLSX as spreadsheets read it."""
_LONGEST = 32_767
"""How many characters a cell holds, likewise."""
_ABOUT_ITSELF = "docProps/core.xml"
_TIME = re.compile(rb">[0-9T:-]+Z<")
_MADE = b">1980-01-01T00:00:00Z<"
"""When every workbook says that it was made, so that the same table gives the same bytes."""


def csv_text(report: Report, body: str) -> str:
    """A report as CSV with its keys for a heading.

    Args:
        report: the report.
        body: its lines as CSV.
    """
    return csv_lines([tuple(column.key for column in report.columns)]) + body


def xlsx_bytes(table: StockTable) -> bytes:
    """The table as a workbook of one sheet, its first line held in sight and filters on.

    Texts are written as texts, never as formulas, numbers or links.
    """
    lines = islice(table.lines, _MOST_LINES)
    first = list(islice(lines, _WIDTH_FROM)) or [(None,) * len(table.columns)]
    names = [column.words for column in table.columns]
    heading = Format().set_bold().set_text_wrap().set_align("top").set_border_bottom("thin")
    days = Format().set_num_format("yyyy-mm-dd").set_align("left")
    written = io.BytesIO()
    write_worksheet(
        (dict(zip(names, _that_fit(line), strict=True)) for line in chain(first, lines)),
        written,
        table.title[:31],
        freeze_row=1,
        freeze_col=1,
        autofilter=True,
        header_format=heading,
        column_widths=[*_widths(table.columns, first)],
        column_formats={column.words: days for column in table.columns if column.days},
    )
    return _always_the_same(written)


def _that_fit(line: Line) -> list[Cell]:
    return [cell[:_LONGEST] if type(cell) is str else cell for cell in line]


def _always_the_same(book: io.BytesIO) -> bytes:
    """The workbook without the time at which it was written.

    What stands before the part with the time is most of it, and is taken over as it is: to compress it again would take longer
    than to write it.
    """
    result = io.BytesIO()
    with ZipFile(book) as old, ZipFile(result, "w", ZIP_DEFLATED) as new:
        parts = sorted(old.infolist(), key=lambda part: part.header_offset)
        at = next(at for at, part in enumerate(parts) if part.filename == _ABOUT_ITSELF)
        result.write(book.getvalue()[: parts[at].header_offset])
        new.start_dir = parts[at].header_offset
        for part in parts[:at]:
            new.filelist.append(part)
            new.NameToInfo[part.filename] = part
        for part in parts[at:]:
            new.writestr(part, _TIME.sub(_MADE, old.read(part)))
    return result.getvalue()


def _widths(columns: tuple[Column, ...], lines: list[Line]) -> Iterator[int]:
    for at, column in enumerate(columns):
        longest = max((_length(line[at]) for line in lines), default=0)
        yield min(max(longest, len(column.words)) + 2, _WIDEST)


def _length(cell: Cell) -> int:
    return 10 if isinstance(cell, date) else len(str(cell or ""))


def stock_files(stock: Stock) -> Iterator[SiteAsset | Later[SiteAsset]]:
    """Every report of a stock as CSV, and as XLSX where it is not too long for that."""
    for report in REPORTS:
        made_from = stock.made_from(report)
        yield Later(path=report.path("csv"), made_from=made_from, make=partial(_csv, report, stock))
        if report.workbook:
            yield Later(path=report.path("xlsx"), made_from=made_from, make=partial(_workbook, report, stock))


def _csv(report: Report, stock: Stock) -> SiteAsset:
    return SiteAsset(path=report.path("csv"), data=csv_text(report, stock.csv_body(report)).encode())


def _workbook(report: Report, stock: Stock) -> SiteAsset:
    return SiteAsset(path=report.path("xlsx"), data=xlsx_bytes(report.filled(stock.lines(report))))
