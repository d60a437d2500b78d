"""How one conductor is sought that puts findings right: what counts as a cure, how it is said, and how much is tried.

Rules are made up for the tests: each finds something while a core, told by its terminal, is somewhere.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

import pytest

from generator.circuit.model import Circuit
from generator.findings.finding import Severity
from generator.rules import one_conductor
from generator.rules.edits import Edit
from generator.rules.example_house import HOUSE
from generator.rules.one_conductor import explained
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.states.solve import solve
from tests.circuits import Wire
from tests.unit.rules.looking import subject_of
from tests.unit.rules.two_boxes import two_boxes

MOTOR: Wire = ("valve.motor", "down.A", "BN")
AT_B: Wire = ("valve.motor", "down.B", "BN")
CALL: Wire = ("boiler.call", "down.B", "BK")
Found = tuple[str, str]
"""A subject and a message."""


def landed(circuit: Circuit, device: str) -> str:
    """Where the core from a terminal lands; empty for nowhere."""
    return next((item.b for item in circuit.conductors if item.a == device), "")


def made_up(
    name: str,
    look: Callable[[Circuit], Sequence[Found]],
    *,
    severity: Severity = Severity.ERROR,
    family: Family = Family.CALLS,
    own: bool = False,
) -> Rule:
    def see(subject: Subject) -> Iterator[Seen]:
        for about, message in look(subject.circuit):
            yield Seen(path=(), subject=about, message=message)

    return Rule(
        name=name,
        family=family,
        severity=severity,
        summary="",
        why="",
        fix="",
        source=COMMON_PRACTICE,
        right="",
        wrong="",
        own=own,
        look=see,
    )


def astray(circuit: Circuit) -> list[Found]:
    """Whether the motor's core is not at `A`, where the riser brings the call."""
    calls = {item.b for item in circuit.conductors if item.a == "down.A"} | {landed(circuit, "valve.motor")}
    return [] if calls == {"up.1", "down.A"} else [("valve", "the motor's core is not with the call")]


ASTRAY = made_up("astray", astray)


def cures(circuit: Circuit, *rules: Rule) -> list[str]:
    """What is said to do about each finding, in the order of the rules."""
    subject = subject_of(HOUSE, circuit)
    findings = tuple(finding for rule in rules for finding in rule.check(subject))
    return [finding.cure for finding in explained(subject, findings, rules)]


MOVE = "move the brown core (BN) of cable `valve` from terminal `B` of the down to `A`"
SAID = f"One change puts it right, worked out from the record: {MOVE}. Look first whether the house or the record is wrong."


def test_the_conductor_is_named() -> None:
    assert cures(two_boxes((MOTOR, AT_B)), ASTRAY) == [SAID]


@pytest.mark.parametrize(
    ("severity", "family", "own"),
    [
        (Severity.NOTE, Family.CALLS, False),
        (Severity.ERROR, Family.IDENTIFICATION, False),
        (Severity.ERROR, Family.RECORD, False),
        (Severity.ERROR, Family.DWELLINGS, False),
        (Severity.ERROR, Family.LOADS, False),
    ],
)
def test_what_no_wiring_is_the_cause_of(severity: Severity, family: Family, own: bool) -> None:
    """A note wants no cure, and colours, the record and the dwelling are not cured by moving a core."""
    assert cures(
        two_boxes((MOTOR, AT_B)), made_up("astray", astray, severity=severity, family=family, own=own)
    ) == [""]


def test_a_warning_is_explained_too() -> None:
    assert cures(two_boxes((MOTOR, AT_B)), made_up("astray", astray, severity=Severity.WARNING)) == [SAID]


def test_what_goes_with_the_same_change_is_explained_by_it() -> None:
    """Also where it is a note, or of the family of colours; what stays is not."""
    note = made_up("note", astray, severity=Severity.NOTE)
    colour = made_up("colour", astray, family=Family.IDENTIFICATION, severity=Severity.WARNING)
    stays = made_up("stays", lambda _: [("pump", "it is so")], severity=Severity.NOTE)
    assert cures(two_boxes((MOTOR, AT_B)), ASTRAY, note, colour, stays) == [SAID, SAID, SAID, ""]


def test_two_faults_are_explained_one_after_the_other() -> None:
    """The core of the boiler's call is astray too, and neither change puts both right."""
    call = made_up(
        "call",
        lambda circuit: (
            [] if landed(circuit, "boiler.call") == "down.B" else [("boiler", "its call is not at B")]
        ),
        severity=Severity.WARNING,
    )
    motor = made_up("astray", astray, severity=Severity.WARNING)
    found = cures(
        two_boxes((MOTOR, ("valve.motor", "down.C", "BN")), (CALL, ("boiler.call", "down.N", "BK"))),
        motor,
        call,
    )
    assert "cable `valve` from terminal `C` of the down to `A`" in found[0]
    assert "cable `boiler` from terminal `N` of the down to `B`" in found[1]


def test_an_incurable_one_does_not_stand_before_the_next() -> None:
    """The worst finding has no cure; the lesser one has."""
    for_good = made_up(
        "for-good", lambda _: [("pump", "it is so")], family=Family.SUPPLY, severity=Severity.WARNING
    )
    lesser = made_up("astray", astray, severity=Severity.WARNING)
    assert cures(two_boxes((MOTOR, AT_B)), for_good, lesser) == ["", SAID]


def test_an_error_that_is_left_forbids_a_cure() -> None:
    """Whoever made the change would take the house for sound."""
    left = made_up("left", lambda _: [("pump", "it is so")])
    assert cures(two_boxes((MOTOR, AT_B)), ASTRAY, left) == ["", ""]


@pytest.mark.parametrize(
    ("severity", "lead", "allowed"),
    [
        (Severity.NOTE, Severity.ERROR, True),
        (Severity.WARNING, Severity.ERROR, False),
        (Severity.WARNING, Severity.DANGER, True),
        (Severity.ERROR, Severity.DANGER, False),
    ],
)
def test_what_may_come_to_light(severity: Severity, lead: Severity, allowed: bool) -> None:
    """A note always; a warning only where a danger hid it; an error never."""
    new = made_up(
        "new",
        lambda circuit: [] if astray(circuit) else [("pump", "it came to light")],
        severity=severity,
        family=Family.IDENTIFICATION,
    )
    expected = [SAID] if allowed else [""]
    # Another warning that goes away makes two faults less for one more.
    second = made_up("second", astray, severity=Severity.WARNING)
    assert (
        cures(two_boxes((MOTOR, AT_B)), made_up("astray", astray, severity=lead), new, second)[:1] == expected
    )


def key(rule: str, message: str = "") -> one_conductor.Key:
    return rule, "pump", message, ""


@pytest.mark.parametrize(
    ("before", "after", "better"),
    [
        ([key("a")], [], True),
        ([key("a"), key("b")], [key("b")], True),
        ([key("a")], [key("c")], False),
        ([key("a"), key("b")], [key("c")], True),
        ([key("a"), key("b")], [key("b", "in other states")], False),
        ([key("a"), key("b"), key("c")], [key("c", "in other states")], True),
        ([key("a")], [key("a"), key("a")], False),
    ],
)
def test_what_is_better(
    before: list[one_conductor.Key], after: list[one_conductor.Key], better: bool
) -> None:
    """Less than before; or two faults and more less, though something holds in other states."""
    assert one_conductor._better(Counter(before), Counter(after)) is better


@pytest.mark.parametrize("severity", [Severity.WARNING, Severity.NOTE])
def test_what_reads_otherwise_afterwards_is_still_the_same(severity: Severity) -> None:
    """A lesser finding of the same rule and subject, in other words now, is neither new nor gone."""
    reads = made_up(
        "reads",
        lambda circuit: [("pump", "so" if astray(circuit) else "otherwise")],
        severity=severity,
        family=Family.IDENTIFICATION,
    )
    assert cures(two_boxes((MOTOR, AT_B)), ASTRAY, reads) == [SAID, ""]


def test_as_bad_as_the_lead_it_must_read_the_same() -> None:
    reads = made_up(
        "reads",
        lambda circuit: [("pump", "so" if astray(circuit) else "otherwise")],
        family=Family.IDENTIFICATION,
    )
    assert cures(two_boxes((MOTOR, AT_B)), ASTRAY, reads) == ["", ""]


def test_the_change_that_puts_most_right() -> None:
    """Of the changes that cure the lead the one after which least is left; a core of the riser would do for the lead alone."""
    lead = made_up(
        "lead",
        lambda circuit: (
            [("zone", "neither is at its place")]
            if landed(circuit, "down.A") == "up.1" and landed(circuit, "valve.motor") != "down.A"
            else []
        ),
        severity=Severity.WARNING,
    )
    second = made_up("second", astray, severity=Severity.WARNING)
    assert cures(two_boxes((MOTOR, AT_B)), lead, second) == [SAID, SAID]


def test_alternatives_are_told() -> None:
    """Two moves of different cores put it right: both are told, and no third is said to be there."""
    lead = made_up(
        "lead",
        lambda circuit: (
            []
            if landed(circuit, "valve.motor") == "down.A"
            or any({item.a, item.b} == {"down.B", "up.1"} for item in circuit.conductors)
            else [("zone", "the call does not get there")]
        ),
        severity=Severity.WARNING,
    )
    (said,) = cures(two_boxes((MOTOR, AT_B)), lead)
    first = "move the black core (BK) of cable `riser` from terminal `A` of the down to `B`"
    third = (
        "exchange the black core (BK) of cable `riser` and the brown core (BN) of cable `valve` in the terminals "
        "`A` and `B`"
    )
    assert f": {first}; or {MOVE}; or another like it. " in said
    assert third not in said


def test_one_core_to_many_terminals_alike() -> None:
    """Where each terminal of a device will do the core and the device are named, and that the terminal is not known.

    The core is at an empty terminal: wherever it goes, nothing worked before that no longer does.
    """
    lead = made_up(
        "lead",
        lambda circuit: (
            [] if landed(circuit, "valve.motor").startswith("down.") else [("valve", "it is not downstairs")]
        ),
    )
    (said,) = cures(two_boxes((MOTOR, ("valve.motor", "up.2", "BN"))), lead)
    assert (
        "move the brown core (BN) of cable `valve` from terminal `2` of the up to another terminal of the down; which, "
        "the record does not show."
    ) in said


def test_a_core_that_comes_back_to_its_cable_is_preferred() -> None:
    """The motor's core went upstairs: that it returns is likelier than that the riser is wrong, though that would do too."""
    lead = made_up(
        "lead",
        lambda circuit: (
            []
            if landed(circuit, "valve.motor") == "down.A" or landed(circuit, "down.A") != "up.1"
            else [("valve", "it is not at A")]
        ),
    )
    (said,) = cures(two_boxes((MOTOR, ("valve.motor", "up.1", "BN"))), lead)
    assert "cable `valve`" in said
    assert "riser" not in said


def counted(monkeypatch: pytest.MonkeyPatch, subject: Subject, count: int) -> int:
    """How many of so many changes are tried for a finding that none of them puts right."""
    tried: list[Edit] = []

    def nothing(_: Subject, edit: Edit, *_rest: object) -> None:
        tried.append(edit)

    proposed = [Edit(words="", conductors=(), refs=(), circuit=subject.circuit)] * count
    monkeypatch.setattr(one_conductor, "edits", lambda _: iter(proposed))
    monkeypatch.setattr(one_conductor, "every_edit", lambda _, near: iter(proposed[:1] if near else ()))
    monkeypatch.setattr(one_conductor, "_after", nothing)
    rule = made_up("for-good", lambda _: [("pump", "it is so")])
    explained(subject, tuple(rule.check(subject)), [rule])
    return len(tried)


def test_how_much_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    """250 changes, and 80 where what came before matters; where fewer are likely every other one besides."""
    subject = subject_of(HOUSE, two_boxes())
    assert counted(monkeypatch, subject, 300) == 250
    assert counted(monkeypatch, subject, 30) == 30 + 1
    memory = replace(subject.solution, memories=(None,))  # type: ignore[arg-type]  # only whether there are any counts
    assert counted(monkeypatch, replace(subject, solution=memory), 300) == 80


def test_a_change_that_leaves_a_part_idle_is_no_cure() -> None:
    """The boiler's call goes to an empty terminal: nothing finds that, but the boiler never fires again."""
    circuit = two_boxes()
    before, after = solve(circuit), solve(two_boxes((CALL, ("boiler.call", "down.C", "BK"))))
    assert one_conductor._loses(before, after)
    assert not one_conductor._loses(after, before)
    assert not one_conductor._loses(before, before)


def test_a_house_in_which_nothing_is_ever_fed() -> None:
    line: Wire = ("spur.L", "down.L", "BN")
    assert one_conductor._lifeless(solve(two_boxes((line, None))))
    assert not one_conductor._lifeless(solve(two_boxes()))


@pytest.mark.parametrize("otherwise", ["so", "otherwise"])
def test_an_error_of_another_cause_does_not_stand_against_a_core_that_comes_back(otherwise: str) -> None:
    """The motor's core went upstairs; the other error was there before and stays, also where it reads otherwise then."""
    other = made_up("other", lambda circuit: [("pump", "so" if astray(circuit) else otherwise)])
    found = cures(two_boxes((MOTOR, ("valve.motor", "up.1", "BN"))), ASTRAY, other)
    assert found[0].endswith(
        ": move the brown core (BN) of cable `valve` from terminal `1` of the up to terminal `A` of the down. "
        "Look first whether the house or the record is wrong."
    )
    assert found[1] == ""


def test_a_new_error_stands_against_a_core_that_comes_back() -> None:
    new = made_up("new", lambda circuit: [] if astray(circuit) else [("pump", "it came to light")])
    assert cures(two_boxes((MOTOR, ("valve.motor", "up.1", "BN"))), ASTRAY, new) == [""]


def test_only_the_lead_itself_must_be_gone() -> None:
    """The same rule finds something in another place as well, which stays; a lesser one, since an error would forbid it."""
    rule = made_up(
        "astray", lambda circuit: [*astray(circuit), ("pump", "it is so")], severity=Severity.WARNING
    )
    assert cures(two_boxes((MOTOR, AT_B)), rule) == [SAID, ""]
