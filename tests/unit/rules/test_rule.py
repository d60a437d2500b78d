"""What rules see of a property: what is worked out once, when something is so, and what a finding takes from its rule."""

from collections.abc import Iterator
from dataclasses import replace

from generator.findings.finding import Severity
from generator.record.places import Path, Places
from generator.rules.example_house import HOUSE
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject, When, sound
from generator.states.solve import solve
from tests.circuits import house
from tests.unit.rules.looking import subject_of

SHORT = house(
    devices={"spur": "fused-spur", "stat": "room-thermostat", "pump": "pump"},
    conductors=[
        ("spur.L", "stat.common", "BN"),
        ("spur.N", "stat.call", "BU"),
        ("spur.L", "pump.L", "BK"),
        ("spur.N", "pump.N", "BU2"),
    ],
)
"""Line meets neutral while the thermostat calls."""


def test_what_is_made_of_a_subject_is_made_once_and_not_for_another() -> None:
    """One that differs in anything has nothing of it; nor is what is kept told or given."""
    made: list[Subject] = []

    def make(subject: Subject) -> int:
        made.append(subject)
        return len(made)

    subject = subject_of(HOUSE)
    other = replace(subject, telling=False)
    assert [subject.once(make), subject.once(make), other.once(make), subject.once(make)] == [1, 1, 2, 1]
    assert made == [subject, other]
    assert subject != replace(subject)
    assert "_kept" not in repr(subject)


def test_a_scenario_is_solved_once_and_by_what_it_holds() -> None:
    subject = subject_of(HOUSE)
    latched = subject.scenario("water-valve.lever", True)
    assert subject.scenario("water-valve.lever", True) is latched
    assert subject.scenario("water-valve.lever", True, unsure=True) is not latched
    assert subject.scenario("water-valve.lever", False) is not latched
    assert latched.settled.on["water-valve.open"] == latched.space.everywhere
    assert subject.scenario("water-valve.lever", False).settled.on == subject.solution.settled.on


def test_states_with_the_fuse_blown_are_left_out() -> None:
    solution = solve(SHORT)
    calling = solution.space.where("stat.calling")
    assert sound(solution.settled, solution) == solution.space.everywhere & ~calling
    subject = subject_of(HOUSE, SHORT)
    assert subject.ever(lambda answer: answer.line["pump.L"]) == solution.space.everywhere & ~calling
    assert subject.when(lambda answer: answer.at & calling) == When(0)


def test_when_something_is_so() -> None:
    answer = solve(SHORT).settled
    after = (None, 0b100), (None, 0b010)
    assert not When(0)
    assert When(1)
    assert When(0, after)  # type: ignore[arg-type]  # only the vectors count here
    assert When(1, after).total == 0b111  # type: ignore[arg-type]
    assert answer.at


def test_what_a_finding_takes_from_its_rule() -> None:
    def look(_: Subject) -> Iterator[Seen]:
        yield Seen(path=("devices",), message="as the rule says")
        yield Seen(
            path=("devices",),
            message="otherwise",
            key=True,
            severity=Severity.NOTE,
            fix="Leave it.",
            related=((("zones",), "there"),),
        )

    rule = Rule(
        name="made-up",
        family=Family.LOADS,
        severity=Severity.ERROR,
        summary="",
        why="",
        fix="Do it.",
        source=COMMON_PRACTICE,
        right="",
        wrong="",
        look=look,
    )
    spots: dict[Path, tuple[str, int, int]] = {
        (): ("r.yaml", 1, 1),
        ("devices",): ("r.yaml", 2, 5),
        ("zones",): ("r.yaml", 9, 5),
    }
    subject = replace(subject_of(HOUSE), places=Places({("devices",): ("r.yaml", 2, 1)}, spots))
    first, second = rule.check(subject)
    assert (first.rule, first.severity, first.fix, first.message) == (
        "made-up",
        Severity.ERROR,
        "Do it.",
        "as the rule says",
    )
    assert (second.severity, second.fix) == (Severity.NOTE, "Leave it.")
    assert (first.span.column, second.span.column) == (5, 1)
    assert [(place.line, words) for place, words in second.related] == [(9, "there")]
    assert not rule.own
