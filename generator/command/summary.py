"""The outcome of a check in one line, and the exit code that goes with it.

It must not know how single findings are printed.
"""

from collections import Counter

from generator.command.exits import CANNOT_WORK, CLEAN, FOUND, OUR_BUG
from generator.command.files import Sort
from generator.command.stock import StockCheck
from generator.findings.finding import Severity
from generator.record.wording import listed

_PLURALS = {
    Severity.DANGER: "dangers",
    Severity.ERROR: "errors",
    Severity.WARNING: "warnings",
    Severity.NOTE: "notes",
}
WORST_FIRST = (Severity.DANGER, Severity.ERROR, Severity.WARNING, Severity.NOTE)


def counts(check: StockCheck) -> dict[Severity, int]:
    """How many findings there are of each severity, worst first, those that were not shown included."""
    found = Counter(finding.severity for finding in check.findings)
    return {severity: found[severity] for severity in WORST_FIRST}


def summary(check: StockCheck, *, least: Severity = Severity.NOTE) -> str:
    """``18 properties, 3 with findings: 1 danger, 2 errors``.

    Args:
        check: What was found.
        least: Findings below it were not shown, and it is said how many those are.
    """
    records = [each for each in check.checked if each.sort is Sort.RECORD]
    types = [each for each in check.checked if each.sort is Sort.HOUSE_TYPE]
    kinds = [each for each in check.checked if each.sort is Sort.KIND]
    of = [number_of(len(records), "property", "properties")] if records or not (types or kinds) else []
    of += [number_of(len(types), "house type", "house types")] if types else []
    of += [number_of(len(kinds), "kind of your own", "kinds of your own")] if kinds else []
    parts = [listed(of, "and")]
    concerned = sum(1 for each in check.checked if each.findings)
    if concerned:
        by_severity = counts(check)
        found = [
            number_of(number, str(severity), _PLURALS[severity])
            for severity, number in by_severity.items()
            if number
        ]
        parts.append(f"{concerned} with findings: {', '.join(found)}")
        hidden = sum(number for severity, number in by_severity.items() if severity < least)
        if hidden:
            parts[-1] += f" ({hidden} not shown)"
    else:
        parts.append("nothing found")
    if check.not_checked:
        parts.append(f"{len(check.not_checked)} NOT CHECKED to the end")
    return ", ".join(parts)


def exit_code(check: StockCheck, *, strict: bool) -> int:
    """What the command ends with: the worst of all that happened."""
    if check.crashes:
        return OUR_BUG
    if check.not_checked or any(each.unread for each in check.checked):
        return CANNOT_WORK
    failing = Severity.WARNING if strict else Severity.ERROR
    return FOUND if any(finding.severity >= failing for finding in check.findings) else CLEAN


def number_of(number: int, one: str, many: str) -> str:
    """``1 property``, ``3 properties``."""
    return f"{number} {one if number == 1 else many}"
