"""The findings of a stock, counted by severity, by rule and by property; made from the stock's rows in one pass.

No larger for a larger stock: it names the worst properties only, and the findings themselves stand in tables.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from heapq import nsmallest

from generator.findings.finding import Severity
from generator.views.stock_lines import WORST_FIRST
from generator.views.stock_model import StockRow

WORST_PROPERTIES = 50
"""How many properties are named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OfRule:
    """One rule: its worst severity here, how often it finds something, and in how many properties."""

    rule: str
    severity: Severity
    count: int
    properties: int


@dataclass(frozen=True, slots=True, kw_only=True)
class OfProperty:
    """One property: its address and how many findings of each severity it has, worst first."""

    reference: str
    folder: str
    address: str
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OfSeverity:
    """One severity: how many findings have it, and how many properties have such a finding."""

    severity: Severity
    count: int
    properties: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StockFindings:
    """The findings of the whole stock, counted.

    Attributes:
        properties_checked: How many properties there are.
        properties: How many of them have any finding.
        by_severity: Every severity, worst first.
        rules: The rules that find anything, worst first, then commonest, then by name.
        worst: The properties with most that is wrong, the worst severity deciding first; as many as there is room for.
    """

    properties_checked: int
    properties: int
    by_severity: tuple[OfSeverity, ...]
    rules: tuple[OfRule, ...]
    worst: tuple[OfProperty, ...]

    @property
    def count(self) -> int:
        """How many findings there are."""
        return sum(each.count for each in self.by_severity)


def stock_findings(rows: Iterable[StockRow]) -> StockFindings:
    """Count the findings of a stock; of a record that can no longer be solved, those of its newest state."""
    checked = 0
    having = 0
    severities: Counter[Severity] = Counter()
    with_severity: Counter[Severity] = Counter()
    rules: dict[str, list[int]] = {}
    worst: list[tuple[tuple[int, ...], int, OfProperty]] = []
    for row in rows:
        checked += 1
        if not row.findings:
            continue
        having += 1
        counted = Counter(finding.severity for finding in row.findings)
        severities.update(counted)
        with_severity.update(counted.keys())
        seen = set()
        for finding in row.findings:
            tally = rules.setdefault(finding.rule, [0, 0, 0])
            tally[0] = max(tally[0], finding.severity.rank)
            tally[1] += 1
            if finding.rule not in seen:
                seen.add(finding.rule)
                tally[2] += 1
        counts = tuple(counted[severity] for severity in WORST_FIRST)
        one = OfProperty(reference=row.reference, folder=row.folder, address=row.address, counts=counts)
        worst.append((tuple(-count for count in counts), checked, one))
        if len(worst) > 4 * WORST_PROPERTIES:
            worst = nsmallest(WORST_PROPERTIES, worst, key=lambda each: each[:2])
    by_rank = {severity.rank: severity for severity in Severity}
    return StockFindings(
        properties_checked=checked,
        properties=having,
        by_severity=tuple(
            OfSeverity(severity=each, count=severities[each], properties=with_severity[each])
            for each in WORST_FIRST
        ),
        rules=tuple(
            sorted(
                (
                    OfRule(rule=rule, severity=by_rank[rank], count=count, properties=properties)
                    for rule, (rank, count, properties) in rules.items()
                ),
                key=lambda each: (-each.severity.rank, -each.count, each.rule),
            )
        ),
        worst=tuple(one for _, _, one in nsmallest(WORST_PROPERTIES, worst, key=lambda each: each[:2])),
    )
