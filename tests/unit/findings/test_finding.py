"""Severities order themselves, spans print, findings sort the same way whatever order they come in."""

import random

import pytest

from generator.findings.finding import Finding, Severity, Span, in_order


def _finding(line: int, *, severity: Severity = Severity.ERROR, rule: str = "some-rule") -> Finding:
    return Finding(rule=rule, severity=severity, message="wrong", span=Span("a.yaml", line, 1))


def test_severities_are_ordered_by_how_bad_they_are() -> None:
    assert sorted(Severity) == [Severity.NOTE, Severity.WARNING, Severity.ERROR, Severity.DANGER]
    assert max(Severity) is Severity.DANGER
    assert Severity.NOTE < Severity.WARNING <= Severity.ERROR < Severity.DANGER
    assert Severity.DANGER > Severity.ERROR >= Severity.ERROR


def test_a_severity_is_its_word() -> None:
    assert str(Severity.DANGER) == "danger"
    assert Severity("note") is Severity.NOTE
    assert {Severity.NOTE: 1}["note"] == 1  # type: ignore[index]  # a StrEnum hashes as its text


def test_a_span_prints_as_file_line_column() -> None:
    assert str(Span("properties/EB-0012.yaml", 3, 14)) == "properties/EB-0012.yaml:3:14"


def test_findings_sort_by_place_then_worst_first() -> None:
    expected = [
        _finding(1, severity=Severity.DANGER),
        _finding(1, severity=Severity.NOTE, rule="a-rule"),
        _finding(1, severity=Severity.NOTE, rule="b-rule"),
        _finding(2, severity=Severity.DANGER),
        _finding(10, severity=Severity.DANGER),
    ]
    for seed in range(10):
        shuffled = expected.copy()
        random.Random(seed).shuffle(shuffled)  # noqa: S311  # not for secrets
        assert list(in_order(shuffled)) == expected


def test_exact_repeats_are_dropped() -> None:
    assert in_order([_finding(1), _finding(1)]) == (_finding(1),)


def test_a_finding_cannot_be_changed() -> None:
    with pytest.raises(AttributeError):
        _finding(1).rule = "other"  # type: ignore[misc]  # that it is refused is the test
