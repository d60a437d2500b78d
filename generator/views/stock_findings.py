"""All findings of a stock, counted by severity, by rule and by property."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from generator.findings.finding import Finding, Severity
from generator.views.property import PropertyView

WORST_FIRST = tuple(sorted(Severity, key=lambda severity: -severity.rank))


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """A property by its reference and its folder in an address."""

    reference: str
    folder: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """One finding and the property in which it is."""

    where: Where
    finding: Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class OfRule:
    """One rule: its worst severity here, how often it finds something, and in which properties."""

    rule: str
    severity: Severity
    count: int
    where: tuple[Where, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OfProperty:
    """One property: its address and how many findings of each severity it has, worst first."""

    where: Where
    address: str
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StockFindings:
    """The findings of the whole stock. ``rules`` are worst and commonest first, ``properties`` those with any, in order.

    ``by_severity`` holds every severity, worst first, with its findings by property and line.
    """

    properties_checked: int
    by_severity: tuple[tuple[Severity, tuple[Found, ...]], ...]
    rules: tuple[OfRule, ...]
    properties: tuple[OfProperty, ...]

    @property
    def found(self) -> tuple[Found, ...]:
        """Every finding, worst first."""
        return tuple(one for _, found in self.by_severity for one in found)


def stock_findings(views: Sequence[PropertyView]) -> StockFindings:
    """Count the findings of a stock; of a record that can no longer be solved, those of its newest state."""
    found = [
        Found(where=_where(view), finding=finding)
        for view in views
        for finding in view.newer or view.findings
    ]
    return StockFindings(
        properties_checked=len(views),
        by_severity=tuple(
            (severity, tuple(one for one in found if one.finding.severity is severity))
            for severity in WORST_FIRST
        ),
        rules=tuple(_rules(found)),
        properties=tuple(_properties(views)),
    )


def _where(view: PropertyView) -> Where:
    return Where(reference=view.reference, folder=view.folder)


def _rules(found: Sequence[Found]) -> list[OfRule]:
    by_rule: dict[str, list[Found]] = {}
    for one in found:
        by_rule.setdefault(one.finding.rule, []).append(one)
    rules = [
        OfRule(
            rule=rule,
            severity=max(one.finding.severity for one in ones),
            count=len(ones),
            where=tuple(dict.fromkeys(one.where for one in ones)),
        )
        for rule, ones in by_rule.items()
    ]
    return sorted(rules, key=lambda each: (-each.severity.rank, -each.count, each.rule))


def _properties(views: Sequence[PropertyView]) -> list[OfProperty]:
    rows = []
    for view in views:
        counts = Counter(finding.severity for finding in view.newer or view.findings)
        if counts:
            rows.append(
                OfProperty(
                    where=_where(view),
                    address=view.address,
                    counts=tuple(counts[severity] for severity in WORST_FIRST),
                )
            )
    return rows
