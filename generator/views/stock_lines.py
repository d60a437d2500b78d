"""What one property adds to the tables of the stock: its lines, and how lines become CSV.

Knows one row at a time; which tables there are and in which order lines stand is decided by whoever joins them.
"""

import csv
import io
from collections.abc import Callable, Iterable, Iterator
from hashlib import sha256

from generator.findings.finding import Severity
from generator.findings.findings_csv import safe_cell
from generator.views.stock_model import Settled, StockRow
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


def finished(row: StockRow) -> StockRow:
    """The row with its finished line, and with the digests of what is settled of it."""
    without_days = row._replace(visited_on=None, looked_on=None, csv="", settled=Settled())
    return row._replace(
        csv=csv_lines([overview_line(row)]),
        settled=Settled(
            listed=_digest(overview_line(without_days)),
            findings=_digest(who(row), row.findings) if row.findings else "",
            fitted=_digest(who(row), row.parts) if row.parts else "",
            whole=_digest(without_days),
        ),
    )


def _digest(*parts: object) -> str:
    return sha256(repr(parts).encode()).hexdigest()[:32]


def settled(rows: Iterable[StockRow], *, of: Callable[[Settled], str] = lambda digests: digests.whole) -> str:
    """A digest of what is settled of a stock's rows.

    Args:
        rows: the stock.
        of: which of the digests of a row to go by.
    """
    return sha256("\0".join([of(row.settled) for row in rows]).encode()).hexdigest()


def visited(rows: Iterable[StockRow]) -> str:
    """A digest of the days of a stock's rows."""
    return sha256(repr([(row.visited_on, row.looked_on) for row in rows]).encode()).hexdigest()


def csv_lines(lines: Iterable[Line]) -> str:
    """Lines as CSV, ended as RFC 4180 has it, dates as ISO 8601 has them, and no cell that a spreadsheet would act on."""
    cell = _Cells().__getitem__
    return "".join([f"{','.join(map(cell, line))}\r\n" for line in lines])


class _Cells(dict[Cell, str]):
    """Cells as they stand in CSV, each sort of content quoted once: most lines about a stock have much in common."""

    def __init__(self) -> None:
        super().__init__()
        self._out = io.StringIO()
        self._write = csv.writer(self._out, lineterminator="\r\n").writerow

    def __missing__(self, cell: Cell) -> str:
        self._out.seek(0)
        self._out.truncate()
        # Beside another: alone, an empty cell would be quoted.
        self._write((safe_cell(cell) if isinstance(cell, str) else cell, None))
        text = self[cell] = self._out.getvalue().removesuffix(",\r\n")
        return text
