"""Every reading of the nodal solver against ngspice, each a solve of its own with one meter connected."""

from random import Random

import pytest

from generator.circuit.model import Circuit
from generator.states.volts import Bands, solve_volts
from generator.states.volts_meter import (
    HIGH_IMPEDANCE,
    LOW_IMPEDANCE,
    Meter,
    incoming_earth,
    incoming_neutral,
    readings,
)
from tests.circuits import house
from tests.second_method.netlist import (
    Positions,
    Reading,
    load_volts,
    positions_text,
    run_deck,
    shown_volts,
    single_meter_deck,
)
from tests.second_method.states import Solved, solved_states
from tests.stock import demo_circuits

pytestmark = pytest.mark.simulator

AGREE_WITHIN_V = 0.23  # a thousandth of the supply
SAME_V = 0.001
ENOUGH_STATES = 64

CIRCUITS = [
    pytest.param(name, marks=[pytest.mark.slow] if len(circuit.called_inputs) > 7 else [], id=name)
    for name, circuit in demo_circuits().items()
]


def by_positions(circuit: Circuit, states: tuple[Solved, ...]) -> dict[Positions, Solved]:
    """One state of those whose netlist is the same text, so that none is solved twice."""
    texts: dict[str, Solved] = {}
    for state in states:
        texts.setdefault(positions_text(circuit, frozenset(state.result.closed)), state)
    return {frozenset(state.result.closed): state for state in texts.values()}


def all_readings(circuit: Circuit, closed: Positions) -> list[Reading]:
    ends = (incoming_neutral(circuit), incoming_earth(circuit))
    return [Reading(closed, terminal, to) for to in ends for terminal in circuit.nodes]


def predicted(circuit: Circuit, state: Solved, meter: Meter) -> list[float]:
    shown: list[float] = []
    for to in (incoming_neutral(circuit), incoming_earth(circuit)):
        shown += readings(circuit, state.result, meter, circuit.nodes, to=to).values()
    return shown


@pytest.mark.parametrize("name", CIRCUITS)
def test_states_with_the_same_netlist_have_the_same_answer(name: str) -> None:
    circuit = demo_circuits()[name]
    once = by_positions(circuit, solved_states(name))
    for state in solved_states(name):
        assert state.result.volts == once[frozenset(state.result.closed)].result.volts


@pytest.mark.parametrize("meter", [HIGH_IMPEDANCE, LOW_IMPEDANCE], ids=lambda meter: meter.words)
@pytest.mark.parametrize("name", CIRCUITS)
def test_every_terminal_to_neutral_and_to_earth_in_every_state(name: str, meter: Meter) -> None:
    """With a multimeter in every state; with a low-impedance tester in some 64 of them."""
    circuit = demo_circuits()[name]
    states = by_positions(circuit, solved_states(name))
    if meter is LOW_IMPEDANCE:
        states = dict(list(states.items())[:: 1 + len(states) // ENOUGH_STATES])
    jobs = [job for closed in states for job in all_readings(circuit, closed)]
    ours = [volts for state in states.values() for volts in predicted(circuit, state, meter)]
    theirs = shown_volts(circuit, jobs, meter.ohm)
    apart = [abs(our - their) for our, their in zip(ours, theirs, strict=True)]
    print(f"{len(apart)} readings, furthest apart by {max(apart):.2g} V")
    wrong = [
        (job.terminal, job.to, our, their, dict(states[job.closed].inputs))
        for job, our, their in zip(jobs, ours, theirs, strict=True)
        if abs(our - their) > AGREE_WITHIN_V
    ]
    assert not wrong


@pytest.mark.parametrize("name", CIRCUITS)
def test_loads_are_fed_as_the_volts_of_ngspice_say(name: str) -> None:
    circuit = demo_circuits()[name]
    states = by_positions(circuit, solved_states(name))
    bands = Bands()
    for state, volts in zip(states.values(), load_volts(circuit, list(states)), strict=True):
        assert state.result.settled
        assert state.result.load_volts == pytest.approx(volts, abs=AGREE_WITHIN_V)
        between = {load for load, v in volts.items() if bands.release_v < v < bands.drive_v}
        assert set(state.result.uncertain) == between
        for load, v in volts.items():
            assert load in between or state.result.fed[load] is (v >= bands.drive_v)


@pytest.mark.parametrize("name", CIRCUITS)
def test_the_moving_meter_is_one_meter(name: str) -> None:
    """A deck with a meter at every terminal, all but one next to nothing, reads as a deck with only that one."""
    circuit = demo_circuits()[name]
    jobs = [
        job for closed in by_positions(circuit, solved_states(name)) for job in all_readings(circuit, closed)
    ]
    chosen = Random(7).sample(jobs, 30)  # noqa: S311 - a choice, not a secret
    for meter in (HIGH_IMPEDANCE, LOW_IMPEDANCE):
        moving = shown_volts(circuit, chosen, meter.ohm)
        single = [run_deck(single_meter_deck(circuit, job, meter.ohm), 1)[0] * meter.ohm for job in chosen]
        assert moving == pytest.approx(single, abs=SAME_V)


@pytest.mark.parametrize("meter", [HIGH_IMPEDANCE, LOW_IMPEDANCE], ids=lambda meter: meter.words)
def test_between_any_two_points_behind_loads(meter: Meter) -> None:
    """Two loads on a neutral that is lost, three in series, one with a neutral only: what a meter itself changes."""
    circuit = house(
        devices={
            "spur": "fused-spur",
            "lost": "pump",
            "borrowed": ("immersion-heater", {"watts": 5.0}),
            "upper": ("pump", {"watts": 2.0, "power_factor": 0.4}),
            "middle": ("pump", {"watts": 1.0, "power_factor": 0.9}),
            "lower": "relay",
            "unfed": ("pump", {"watts": 1.0}),
        },
        conductors=[
            ("spur.L", "lost.L", "BN"),
            ("spur.L", "borrowed.L", "BK"),
            ("lost.N", "borrowed.N", "BU"),
            ("spur.L", "upper.L", "RD"),
            ("upper.N", "middle.L", "BU"),
            ("middle.N", "lower.A1", "BU"),
            ("lower.A2", "spur.N", "BU"),
            ("unfed.N", "spur.N", "BU"),
        ],
    )
    result = solve_volts(circuit, {})
    jobs = [Reading(frozenset(result.closed), a, b) for b in circuit.nodes for a in circuit.nodes if a != b]
    ours = [readings(circuit, result, meter, [job.terminal], to=job.to)[job.terminal] for job in jobs]
    theirs = [run_deck(single_meter_deck(circuit, job, meter.ohm), 1)[0] * meter.ohm for job in jobs[::5]]
    assert shown_volts(circuit, jobs, meter.ohm) == pytest.approx(ours, abs=AGREE_WITHIN_V)
    assert theirs == pytest.approx(ours[::5], abs=AGREE_WITHIN_V)
