"""What one property adds to the tables of the stock: its lines, and the same as finished CSV.

Knows one row at a time; which tables there are and in which order lines stand is decided by whoever joins them.
"""

import csv
import io
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from hashlib import sha256

from generator.findings.finding import Severity
from generator.findings.findings_csv import safe_cell
from generator.views.stock_model import StockRow
from generator.views.stock_table import Cell, Line

WORST_FIRST = tuple(sorted(Severity, key=lambda severity: -severity.rank))
UNVENTED = "unvented"
"""How records say that a cylinder is at mains pressure."""


def who(row: StockRow) -> Line:
    """Reference, address and postcode."""
    return (row.reference, row.address, row.postcode)


def overview_line(row: StockRow) -> Line:
    """All that there is room for of one property in one line."""
    counts = [sum(one.severity is severity for one in row.findings) for severity in WORST_FIRST]
    return (
        *who(row),
        row.uprn,
        row.nation,
        row.fuel,
        row.house_type,
        row.arrangement,
        ", ".join(row.unusual),
        *counts,
        row.visited_on,
        row.looked_on,
    )


def finding_lines(row: StockRow, severity: Severity) -> Iterator[Line]:
    """Its findings of one severity, by place, in the columns of `findings_csv`."""
    for finding in row.findings:
        if finding.severity is severity:
            yield (
                finding.rule,
                row.reference,
                str(finding.severity),
                finding.file,
                finding.line,
                finding.column,
                finding.subject,
                finding.message,
                finding.holds,
                finding.example,
                finding.cure,
                finding.fix,
            )


def fitted_lines(row: StockRow) -> Iterator[Line]:
    """Its parts one by one."""
    for one in row.parts:
        yield (
            *who(row),
            str(one.group),
            one.words,
            one.detail,
            one.device,
            one.place,
            one.part,
            one.fitted,
        )


def orange_lines(row: StockRow) -> Iterator[Line]:
    """One line where the permanent live is on orange at any valve."""
    if row.orange:
        yield (*who(row), ", ".join(row.orange), row.arrangement)


def unvented_lines(row: StockRow) -> Iterator[Line]:
    """Its unvented cylinders."""
    for one in row.cylinders:
        if one.system == UNVENTED:
            yield (*who(row), one.device, one.place, one.litres, one.cut_out, one.relief_valve)


OVERVIEW = "overview"
FITTED = "fitted"
ORANGE = "orange"
UNVENTED_CYLINDERS = "unvented"

LINES: dict[str, Callable[[StockRow], Iterable[Line]]] = {
    OVERVIEW: lambda row: (overview_line(row),),
    **{str(severity): partial(finding_lines, severity=severity) for severity in WORST_FIRST},
    FITTED: fitted_lines,
    ORANGE: orange_lines,
    UNVENTED_CYLINDERS: unvented_lines,
}
"""What a property adds to each table, by the names under which `StockRow.csv` keeps it: for findings, the severity."""


def finished(row: StockRow) -> StockRow:
    """The row with its finished lines, and with the digest of what is settled of it."""
    made = ((name, csv_lines(lines(row))) for name, lines in LINES.items())
    without_days = row._replace(visited_on=None, looked_on=None, csv=(), settled="")
    return row._replace(
        csv=tuple((name, text) for name, text in made if text),
        settled=sha256(repr(without_days).encode()).hexdigest()[:32],
    )


def settled(rows: Iterable[StockRow]) -> str:
    """A digest of all that is settled of a stock's rows."""
    return sha256("".join([row.settled for row in rows]).encode()).hexdigest()


def visited(rows: Iterable[StockRow]) -> str:
    """A digest of the days of a stock's rows."""
    return sha256(repr([(row.visited_on, row.looked_on) for row in rows]).encode()).hexdigest()


def csv_lines(lines: Iterable[Line]) -> str:
    """Lines as CSV, ended as RFC 4180 has it, dates as ISO 8601 has them, and no cell that a spreadsheet would act on."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerows([_safe(cell) for cell in line] for line in lines)
    return out.getvalue()


def _safe(cell: Cell) -> str | int:
    if isinstance(cell, str):
        return safe_cell(cell)
    if cell is None:
        return ""
    return cell if isinstance(cell, int) else cell.isoformat()
