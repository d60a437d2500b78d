"""Half-wave readings of the mid-position valve at rest in each position, against ngspice with a diode of its own."""

from collections.abc import Mapping
from dataclasses import astuple, dataclass

import pytest

from generator.circuit.model import Circuit
from generator.states.half_wave import AS_RECORDED, HalfWave, half_wave
from generator.states.solve import solve
from generator.states.volts import VoltsResult, solve_volts
from generator.states.volts_meter import (
    HIGH_IMPEDANCE,
    LOW_IMPEDANCE,
    Meter,
    incoming_earth,
    incoming_neutral,
)
from tests.second_method.transient import shown_over_time
from tests.stock import demo_circuits
from tests.three_port_houses import mid_position

AGREE_WITHIN_V = (
    1.15  # half a hundredth of the supply: the drop of a diode depends on its current, ours does not
)
POINTS = ("valve.heat", "valve.water-off", "valve.motor-line", "room.call", "programmer.on-2", "boiler.call")


@dataclass(frozen=True)
class Rest:
    """A settled state with the position the valve has in it."""

    words: str
    position: tuple[bool, bool]
    result: VoltsResult


def rests(circuit: Circuit) -> list[Rest]:
    """One state for each set of closed contacts and diodes among every state from every history."""
    solution = solve(circuit)
    found: dict[tuple[tuple[str, ...], tuple[str, ...]], Rest] = {}
    for answer in solution.answers:
        for state in range(solution.space.size):
            if not answer.at >> state & 1:
                continue
            start = {name: bool(vector >> state & 1) for name, vector in answer.on.items()}
            inputs = solution.inputs_in(state)
            result = solve_volts(circuit, inputs, start=start)
            assert result.driven == start, "the two solvers are at odds about what rests"
            words = ", ".join(name for name, on in inputs.items() if on)
            position = (_is_on(start, ".past-1"), _is_on(start, ".past-2"))
            found.setdefault((result.closed, result.diodes), Rest(words, position, result))
    return list(found.values())


def _is_on(start: Mapping[str, bool], ending: str) -> bool:
    return any(on for name, on in start.items() if name.endswith(ending))


RESTS = rests(mid_position())


def single(shown: HalfWave) -> tuple[float, ...]:
    """The values of a band without width."""
    for low, high in astuple(shown):
        assert low == high
    return tuple(low for low, _ in astuple(shown))


def test_every_position_is_among_them() -> None:
    assert {rest.position for rest in RESTS} == {(False, False), (True, False), (True, True)}
    half = {
        rest.position
        for rest in RESTS
        if half_wave(mid_position(), rest.result, HIGH_IMPEDANCE, to=incoming_neutral(mid_position()))
    }
    assert half == {(False, False), (True, False)}


@pytest.mark.simulator
@pytest.mark.parametrize("meter", [HIGH_IMPEDANCE, LOW_IMPEDANCE], ids=lambda meter: meter.words)
@pytest.mark.parametrize("rest", RESTS, ids=lambda rest: rest.words)
def test_what_every_sort_of_meter_shows(rest: Rest, meter: Meter) -> None:
    circuit = mid_position()
    for to in (incoming_neutral(circuit), incoming_earth(circuit)):
        ours = half_wave(circuit, rest.result, meter, to=to, ranges=AS_RECORDED)
        points = [point for point in POINTS if point in ours]
        leads = [(point, to) for point in points]
        theirs = shown_over_time(circuit, frozenset(rest.result.closed), rest.result.diodes, leads, meter.ohm)
        for point, shown in zip(points, theirs, strict=True):
            assert single(ours[point]) == pytest.approx(astuple(shown), abs=AGREE_WITHIN_V), point


@pytest.mark.simulator
@pytest.mark.parametrize("name", [name for name, circuit in demo_circuits().items() if circuit.diodes])
def test_houses_of_the_stock(name: str) -> None:
    """In each position of the valve one state, one point of each net that hangs on its diode."""
    circuit = demo_circuits()[name]
    to = incoming_neutral(circuit)
    by_position: dict[tuple[bool, bool], Rest] = {}
    for rest in rests(circuit):
        by_position.setdefault(rest.position, rest)
    assert len(by_position) == 3
    for rest in by_position.values():
        ours = half_wave(circuit, rest.result, HIGH_IMPEDANCE, to=to, ranges=AS_RECORDED)
        points = list({shown: point for point, shown in reversed(ours.items())}.values())
        leads = [(point, to) for point in points]
        theirs = shown_over_time(
            circuit, frozenset(rest.result.closed), rest.result.diodes, leads, HIGH_IMPEDANCE.ohm
        )
        for point, shown in zip(points, theirs, strict=True):
            assert single(ours[point]) == pytest.approx(astuple(shown), abs=AGREE_WITHIN_V), point


@pytest.mark.simulator
def test_what_is_left_out_has_no_half_wave() -> None:
    """Points without a band read by the diode-free solve: a plain a.c. voltage, no d.c. worth the name."""
    circuit = mid_position()
    to = incoming_neutral(circuit)
    for rest in RESTS[:: max(1, len(RESTS) // 4)]:
        ours = half_wave(circuit, rest.result, HIGH_IMPEDANCE, to=to)
        leads = [(point, to) for point in POINTS if point not in ours]
        shown = shown_over_time(
            circuit, frozenset(rest.result.closed), rest.result.diodes, leads, HIGH_IMPEDANCE.ohm
        )
        for (point, _), values in zip(leads, shown, strict=True):
            assert values.mean < 1.0, point


@pytest.mark.parametrize("factor", [0.1, 0.5, 2.0, 4.0])
def test_positions_do_not_depend_on_the_resistor(factor: float) -> None:
    recorded, other = mid_position(), mid_position(hold_ohm=1000.0 * factor)
    first, second = solve(recorded), solve(other)
    assert [(answer.at, answer.on) for answer in first.answers] == [
        (answer.at, answer.on) for answer in second.answers
    ]
    for rest, changed in zip(RESTS, rests(other), strict=True):
        assert rest.result.driven == changed.result.driven


def test_a_wider_range_gives_a_wider_band() -> None:
    circuit = mid_position()
    to = incoming_neutral(circuit)
    for rest in RESTS:
        wide = half_wave(circuit, rest.result, HIGH_IMPEDANCE, to=to)
        narrow = half_wave(circuit, rest.result, HIGH_IMPEDANCE, to=to, ranges=AS_RECORDED)
        assert set(narrow) == set(wide)
        for point, shown in narrow.items():
            for (low, high), (lowest, highest) in zip(astuple(shown), astuple(wide[point]), strict=True):
                assert lowest <= low <= high <= highest
