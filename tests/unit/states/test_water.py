"""Where water goes, against truth tables worked out by hand for each plumbing; common practice, no source."""

from dataclasses import replace
from typing import Any

import pytest

from generator.circuit.model import Circuit, WaterSource
from generator.states.solve import solve
from generator.states.water import WaterAnswer, water_answer
from tests.circuits import Wire, house
from tests.stock import two_port

TWO = {"hot-water": "hot water", "heating": "heating"}


def _water(circuit: Circuit, **held: bool) -> WaterAnswer:
    solution = solve(circuit, {name.replace("__", "."): value for name, value in held.items()})
    return water_answer(solution, solution.settled)


def _at(circuit: Circuit, on: tuple[str, ...], held: dict[str, bool] | None = None) -> dict[str, str]:
    """What each circuit does with these inputs on: forward, gravity, backward or still, and `!` where unasked."""
    solution = solve(circuit, held or {})
    answer = water_answer(solution, solution.settled)
    state = solution.space.state(on)
    found = {}
    for flow in answer.flows:
        words = [word for word in ("forward", "gravity", "backward") if getattr(flow, word) >> state & 1]
        found[flow.circuit.name] = "+".join(words or ["still"]) + ("!" if flow.unasked >> state & 1 else "")
    return found


def _calls(*zones: str) -> tuple[str, ...]:
    numbers = {zone: index for index, zone in enumerate(TWO, 1)}
    return tuple(
        name
        for zone in zones
        for name in (f"programmer.channel-{numbers[zone]}", f"{zone}-thermostat.calling")
    )


@pytest.mark.parametrize(
    ("calls", "expected"),
    [
        ((), {"hot-water": "still", "heating": "still"}),
        (("heating",), {"hot-water": "still", "heating": "forward"}),
        (("hot-water",), {"hot-water": "forward", "heating": "still"}),
        (("hot-water", "heating"), {"hot-water": "forward", "heating": "forward"}),
    ],
)
def test_two_port(calls: tuple[str, ...], expected: dict[str, str]) -> None:
    assert _at(two_port(TWO), _calls(*calls)) == expected


def test_latched_lever_lets_hot_water_go_where_nobody_asked() -> None:
    circuit = two_port(TWO)
    latched = {"heating-valve.lever": True}
    assert _at(circuit, _calls("hot-water"), latched) == {"hot-water": "forward", "heating": "forward!"}
    assert _at(circuit, (), latched) == {"hot-water": "still", "heating": "still"}


def test_overrun_with_all_valves_shut_has_no_way_without_a_bypass() -> None:
    circuit = two_port(TWO, overrun=True)
    assert not _water(circuit).dead_head
    running_on = _water(circuit, boiler__overrun=True)
    assert running_on.dead_head & 1
    assert not running_on.dead_head >> solve(circuit).space.state(_calls("heating")) & 1


def test_overrun_goes_through_the_bypass() -> None:
    circuit = two_port(TWO, overrun=True)
    water = _with_water(circuit, bypass="fixed")
    running_on = _water(water, boiler__overrun=True)
    assert running_on.shut & 1
    assert running_on.bypass & 1
    assert not running_on.dead_head


def _with_water(circuit: Circuit, **changes: Any) -> Circuit:
    return replace(circuit, water=replace(circuit.water, **changes))


def _zone_pumps(*, check_valve: bool, header: str = "none") -> Circuit:
    """Two zones, each with a pump of its own in the place of a valve, and their thermostats straight on the pumps."""
    wires: list[Wire] = [
        ("boiler.L", "spur.L", "BN"),
        ("boiler.N", "spur.N", "BU"),
        ("boiler.E", "spur.E", "GNYE"),
    ]
    for zone in ("down", "up"):
        wires += [
            (f"{zone}-thermostat.common", "spur.L", "BN"),
            (f"{zone}-thermostat.call", f"{zone}-pump.L", "BK"),
            (f"{zone}-pump.N", "spur.N", "BU"),
            (f"{zone}-pump.E", "spur.E", "GNYE"),
        ]
    return house(
        devices={
            "spur": "fused-spur",
            "boiler": "boiler",
            **{f"{zone}-thermostat": "room-thermostat" for zone in ("down", "up")},
            **{f"{zone}-pump": "pump" for zone in ("down", "up")},
        },
        conductors=[*wires, ("boiler.call", "down-thermostat.call", "RD")],
        zones={
            zone: {"serves": "heating", "thermostat": f"{zone}-thermostat", "pump": f"{zone}-pump"}
            for zone in ("down", "up")
        },
        water={
            "circuits": {
                zone: {"pump": f"{zone}-pump", "feeds": "radiators", "check_valve": check_valve}
                for zone in ("down", "up")
            },
            "pump": "none",
            "header": header,
        },
    )


@pytest.mark.parametrize(
    ("check_valve", "header", "expected"),
    [(False, "none", "backward!"), (True, "none", "still"), (False, "low-loss", "still")],
)
def test_zone_pump_draws_backwards_where_nothing_stops_it(
    check_valve: bool, header: str, expected: str
) -> None:
    circuit = _zone_pumps(check_valve=check_valve, header=header)
    assert _at(circuit, ("down-thermostat.calling",)) == {"down": "forward", "up": expected}
    assert _at(circuit, ()) == {"down": "still", "up": "still"}
    both = _at(circuit, ("down-thermostat.calling", "up-thermostat.calling"))
    assert both == {"down": "forward", "up": "forward"}


def test_gravity_hot_water_goes_with_every_call() -> None:
    """No valve in the coil's circuit: whatever fires the boiler heats the cylinder, pump or no pump."""
    circuit = two_port(TWO)
    coil, heating = circuit.water.circuits
    circuit = _with_water(circuit, circuits=(replace(coil, valve="", opens="", gravity=True), heating))
    zones = (replace(circuit.zones[0], valve="", opens=""), circuit.zones[1])
    circuit = replace(circuit, zones=zones)
    assert _at(circuit, _calls("heating")) == {"hot-water": "gravity!", "heating": "forward"}
    assert _at(circuit, _calls("hot-water")) == {"hot-water": "gravity", "heating": "still"}
    assert _at(circuit, ()) == {"hot-water": "still", "heating": "still"}


def test_heat_of_a_stove_cannot_be_stopped() -> None:
    circuit = two_port(TWO)
    stove = WaterSource(name="stove", of="solid fuel", device="", pump="")
    coil = replace(circuit.water.circuits[0], name="stove", valve="", opens="", gravity=True, source="stove")
    circuit = _with_water(circuit, circuits=(*circuit.water.circuits, coil), sources=(stove,))
    assert _at(circuit, ())["stove"] == "gravity!"
    assert _at(circuit, _calls("hot-water"))["stove"] == "gravity"
