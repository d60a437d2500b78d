"""A finding: something wrong in a record, as a value with its place, its severity and its rule.

Must not know how findings are printed, which rules exist, or what a record looks like.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How bad a finding is. ``note < warning < error < danger``."""

    DANGER = "danger"
    """Somebody can be hurt: no override steps are given for the property."""

    ERROR = "error"
    """The record cannot be right, or the wiring cannot work as it is meant to."""

    WARNING = "warning"
    """Probably wrong, or against good practice."""

    NOTE = "note"
    """Worth knowing; nothing need be done."""

    @property
    def rank(self) -> int:
        """0 for a note up to 3 for danger."""
        return _RANKS[self.value]

    def __lt__(self, other: str) -> bool:
        if isinstance(other, Severity):
            return self.rank < other.rank
        return super().__lt__(other)

    def __le__(self, other: str) -> bool:
        if isinstance(other, Severity):
            return self.rank <= other.rank
        return super().__le__(other)

    def __gt__(self, other: str) -> bool:
        if isinstance(other, Severity):
            return self.rank > other.rank
        return super().__gt__(other)

    def __ge__(self, other: str) -> bool:
        if isinstance(other, Severity):
            return self.rank >= other.rank
        return super().__ge__(other)


_RANKS = {"note": 0, "warning": 1, "error": 2, "danger": 3}


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """Where something is written.

    Attributes:
        file: The file, as its path is shown to the user.
        line: 1-based.
        column: 1-based, counted in Unicode code points.
    """

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One fault found in one place.

    Attributes:
        rule: Permanent name of the rule, a slug such as ``crossed-zones``.
        severity: How bad it is.
        message: What is wrong, one sentence without a capital at its start and a full stop at its end.
        fix: What to do about it, in whole sentences; empty when the message says it all.
        span: Where it is written.
        holds: In which control states it is so, in words; empty when it does not depend on the state.
        related: Other places that matter, each with a few words on why.
        subject: The device or conductor meant, by its name in the record; empty when it is none.
        cure: The one change of one conductor that would put it right, in whole sentences; empty where none was found.
        example: One state in which it is so, the path there and the reading that would show it; empty where it does
            not depend on the state.
        properties: References of the properties in which it is, of a finding in a file that several share; empty in a
            property's own file.
    """

    rule: str
    severity: Severity
    message: str
    fix: str = ""
    span: Span
    holds: str = ""
    related: tuple[tuple[Span, str], ...] = ()
    subject: str = ""
    cure: str = ""
    example: str = ""
    properties: tuple[str, ...] = ()

    @property
    def sort_key(self) -> tuple[str, int, int, int, str, str, str, str, str]:
        """Orders findings by place, then worst first, then by rule and wording."""
        span = self.span
        return (
            span.file,
            span.line,
            span.column,
            -self.severity.rank,
            self.rule,
            self.message,
            self.subject,
            self.holds,
            self.fix,
        )


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Sort by place and drop exact repeats.

    Args:
        findings: In any order.

    Returns:
        The same findings by file, line, column, worst first.
    """
    return tuple(sorted(dict.fromkeys(findings), key=lambda finding: finding.sort_key))
