"""What single faults do, held against tables and case histories of the trade.

Two-port valves: a valve's motor open-circuit, its end switch welded or never making, its spindle stuck (common practice, no source;
the seized switch is the commonest failure by trade reports). Mid-position valve: the case histories told by repairers of a dead
motor, and of grey that is never live.
"""

from functools import cache

from generator.circuit.model import Circuit
from generator.faults.every_fault import every_fault
from generator.faults.fault import SOUND
from generator.faults.simulate import Batch, simulate
from generator.states.solve import solve
from tests.stock import recorded_circuits, two_port

TWO = {"hot-water": "hot water", "heating": "heating"}


@cache
def two_zones() -> Circuit:
    return two_port(TWO)


def works(circuit: Circuit, fault: str, calls: tuple[str, ...], *parts: str) -> tuple[bool, ...]:
    """Whether parts are on from rest, with a fault and some inputs on."""
    every = {each.name: each for each in (SOUND, *every_fault(solve(circuit)))}
    (batch,) = simulate(circuit, [every[fault]], [frozenset()], free=())
    assert isinstance(batch, Batch)
    outcome = batch.outcomes[0][0]
    on = set(calls)
    state = next(
        at
        for at in range(batch.free.size)
        if {name for name, value in batch.free.values(at).items() if value} == on
    )
    assert outcome.answer.at >> state & 1
    return tuple(bool(outcome.answer.on[part] >> state & 1) for part in parts)


def call(circuit: Circuit, zone: str) -> tuple[str, ...]:
    return next(each for each in circuit.zones if each.name == zone).call_inputs


def test_two_port_valves() -> None:
    circuit = two_zones()
    heat, water = call(circuit, "heating"), call(circuit, "hot-water")
    parts = ("heating-valve.open", "boiler.firing")
    assert works(circuit, "none", heat, *parts) == (True, True)
    assert works(circuit, "motor-open-circuit:heating-valve", heat, *parts) == (False, False)
    assert works(circuit, "motor-open-circuit:heating-valve", (*heat, *water), *parts) == (False, True)
    assert works(circuit, "gears-worn:heating-valve", heat, *parts) == (False, False)
    assert works(circuit, "spindle-seized:heating-valve", heat, *parts) == (False, False)
    switch = "contact-never-makes:heating-valve.end-switch"
    assert works(circuit, switch, heat, *parts) == (True, False)
    assert works(circuit, switch, (*heat, *water), *parts) == (True, True)
    assert works(circuit, "contact-stuck-made:heating-valve.end-switch", (), *parts) == (False, True)
    assert works(circuit, "stuck-driven:heating-valve", (), *parts) == (True, True)
    assert works(circuit, "stuck-without-switch:heating-valve", (), *parts) == (True, False)
    assert works(circuit, "stuck-without-switch:heating-valve", water, *parts) == (True, True)


def test_mid_position_valve_with_a_dead_motor() -> None:
    """Water alone is right, both calls heat the cylinder only, heat alone: nothing at all (a repairer's case history)."""
    circuit = recorded_circuits()["EB-0130"]
    heat, water = call(circuit, "heating"), call(circuit, "hot-water")
    valve = "mid-position-valve"
    parts = (f"{valve}.open-heating", f"{valve}.open-water", "boiler.firing")
    dead = f"motor-open-circuit:{valve}"
    assert works(circuit, "none", heat, *parts) == (True, False, True)
    assert works(circuit, dead, water, *parts) == (False, True, True)
    assert works(circuit, dead, (*heat, *water), *parts) == (False, True, True)
    assert works(circuit, dead, heat, *parts)[2] is False


def test_mid_position_valve_whose_grey_is_never_live() -> None:
    """Heating works with the hot water on, and not without (a repairer's case history)."""
    circuit = recorded_circuits()["EB-0130"]
    heat, water = call(circuit, "heating"), call(circuit, "hot-water")
    grey = next(
        each.name
        for each in every_fault(solve(circuit))
        if each.name.startswith("core-off:mid-position-valve.water-off:")
    )
    parts = ("mid-position-valve.open-heating", "boiler.firing")
    assert works(circuit, grey, heat, *parts)[1] is False
    assert works(circuit, grey, (*heat, *water), *parts) == (True, True)
