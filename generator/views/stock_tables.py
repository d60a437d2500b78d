"""The tables about a stock that people ask for: what is in each, line by line, from the stock's rows alone.

Must not know HTML, nor any file format.
"""

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import partial

from generator.findings.findings_csv import COLUMNS
from generator.kept.store import digest_of
from generator.views.stock_counts import OVERDUE, looked
from generator.views.stock_lines import (
    WORST_FIRST,
    csv_lines,
    finding_lines,
    fitted_lines,
    orange_lines,
    overview_line,
    settled,
    unvented_lines,
    visited,
    who,
)
from generator.views.stock_model import Settled, StockRow
from generator.views.stock_parts import AGES, part_counts
from generator.views.stock_table import Column, Line, StockTable

Rows = Collection[StockRow]
"""A stock's rows: gone through as often as needed, never kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """A table that can be made of any stock; see `StockTable` for the other fields.

    Attributes:
        added: What each property adds to it, one pass over the stock each; empty where it is no plain sum of what properties
            add.
        counted: Its lines, where ``added`` is empty.
        ready: What a property adds to it as CSV, where rows have that ready.
        settled: By which digest of what is settled of its rows it is known to be as it was; None where its lines tell that.
        by_visits: Whether the days of visits are in it as well.
        by_day: Whether the day is by which ages are told.
        folder: Where its files lie below the site's root, empty or ending in a slash.
        workbook: Whether the site has it as a workbook too: one that is too long is made by the command only.
    """

    name: str
    title: str
    about: str
    columns: tuple[Column, ...]
    added: tuple[Callable[[StockRow], Iterable[Line]], ...] = ()
    counted: Callable[[Rows, date], Iterator[Line]] | None = None
    ready: Callable[[StockRow], str] | None = None
    settled: Callable[[Settled], str] | None = None
    by_visits: bool = False
    by_day: bool = False
    folder: str = "stock/"
    workbook: bool = True

    def path(self, ending: str) -> str:
        """Where its file with that ending is below the site's root."""
        return f"{self.folder}{self.name}.{ending}"

    def lines(self, rows: Rows, *, day: date) -> Iterator[Line]:
        """Its lines for a stock as it stands on a day."""
        if self.counted is not None:
            yield from self.counted(rows, day)
        for add in self.added:
            for row in rows:
                yield from add(row)

    def table(self, rows: Rows, *, day: date) -> StockTable:
        """The table of a stock as it stands on a day."""
        return self.filled(self.lines(rows, day=day))

    def filled(self, lines: Iterable[Line]) -> StockTable:
        """The table with these lines."""
        return StockTable(self.name, self.title, self.about, self.columns, iter(lines))

    def csv_body(self, rows: Rows, *, day: date) -> str:
        """Its lines as CSV without the heading."""
        if self.ready is not None:
            return "".join(map(self.ready, rows))
        return csv_lines(self.lines(rows, day=day))


class Stock:
    """The rows of a stock on a day, with the lines of its tables made once for all pages and files that show them."""

    def __init__(self, rows: Rows, day: date) -> None:
        """Begin.

        Args:
            rows: Of every property, in the order in which they are listed.
            day: The day by which ages are told.
        """
        self.rows = rows
        self.day = day
        self._lines: dict[str, list[Line]] = {}

    def lines(self, report: Report) -> list[Line]:
        """The lines of a report, held from then on."""
        known = self._lines.get(report.name)
        if known is None:
            known = self._lines[report.name] = list(report.lines(self.rows, day=self.day))
        return known

    def csv_body(self, report: Report) -> str:
        """The lines of a report as CSV without the heading."""
        if report.ready is not None or not report.workbook:
            return report.csv_body(self.rows, day=self.day)  # longest of all, and wanted once
        return csv_lines(self.lines(report))

    def made_from(self, report: Report) -> str:
        """A digest of all that a report shows."""
        if report.settled is None:
            return digest_of(repr(self.lines(report)))
        days = visited(self.rows) if report.by_visits else ""
        on = self.day.isoformat() if report.by_day else ""
        return digest_of(settled(self.rows, of=report.settled), days, on)


def report_named(name: str) -> Report | None:
    """The report of that name, None where there is none."""
    return next((report for report in REPORTS if report.name == name), None)


def _columns(*words: str, days: bool = False) -> tuple[Column, ...]:
    return tuple(Column(key=each.replace(" ", "_").lower(), words=each, days=days) for each in words)


_WHO = _columns("Reference", "Address", "Postcode")


def _by_arrangement(rows: Rows, day: date) -> Iterator[Line]:
    del day
    having: dict[str, list[Line]] = {}
    for row in rows:
        having.setdefault(row.arrangement, []).append(who(row))
    unknown = having.pop("", [])
    for words, lines in sorted(having.items(), key=lambda each: -len(each[1])):
        yield from ((words, len(lines), *line) for line in lines)
    yield from (("not worked out", len(unknown), *line) for line in unknown)


def _parts(rows: Rows, day: date) -> Iterator[Line]:
    for one in part_counts(rows, day=day):
        own = ", ".join(f"{reference} ({count})" for reference, count in one.own)
        yield (str(one.group), one.words, one.detail, one.count, one.properties, *one.ages, own)


def _not_looked_at(rows: Rows, day: date) -> Iterator[Line]:
    late = [
        (row.looked_on, place, (*who(row), row.visited_on, row.looked_on, str(looked(row, day))))
        for place, row in enumerate(rows)
        if looked(row, day) in OVERDUE
    ]
    for _, _, line in sorted(late, key=lambda each: (each[0] is not None, each[0] or day, each[1])):
        yield line


ALL = Report(
    name="all",
    title="All properties",
    about="Every property with its arrangement, what is unusual, how much is wrong, and when it was last looked at.",
    columns=(
        *_WHO,
        *_columns("UPRN", "Nation", "Fuel", "House type", "Arrangement", "Unusual"),
        *_columns(*(str(severity).capitalize() for severity in WORST_FIRST)),
        *_columns("Last visit", "Last looked at", days=True),
    ),
    added=(lambda row: (overview_line(row),),),
    ready=lambda row: row.csv,
    settled=lambda digests: digests.listed,
    by_visits=True,
)
ARRANGEMENTS = Report(
    name="arrangements",
    title="By arrangement",
    about="What each circuit does, as worked out from its wiring and devices, and which properties have it; commonest first.",
    columns=(*_columns("Arrangement", "Properties with it"), *_WHO),
    counted=_by_arrangement,
    settled=lambda digests: digests.listed,
)
FINDINGS = Report(
    name="findings",
    title="Findings",
    about="Everything that is wrong in the stock, worst first; what was accepted with a reason is a note.",
    columns=tuple(Column(key=key, words=key.capitalize()) for key in COLUMNS),
    added=tuple(partial(finding_lines, severity=severity) for severity in WORST_FIRST),
    settled=lambda digests: digests.findings,
    folder="",
)
PARTS = Report(
    name="parts",
    title="Parts for the van",
    about="Valves, motors, thermostats and other parts in the stock, by kind, by age since the day fitted, and by the "
    "firm's own reference.",
    columns=_columns("Sort", "Part", "Detail", "How many", "Properties", *AGES, "Own references"),
    counted=_parts,
    settled=lambda digests: digests.fitted,
    by_day=True,
)
FITTED = Report(
    name="fitted",
    title="Parts, one by one",
    about="Every part of the kinds that a van carries: where it is, the firm's own reference and the day it was fitted.",
    columns=(
        *_WHO,
        *_columns("Sort", "Part", "Detail", "Device", "Place", "Own reference"),
        *_columns("Fitted", days=True),
    ),
    added=(fitted_lines,),
    settled=lambda digests: digests.fitted,
    workbook=False,
)
NOT_LOOKED_AT = Report(
    name="not-looked-at",
    title="Not looked at for a year",
    about="Properties where nothing was visited, seen or tested in the last 365 days, longest ago first; what is only "
    "assumed does not count as looked at.",
    columns=(*_WHO, *_columns("Last visit", "Last looked at", days=True), *_columns("How long ago")),
    counted=_not_looked_at,
)
ORANGE = Report(
    name="orange",
    title="Permanent live on orange",
    about="Properties with a motorised valve whose orange core is live in every state, so that it reads live with nothing calling.",
    columns=(*_WHO, *_columns("Valves", "Arrangement")),
    added=(orange_lines,),
)
UNVENTED_CYLINDERS = Report(
    name="unvented",
    title="Unvented cylinders",
    about="Hot water cylinders at mains pressure: where they are, and what is recorded of their safety devices. Only "
    "people qualified for them work on them.",
    columns=(*_WHO, *_columns("Cylinder", "Place", "Litres", "Energy cut-out", "Relief valve")),
    added=(unvented_lines,),
)

REPORTS: tuple[Report, ...] = (
    ALL,
    ARRANGEMENTS,
    FINDINGS,
    PARTS,
    FITTED,
    NOT_LOOKED_AT,
    ORANGE,
    UNVENTED_CYLINDERS,
)
