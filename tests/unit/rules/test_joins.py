"""Which conductor of a path is to blame, and what each terminal leads to, on circuits made for it."""

from collections.abc import Sequence

import pytest

from generator.circuit.model import Circuit
from generator.rules.example_house import HOUSE
from generator.rules.joins import conceivable, joins, lines_joined, sort_of, to_blame
from generator.rules.rule import Subject
from generator.states.solve import solve
from generator.states.trace import Step
from tests.circuits import Kinds, Wire, house
from tests.unit.rules.looking import subject_of

DEVICES: Kinds = {
    "spur": "fused-spur",
    "second-spur": "fused-spur",
    "box": ("wiring-centre", {"terminals": ["A", "B", "E", "L", "N"]}),
    "far-box": ("wiring-centre", {"terminals": ["1", "2"]}),
    "stat": "room-thermostat",
    "clock": ("time-switch", {"channels": 1}),
    "valve": "two-port-valve",
    "boiler": "boiler",
    "pump": "pump",
}
NEUTRALS: tuple[Wire, ...] = (
    ("spur.N", "box.N", "BU"),
    ("boiler.N", "box.N", "BU"),
    ("pump.N", "box.N", "BU"),
)
LINES: tuple[Wire, ...] = (
    ("spur.L", "box.L", "BN"),
    ("boiler.L", "box.L", "BN"),
    ("clock.L", "box.L", "BN"),
)


def small(*wires: Wire) -> Circuit:
    return house(devices=DEVICES, conductors=wires)


def steps_over(circuit: Circuit, *wires: Wire) -> tuple[Step, ...]:
    """A path over some conductors, by their ends, and over a contact, which nobody can blame."""
    steps = [Step(start="stat.common", to="stat.call", conductor=None, contact=circuit.contacts[0])]
    for wire in wires:
        (item,) = [each for each in circuit.conductors if (each.a, each.b, each.core) == wire[:3]]
        steps.append(Step(start=item.a, to=item.b, conductor=item, contact=None))
    return tuple(steps)


def blamed(wires: Sequence[Wire], path: Sequence[Wire]) -> str:
    circuit = small(*wires)
    found = to_blame(circuit, steps_over(circuit, *path))
    return "" if found is None else f"{found.cable} {found.core}"


def test_a_line_among_the_neutrals() -> None:
    """Three neutrals beside it, at the terminal to which it goes."""
    wrong: Wire = ("clock.on-1", "box.N", "BK")
    assert blamed([*NEUTRALS, wrong], [wrong, NEUTRALS[0]]) == "clock BK"
    assert blamed([*NEUTRALS, wrong], [NEUTRALS[0], wrong]) == "clock BK"


def test_a_neutral_among_the_lines() -> None:
    wrong: Wire = ("pump.N", "box.L", "BU")
    assert blamed([*LINES, wrong], [LINES[0], wrong]) == "pump BU"
    assert blamed([*LINES, wrong], [wrong, LINES[0]]) == "pump BU"


def test_where_all_fit_alike_the_last_of_the_path() -> None:
    path: list[Wire] = [LINES[1], LINES[2], LINES[0]]
    assert blamed(LINES, path) == "spur BN"
    assert blamed(LINES, path[::-1]) == "boiler BN"
    assert blamed(LINES, []) == ""


def test_one_against_one_is_as_good_as_the_other() -> None:
    """A line and a neutral alone in a terminal: each is out of place by one, and the first met is named."""
    line: Wire = ("clock.on-1", "box.A", "BK")
    neutral: Wire = ("pump.N", "box.A", "BU")
    assert blamed([line, neutral], [line, neutral]) == "clock BK"
    assert blamed([line, neutral], [neutral, line]) == "pump BU"


def test_those_alike_speak_for_a_conductor() -> None:
    """Two of its sort and two of the other: not out of place; of one and two it is, by one."""
    lines: list[Wire] = [
        ("clock.on-1", "box.A", "BK"),
        ("stat.call", "box.A", "BK"),
        ("valve.motor", "box.A", "BN"),
    ]
    neutrals: list[Wire] = [("pump.N", "box.A", "BU"), ("boiler.N", "box.A", "BU")]
    assert blamed([*lines, *neutrals], [lines[0], neutrals[0]]) == "pump BU"
    assert blamed([*lines, *neutrals], [neutrals[0], lines[0]]) == "pump BU"
    assert blamed([*lines[:2], *neutrals], [lines[0], neutrals[0]]) == "clock BK"
    # With three of its own sort a line is in its place, and the last of the path is named; of two it is not.
    assert blamed([*lines, *neutrals], lines[:2]) == "stat BK"
    assert blamed([*lines[:2], *neutrals], lines[:2]) == "clock BK"


def test_the_worst_of_several() -> None:
    """An earth among two lines, and a line among three neutrals."""
    earth: Wire = ("boiler.E", "box.L", "GNYE")
    line: Wire = ("clock.on-1", "box.N", "BK")
    wires = [*LINES[:2], *NEUTRALS, earth, line]
    assert blamed(wires, [earth, line]) == "clock BK"
    assert blamed(wires, [line, earth]) == "clock BK"


def test_a_riser_stands_for_what_lands_at_its_other_end() -> None:
    """Most there are neutrals, so it belongs to the neutrals of this box, and not to its lines."""
    riser: Wire = ("box.L", "far-box.1", "BK", "riser")
    beyond: list[Wire] = [
        ("pump.N", "far-box.1", "BU"),
        ("boiler.N", "far-box.1", "BU"),
        ("valve.motor", "far-box.1", "BN"),
    ]
    assert blamed([*LINES[:1], LINES[2], riser, *beyond], [LINES[0], riser]) == "riser BK"
    to_nothing: Wire = ("box.L", "far-box.2", "BK", "riser")
    assert blamed([*LINES, to_nothing], [to_nothing, LINES[0]]) == "spur BN"


def test_what_a_terminal_leads_to() -> None:
    circuit = small()
    sorts = {
        ref: sort_of(circuit, ref)
        for ref in ("spur.L", "clock.on-1", "stat.common", "valve.switch-a", "boiler.call")
    }
    assert set(sorts.values()) == {"line"}
    assert sort_of(circuit, "pump.N") == "neutral"
    assert sort_of(circuit, "pump.E") == "earth"
    assert sort_of(circuit, "box.L") == ""
    assert sort_of(circuit, "spur.mains-line") == ""


def subject(*wires: Wire) -> Subject:
    return subject_of(HOUSE, small(*wires))


def test_what_contacts_could_join() -> None:
    """By the thermostat, made; not over a load, and not where a conductor is missing."""
    wires: list[Wire] = [
        ("stat.common", "box.L", "BN"),
        ("stat.call", "box.A", "BK"),
        ("pump.L", "box.A", "BN"),
    ]
    circuit = small(LINES[0], *wires)
    assert "pump.L" in conceivable(circuit, "spur.L")
    assert "pump.N" not in conceivable(circuit, "spur.L")
    assert "pump.L" not in conceivable(small(LINES[0], *wires[1:]), "spur.L")


def test_a_join_of_two_supplies_is_told_for_their_pair() -> None:
    made = subject(LINES[0], ("second-spur.N", "box.L", "BU"))
    found = list(joins(made, lambda first, second: (first.line, second.neutral)))
    (join,) = found
    assert join.holds == "in every state"
    assert join.blamed is not None
    assert join.example.endswith("an ohmmeter shows a join between `spur.L` and `second-spur.N`")


def test_a_join_with_a_contact_is_told_with_its_states() -> None:
    made = subject(LINES[0], NEUTRALS[0], ("stat.common", "box.L", "BN"), ("stat.call", "box.N", "BK"))
    (join,) = joins(made, lambda first, second: (first.line, second.neutral))
    assert join.holds == "whenever the stat is calling for heat"
    assert join.example.startswith("with only the stat calling for heat: ")


def test_lines_joined_by_pairs() -> None:
    """The first and the second spur by a thermostat; each with itself does not count."""
    wires: list[Wire] = [("spur.L", "stat.common", "BN"), ("second-spur.L", "stat.call", "BN")]
    circuit = small(*wires)
    solution = solve(circuit)
    assert lines_joined(solution.settled, circuit) == solution.space.where("stat.calling")
    alone = small(wires[0])
    assert lines_joined(solve(alone).settled, alone) == 0


@pytest.mark.parametrize("lever", ["makes", "unknown"])
def test_a_join_by_a_lever_alone(lever: str) -> None:
    """The end switch joins line and neutral once the lever is latched, with nothing to move the valve otherwise."""
    circuit = house(
        devices={"spur": "fused-spur", "valve": ("two-port-valve", {"lever": lever})},
        conductors=[("spur.L", "valve.switch-a", "GY"), ("spur.N", "valve.switch-b", "OG")],
    )
    found = list(joins(subject_of(HOUSE, circuit), lambda first, second: (first.line, second.neutral)))
    assert [each.holds for each in found] == [
        "with the manual lever of the valve latched open, in every state"
    ]
    assert found[0].example.startswith(
        "with the manual lever of the valve latched open, with every control off: "
    )
