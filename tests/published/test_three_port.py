"""Three-port valves against the published tables, and three case histories replayed as faults.

The sources of the tables of positions and of the case histories are web pages of the trade alone: common
practice, no source. Approved Document G is named where it is meant. Nothing here is written in the catalogue as
a table: positions follow from two switches, a diode, a spring and a motor.

Two conflicts between published texts, and the answer of the mechanism:

1. The letters of the two outlets are given both ways round. The valve rests open to the cylinder; tests and pages
   go by that, and the letter is a setting that nothing depends on (`test_letters_of_the_ports_change_nothing`).
2. Tables say that grey alone makes the valve hold its last position; descriptions of the mechanism say that from
   the middle it winds on to heating only. Both are right, each for its starts: from the cylinder side and from
   heating it stays, from the middle it winds on (`test_grey_alone`).
"""

from itertools import product

import pytest

from generator.circuit.model import Circuit
from generator.states.answer import Answer, Solution
from generator.states.solve import solve
from generator.states.timeline import moment_in, run
from generator.states.trace import why_fed
from generator.states.volts import solve_volts
from generator.views.shown_states import parts_on
from tests.faults import with_contact_stuck, with_load_open, with_part_stuck, without_conductor
from tests.three_port import (
    MID,
    STARTS,
    A,
    B,
    bare_valve,
    drive,
    is_live,
    mid_position,
    position,
    settled_from,
)

PUBLISHED = {
    # white, grey: position and drive from the cylinder side, from the middle, from heating; orange by the valve.
    (False, False): ((B, "none"), (B, "none"), (B, "none"), False),
    (True, False): ((MID, "half"), (MID, "half"), (MID, "half"), False),
    (True, True): ((A, "full"), (A, "full"), (A, "full"), True),
    (False, True): ((B, "half"), (A, "full"), (A, "full"), False),
}
"""Common practice, no source; the last row as the mechanism has it (conflict 2)."""


EVERY = tuple(product((False, True), (False, True), (B, MID, A)))


@pytest.mark.parametrize(("white", "grey", "start"), EVERY)
def test_four_rows_from_each_start(white: bool, grey: bool, start: str) -> None:
    solution = solve(bare_valve())
    on = {name for name, is_on in (("white.calling", white), ("grey.calling", grey)) if is_on}
    answer, number = settled_from(solution, STARTS[start], on)
    *from_each, orange = PUBLISHED[white, grey]
    expected = dict(zip((B, MID, A), from_each, strict=True))[start]
    assert (position(answer, number), drive(solution, answer, number)) == expected
    assert is_live(answer, number, "valve.out") is orange


def test_grey_alone() -> None:
    """Conflict 2: 'holds its last position' is right from either end, not from the middle."""
    solution = solve(bare_valve())
    ends = {start: settled_from(solution, STARTS[start], {"grey.calling"}) for start in (B, MID, A)}
    assert {start: position(*end) for start, end in ends.items()} == {B: B, MID: A, A: A}


@pytest.mark.parametrize(("white", "grey", "start"), EVERY)
def test_volts_settle_in_the_same_place(white: bool, grey: bool, start: str) -> None:
    solution = solve(bare_valve())
    on = {name for name, is_on in (("white.calling", white), ("grey.calling", grey)) if is_on}
    answer, number = settled_from(solution, STARTS[start], on)
    volts = solve_volts(
        solution.circuit, solution.inputs_in(number), start=dict.fromkeys(STARTS[start], True)
    )
    assert volts.settled
    assert tuple(name for name, is_on in volts.driven.items() if is_on) == parts_on(answer, number)


def test_letters_of_the_ports_change_nothing() -> None:
    """Conflict 1: published texts give the letters both ways round."""
    results = []
    for letter in ("A", "B", "not seen"):
        record = mid_position().loaded.text.replace(
            "kind: three-port-mid-position-valve",
            f"kind: three-port-mid-position-valve, settings: {{ cylinder_port: {letter} }}",
        )
        solution = mid_position(record).solution
        assert solution is not None
        results.append([(answer.at, answer.on, answer.fed) for answer in solution.answers])
    assert results[0] == results[1] == results[2]


# The whole system: programmer with a hot water off terminal, change-over cylinder thermostat.
HEAT = {"programmer.channel-2", "room-thermostat.calling"}
WATER = {"programmer.channel-1", "water-thermostat.calling"}


def system() -> Solution:
    """The sound house."""
    examination = mid_position()
    assert examination.findings == ()
    assert examination.solution is not None
    return examination.solution


def after(solution: Solution, before: set[str], on: set[str]) -> tuple[Answer, int]:
    """The settled result of some calls, once others, themselves reached from rest, have gone."""
    number = solution.space.state(before)
    return settled_from(solution, parts_on(solution.settled, number), on)


def fed_by(solution: Solution, answer: Answer, number: int) -> list[str]:
    """The contacts on the way to the boiler's demand input, the spur's and the programmer's left out."""
    demand = next(load for load in solution.circuit.loads if load.name == "boiler.demand")
    trace = why_fed(solution.circuit, answer, number, demand)
    assert trace is not None
    names = [step.contact.name for step in trace.out if step.contact]
    return [name for name in names if name.split(".", 1)[0] not in ("spur", "programmer")]


@pytest.mark.parametrize(
    ("before", "on", "white", "grey", "stands", "orange", "motor"),
    [
        (WATER, set(), False, True, B, False, "half"),
        (HEAT, set(), False, True, A, False, "full"),
        (set(), WATER, False, False, B, True, "none"),
        (set(), HEAT | WATER, True, False, MID, True, "half"),
        (set(), HEAT, True, True, A, True, "full"),
        (HEAT, WATER, False, False, B, True, "none"),
        (HEAT, HEAT | WATER, True, False, MID, True, "half"),
        (HEAT | WATER, HEAT, True, True, A, True, "full"),
    ],
    ids=lambda value: value if isinstance(value, str) else None,
)
def test_system_table(
    before: set[str], on: set[str], white: bool, grey: bool, stands: str, orange: bool, motor: str
) -> None:
    """Calls of the whole system: white, grey, position, orange (common practice, no source)."""
    solution = system()
    answer, number = after(solution, before, on)
    assert is_live(answer, number, "valve.heat") is white
    assert is_live(answer, number, "valve.water-off") is grey
    assert position(answer, number) == stands
    assert is_live(answer, number, "valve.out") is orange
    assert drive(solution, answer, number) == motor
    assert bool(answer.on["boiler.firing"] >> number & 1) is orange
    assert bool(answer.on["pump.running"] >> number & 1) is orange


def test_what_feeds_the_boiler() -> None:
    """With both calls it is the cylinder thermostat and not the valve (common practice, no source)."""
    solution = system()
    answer = solution.settled
    water, both, heat = (solution.space.state(on) for on in (WATER, HEAT | WATER, HEAT))
    assert fed_by(solution, answer, water) == ["water-thermostat.call"]
    assert fed_by(solution, answer, both) == ["water-thermostat.call"]
    assert fed_by(solution, answer, heat) == ["room-thermostat.call", "valve.switch-2-over"]


def test_interlock_over_every_history() -> None:
    """With no call boiler and pump are off, whatever came before: Approved Document L, volume 1 (2021), 5.15."""
    solution = system()
    space = solution.space
    heat = space.where("programmer.channel-2") & space.where("room-thermostat.calling")
    water = space.where("programmer.channel-1") & space.where("water-thermostat.calling")
    assert solution.hunting == 0
    assert len(solution.memories) > 0
    for answer in solution.answers:
        assert answer.on["boiler.firing"] == (heat | water) & answer.at
        assert answer.on["pump.running"] == (heat | water) & answer.at


# Three case histories of the trade, replayed.
def rests(circuit: Circuit, on: set[str]) -> tuple[Answer, int]:
    """The settled result from rest, which must be the only one."""
    solution = solve(circuit)
    number = solution.space.state(on)
    assert solution.settled.at >> number & 1
    return solution.settled, number


def called(answer: Answer, number: int) -> bool:
    """Whether the boiler is called."""
    return bool(answer.on["boiler.firing"] >> number & 1)


def test_case_motor_dead() -> None:
    """Water works; both calls heat the cylinder alone; heating alone does nothing at all, and the boiler is silent."""
    broken = with_load_open(system().circuit, "valve.motor")
    for on, boiler in ((WATER, True), (HEAT | WATER, True), (HEAT, False)):
        answer, number = rests(broken, on)
        assert position(answer, number) == B
        assert called(answer, number) is boiler
        assert not is_live(answer, number, "valve.out") or on != HEAT


@pytest.mark.parametrize("lost", ["valve.water-off", "programmer.off-1"])
def test_case_grey_never_live(lost: str) -> None:
    """Heating works only while hot water is on: it cannot be had alone.

    With the programmer's off terminal lost, grey still comes through the satisfied thermostat, so it fails only
    while the cylinder is cold and its time is off.
    """
    broken = without_conductor(system().circuit, lost, "centre.E")
    answer, number = rests(broken, HEAT | WATER)
    assert (position(answer, number), called(answer, number)) == (MID, True)
    alone = HEAT if lost == "valve.water-off" else HEAT | {"water-thermostat.calling"}
    answer, number = rests(broken, alone)
    assert (position(answer, number), called(answer, number)) == (MID, False)


def test_case_grey_on_the_wrong_contact_is_found() -> None:
    """Grey on the thermostat's calling contact: heating alone cannot be had, and the rules say so."""
    text = mid_position().loaded.text
    line = "        - { to: valve.water-off, core: GY }\n"
    orange = "        - { to: valve.out, core: OG }\n"
    examination = mid_position(text.replace(line, "").replace(orange, orange + line))
    assert "call-does-not-reach-boiler" in {finding.rule for finding in examination.findings}


def test_case_second_switch_failed() -> None:
    """White and grey live, the valve at heating, orange dead: cured by a new head."""
    broken = with_contact_stuck(system().circuit, "valve.switch-2-over", made=False)
    answer, number = rests(broken, HEAT)
    assert is_live(answer, number, "valve.heat")
    assert is_live(answer, number, "valve.water-off")
    assert position(answer, number) == A
    assert not is_live(answer, number, "valve.out")
    assert not called(answer, number)
    assert called(*rests(broken, WATER))


# Back-feeds that are no faults, and one that is.
def test_hot_water_terminal_is_live_through_the_satisfied_thermostat() -> None:
    """Hot water off and the cylinder satisfied: the programmer's on terminal reads live (worked out)."""
    solution = system()
    assert is_live(solution.settled, 0, "programmer.on-1")
    calling = solution.space.state({"water-thermostat.calling"})
    assert not is_live(solution.settled, calling, "programmer.on-1")


def test_changeover_feeds_white_back_for_some_seconds() -> None:
    """From heating only to hot water: orange feeds white until the second switch lets go (worked out)."""
    solution = system()
    heating = moment_in(solution, solution.settled, solution.space.state(HEAT))
    nothing = run(solution.circuit, heating, [(0.0, solution.inputs_in(0))]).end
    inputs = solution.inputs_in(solution.space.state(WATER | {"room-thermostat.calling"}))
    timeline = run(solution.circuit, nothing, [(0.0, inputs)])
    assert timeline.quiet
    fed_back = {brief.point: brief.to_s - brief.from_s for brief in timeline.brief}
    for point in ("valve.heat", "room-thermostat.call", "programmer.on-2"):
        assert 1.0 < fed_back[point] < 10.0


def test_valve_stuck_at_heating_feeds_white_back() -> None:
    """Hot water calls and the valve stays at heating: white, and through the closed thermostat the heating terminal."""
    circuit = system().circuit
    for part in ("valve.past-1", "valve.past-2"):
        circuit = with_part_stuck(circuit, part, on=True)
    answer, number = rests(circuit, WATER)
    assert position(answer, number) == A
    assert is_live(answer, number, "valve.heat")
    assert is_live(answer, number, "room-thermostat.call")
    assert not is_live(answer, number, "programmer.on-2")
    answer, number = rests(circuit, WATER | {"room-thermostat.calling"})
    assert is_live(answer, number, "programmer.on-2")
