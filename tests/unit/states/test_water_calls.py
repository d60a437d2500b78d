"""Which calls ask for which circuit, by hand."""

from dataclasses import replace

import pytest

from generator.circuit.model import Circuit
from generator.states.solve import solve
from generator.states.space import StateSpace
from generator.states.water import calls_of_circuit, water_answer
from tests.circuits import house

HALL, LOFT, TANK = (f"{name}-stat.calling" for name in ("hall", "loft", "tank"))


def plumbed(*, loft_valve: bool = False, frost: bool = False) -> Circuit:
    """A hall and a tank behind valves; a loft with one or without; a rail and a coil without; a valve for no zone."""
    valves = ["hall", "tank", "spare", *(["loft"] if loft_valve else [])]
    return house(
        devices={
            "boiler": "boiler",
            **dict.fromkeys(("hall-stat", "loft-stat"), "room-thermostat"),
            "tank-stat": "cylinder-thermostat",
            **{f"{name}-valve": "two-port-valve" for name in valves},
            **({"frost": "frost-thermostat"} if frost else {}),
        },
        zones={
            "hall": {"serves": "heating", "thermostat": "hall-stat", "valve": "hall-valve"},
            "loft": {
                "serves": "heating",
                "thermostat": "loft-stat",
                **({"valve": "loft-valve"} if loft_valve else {}),
            },
            "tank": {"serves": "hot water", "thermostat": "tank-stat", "valve": "tank-valve"},
        },
        water={
            "circuits": {
                "hall": {"valve": "hall-valve", "feeds": "radiators"},
                "tank": {"valve": "tank-valve", "feeds": "cylinder coil"},
                "spare": {"valve": "spare-valve", "feeds": "underfloor"},
                "rail": {"feeds": "towel rail"},
                "coil": {"feeds": "thermal store"},
            }
        },
    )


def calls(circuit: Circuit, name: str) -> set[frozenset[str]]:
    """The sets of inputs that are on where a circuit is asked for."""
    space = solve(circuit).space
    item = next(each for each in circuit.water.circuits if each.name == name)
    vector = calls_of_circuit(circuit, space, item)
    return {
        frozenset(each for each, on in space.values(state).items() if on)
        for state in range(space.size)
        if vector >> state & 1
    }


def having(circuit: Circuit, *any_of: str) -> set[frozenset[str]]:
    """The sets of inputs that hold one of these."""
    space = solve(circuit).space
    every = (frozenset(each for each, on in space.values(state).items() if on) for state in range(space.size))
    return {on for on in every if not on.isdisjoint(any_of)}


@pytest.mark.parametrize(
    ("loft_valve", "name", "asked_by"),
    [
        (False, "hall", (HALL,)),
        (False, "tank", (TANK,)),
        # No valve: the zone of heating without one; where each has one, every zone of heating.
        (False, "rail", (LOFT,)),
        (True, "rail", (HALL, LOFT)),
        # No valve, hot water: the only zone of it, though that has a valve.
        (False, "coil", (TANK,)),
    ],
)
def test_a_circuit_is_asked_for_by_the_zones_it_serves(
    loft_valve: bool, name: str, asked_by: tuple[str, ...]
) -> None:
    circuit = plumbed(loft_valve=loft_valve)
    assert calls(circuit, name) == having(circuit, *asked_by)


def test_a_circuit_that_no_zone_names_is_always_asked_for() -> None:
    circuit = plumbed()
    assert len(calls(circuit, "spare")) == 8
    without = replace(circuit, zones=circuit.zones[:2])
    assert len(calls(without, "coil")) == 8


def test_a_sensor_that_calls_by_design_asks_for_every_circuit() -> None:
    circuit = plumbed(frost=True)
    (frost,) = (item.name for item in circuit.inputs if item.calls)
    assert calls(circuit, "hall") == having(circuit, HALL, frost)
    assert calls(circuit, "tank") == having(circuit, TANK, frost)
    item = circuit.water.circuits[0]
    space = StateSpace((HALL, LOFT, TANK))
    assert calls_of_circuit(circuit, space, item) == space.where(HALL), "the sensor is not among the inputs"


def test_a_zone_calls_while_its_timer_and_its_thermostat_do() -> None:
    """Either of two channels that the timer links will do; a thermostat that is held satisfied never calls."""
    circuit = plumbed()
    timed = replace(circuit.zones[0], channel="timer.one", channel_also=("timer.two",))
    circuit = replace(circuit, zones=(timed, *circuit.zones[1:]))
    item = circuit.water.circuits[0]
    space = StateSpace(("timer.one", "timer.two", HALL))
    assert calls_of_circuit(circuit, space, item) == space.where(HALL) & (
        space.where("timer.one") | space.where("timer.two")
    )
    two = StateSpace(("timer.one", "timer.two"))
    assert calls_of_circuit(circuit, two, item) == 0
    assert calls_of_circuit(circuit, two, item, {HALL: False}) == 0
    assert calls_of_circuit(circuit, two, item, {HALL: True}) == two.where("timer.one") | two.where(
        "timer.two"
    )


def test_a_call_that_is_held_on_asks_in_every_state() -> None:
    circuit = plumbed()
    for held, asked in ((True, 4), (False, 0)):
        solution = solve(circuit, {HALL: held})
        flow = water_answer(solution, solution.settled).flow("hall")
        assert flow.asked.bit_count() == asked
