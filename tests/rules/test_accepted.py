"""Accepted findings become notes; danger never is; an acceptance that matches nothing is found."""

from datetime import date
from pathlib import Path

from generator.findings.finding import Finding, Severity, Span
from generator.record.model import Accepted
from generator.record.places import Places
from generator.rules.accepted import apply_accepted
from generator.rules.example_house import HOUSE, change
from tests.rules.examples import examined

PLACES = Places({}, {(): ("r.yaml", 1, 1), ("accepted", 0): ("r.yaml", 90, 5)})
NAMES = ("some-rule", "another-rule")
SWITCHED = change(
    HOUSE, ("spur: { kind: fused-spur }", "spur: { kind: fused-spur, settings: { double_pole: false } }")
)


def finding(severity: Severity = Severity.WARNING, subject: str = "spur") -> Finding:
    return Finding(
        rule="some-rule",
        severity=severity,
        message="it is so",
        span=Span("r.yaml", 10, 1),
        subject=subject,
    )


def accepted(rule: str = "some-rule", at: str | None = None) -> Accepted:
    return Accepted(rule=rule, at=at, reason="Seen and no harm.", on=date(2026, 3, 1), by="heating engineer")


def outcome(findings: list[Finding], acceptances: list[Accepted]) -> list[tuple[str, Severity]]:
    return [(each.rule, each.severity) for each in apply_accepted(findings, acceptances, PLACES, NAMES)]


def test_accepted_becomes_a_note_with_the_reason() -> None:
    (note,) = apply_accepted([finding()], [accepted()], PLACES, NAMES)
    assert note.severity is Severity.NOTE
    assert note.message == "it is so (accepted: Seen and no harm)"
    assert note.span == Span("r.yaml", 10, 1)


def test_at_names_the_subject() -> None:
    two = [finding(subject="spur"), finding(subject="pump")]
    assert outcome(two, [accepted(at="pump")]) == [
        ("some-rule", Severity.WARNING),
        ("some-rule", Severity.NOTE),
    ]


def test_a_device_stands_for_its_terminals() -> None:
    several = [
        finding(subject=each) for each in ("pump.L", "pump", "pump-2.L", "pump BN", "link pump.L pump.N")
    ]
    told = apply_accepted(several, [accepted(at="pump")], PLACES, NAMES)
    assert {each.subject for each in told if each.severity is Severity.NOTE} == {"pump.L", "pump"}


def test_danger_stands_and_its_acceptance_is_an_error() -> None:
    assert outcome([finding(Severity.DANGER)], [accepted()]) == [
        ("some-rule", Severity.DANGER),
        ("danger-accepted", Severity.ERROR),
    ]


def test_one_acceptance_of_a_danger_and_of_another() -> None:
    found = outcome([finding(Severity.DANGER), finding(Severity.ERROR, "pump")], [accepted()])
    assert set(found) == {
        ("danger-accepted", Severity.ERROR),
        ("some-rule", Severity.DANGER),
        ("some-rule", Severity.NOTE),
    }


def test_acceptance_that_matches_nothing() -> None:
    assert outcome([], [accepted()]) == [("acceptance-matches-nothing", Severity.WARNING)]
    assert outcome([finding()], [accepted(at="boiler")]) == [
        ("some-rule", Severity.WARNING),
        ("acceptance-matches-nothing", Severity.WARNING),
    ]


def test_stale_acceptance_stands_at_its_line() -> None:
    (stale,) = apply_accepted([], [accepted()], PLACES, NAMES)
    assert stale.span == Span("r.yaml", 90, 5)


def test_in_a_record(tmp_path: Path) -> None:
    text = SWITCHED + (
        "\naccepted:\n  - rule: isolator-not-double-pole\n    at: spur\n"
        "    reason: The landlord replaces the spur in May\n    on: 2026-03-14\n    by: record keeper\n"
    )
    (note,) = examined(text, tmp_path).findings
    assert note.severity is Severity.NOTE
    assert note.rule == "isolator-not-double-pole"
    assert "The landlord replaces the spur in May" in note.message


def test_a_name_that_no_rule_has() -> None:
    (stale,) = apply_accepted([finding()], [accepted("same-rule")], PLACES, NAMES)[1:]
    assert stale.rule == "acceptance-matches-nothing"
    assert stale.message == "there is no rule `same-rule`; did you mean `some-rule`?"
    (stale,) = apply_accepted([], [accepted("quite-otherwise")], PLACES, NAMES)
    assert stale.message == "there is no rule `quite-otherwise`"


def test_a_place_at_which_nothing_is_found() -> None:
    two = [finding(subject="spur"), finding(subject="pump"), finding(subject="")]
    stale = apply_accepted(two, [accepted(at="boiler")], PLACES, NAMES)[-1]
    assert stale.message == (
        "nothing found by `some-rule` at `boiler` is there to accept; it finds something at `spur` and `pump`"
    )
