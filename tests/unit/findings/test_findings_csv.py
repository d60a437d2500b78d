"""Findings as a table: every one in a row of its own, and nothing in it that a spreadsheet would work out."""

import csv
import io

import pytest

from generator.findings.finding import Finding, Severity, Span
from generator.findings.findings_csv import COLUMNS, findings_csv, safe_cell

FINDING = Finding(
    rule="some-rule",
    severity=Severity.ERROR,
    message='it is "so", or\nnot',
    fix="Do this; then that.",
    span=Span("properties/EB-0012.yaml", 30, 7),
    holds="whenever heating calls",
    subject="pump",
    cure="Move it.",
    example="with every control off: nothing",
)


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_each_finding_is_a_row() -> None:
    (row,) = rows(findings_csv([("EB-0012", FINDING)]))
    assert row == {
        "rule": "some-rule",
        "property": "EB-0012",
        "severity": "error",
        "file": "properties/EB-0012.yaml",
        "line": "30",
        "column": "7",
        "subject": "pump",
        "message": 'it is "so", or\nnot',
        "holds": "whenever heating calls",
        "example": "with every control off: nothing",
        "cure": "Move it.",
        "fix": "Do this; then that.",
    }


def test_none_leaves_the_heading() -> None:
    assert findings_csv([]) == ",".join(COLUMNS) + "\r\n"


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", " ="])
def test_no_cell_is_a_formula(start: str) -> None:
    hostile = f"{start}1+cmd|' /C calc'!A0"
    finding = Finding(
        rule="some-rule",
        severity=Severity.NOTE,
        message=hostile,
        span=Span(hostile, 1, 1),
        holds=hostile,
        subject=hostile,
        fix=hostile,
        cure=hostile,
        example=hostile,
    )
    text = findings_csv([(hostile, finding)])
    (row,) = csv.reader(io.StringIO(text.split("\r\n", 1)[1], newline=""))
    assert all(not cell.lstrip(" ").startswith(("=", "+", "-", "@", "\t", "\r")) for cell in row)
    assert row.count(f"'{hostile}") == 8


def test_plain_text_is_left_alone() -> None:
    assert safe_cell("2 conductors = too many") == "2 conductors = too many"
