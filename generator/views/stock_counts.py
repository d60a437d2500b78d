"""How many properties of a stock are of each sort: by worst finding, by arrangement, by when they were last looked at.

Made from the stock's rows alone, in one pass, and no larger for a larger stock but by the number of sorts.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from functools import lru_cache

from generator.findings.finding import Severity
from generator.views.stock_lines import UNVENTED, WORST_FIRST
from generator.views.stock_model import StockRow

_YEAR = timedelta(days=365)


class Looked(StrEnum):
    """How long ago anybody last looked at a property or tested anything there."""

    NEVER = "never"
    LONG_AGO = "more than two years ago"
    OVER_A_YEAR = "one to two years ago"
    LATELY = "within a year"


OVERDUE = (Looked.NEVER, Looked.LONG_AGO, Looked.OVER_A_YEAR)
"""What counts as not looked at for a year."""


def looked(row: StockRow, day: date) -> Looked:
    """How long before ``day`` a property was last looked at; a year is 365 days."""
    return _looked(row.looked_on, day)


@lru_cache(maxsize=4096)
def _looked(on: date | None, day: date) -> Looked:
    if on is None:
        return Looked.NEVER
    ago = day - on
    if ago <= _YEAR:
        return Looked.LATELY
    return Looked.OVER_A_YEAR if ago <= 2 * _YEAR else Looked.LONG_AGO


def is_unvented(row: StockRow) -> bool:
    """Whether any cylinder there is recorded as unvented."""
    return any(cylinder.system == UNVENTED for cylinder in row.cylinders)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockCounts:
    """Counts over the whole stock.

    Attributes:
        properties: How many there are.
        worked_out: How many of them could be solved.
        with_findings: How many have any finding.
        with_severity: How many have at least one finding of each severity.
        findings: How many findings of each severity there are.
        arrangements: How many have each arrangement, commonest first, then as first met; without those that have none.
        looked: How many were last looked at when.
        orange: How many have a permanent live on an orange core.
        unvented: How many have an unvented cylinder.
        parts: How many parts a van may carry there are.
    """

    properties: int
    worked_out: int
    with_findings: int
    with_severity: dict[Severity, int]
    findings: dict[Severity, int]
    arrangements: tuple[tuple[str, int], ...]
    looked: dict[Looked, int]
    orange: int
    unvented: int
    parts: int

    @property
    def overdue(self) -> int:
        """How many were not looked at for a year."""
        return sum(self.looked[each] for each in OVERDUE)


def stock_counts(rows: Iterable[StockRow], *, day: date) -> StockCounts:
    """Count a stock as it stands on a day."""
    properties = worked_out = orange = unvented = parts = with_findings = 0
    with_severity: Counter[Severity] = Counter()
    findings: Counter[Severity] = Counter()
    arrangements: Counter[str] = Counter()
    when: Counter[Looked] = Counter()
    for row in rows:
        properties += 1
        worked_out += row.worked_out
        if row.findings:
            severities = [finding.severity for finding in row.findings]
            findings.update(severities)
            with_severity.update(set(severities))
            with_findings += 1
        if row.arrangement:
            arrangements[row.arrangement] += 1
        when[looked(row, day)] += 1
        orange += bool(row.orange)
        unvented += bool(row.cylinders) and is_unvented(row)
        parts += len(row.parts)
    return StockCounts(
        properties=properties,
        worked_out=worked_out,
        with_findings=with_findings,
        with_severity={severity: with_severity[severity] for severity in WORST_FIRST},
        findings={severity: findings[severity] for severity in WORST_FIRST},
        arrangements=tuple(arrangements.most_common()),
        looked={each: when[each] for each in Looked},
        orange=orange,
        unvented=unvented,
        parts=parts,
    )
