"""Findings as a table for a spreadsheet: comma-separated values that no spreadsheet takes for a formula.

Must not know how findings are made or where the table goes.
"""

import csv
import io
from collections.abc import Iterable

from generator.findings.finding import Finding

COLUMNS = (
    "rule",
    "property",
    "severity",
    "file",
    "line",
    "column",
    "subject",
    "message",
    "holds",
    "example",
    "cure",
    "fix",
)
_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a cell begins with that a spreadsheet reads as a formula, or skips before one."""
_BEGINS = frozenset((" ", *_FORMULA))


def findings_csv(findings: Iterable[tuple[str, Finding]]) -> str:
    """The table with its heading, lines ended as RFC 4180 has it.

    Args:
        findings: each with the reference of its property, empty for a fault of a file that is none's.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for reference, finding in findings:
        writer.writerow(
            [
                safe_cell(finding.rule),
                safe_cell(reference),
                str(finding.severity),
                safe_cell(finding.span.file),
                finding.span.line,
                finding.span.column,
                safe_cell(finding.subject),
                safe_cell(finding.message),
                safe_cell(finding.holds),
                safe_cell(finding.example),
                safe_cell(finding.cure),
                safe_cell(finding.fix),
            ]
        )
    return out.getvalue()


def safe_cell(text: str) -> str:
    """The text with an apostrophe before what a spreadsheet would take for a formula."""
    acts = text[:1] in _BEGINS and text.lstrip(" ").startswith(_FORMULA)
    return f"'{text}" if acts else text
