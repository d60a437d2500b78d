"""How boilers and their like are called: volt-free, over a bus, by two inputs; worked out by hand."""

from typing import Any

import pytest

from generator.catalogue.boilers import BOILER
from tests.unit.catalogue.standing import fed, is_live, is_on, solved

_PROGRAMMER = ("programmer", {"channels": 2, "volt_free": True})
_CLOCK = [("spur.L", "programmer.L"), ("spur.N", "programmer.N")]


@pytest.mark.parametrize("kind", ["boiler", "electric-boiler", "heat-pump", "heat-interface-unit"])
def test_volt_free(kind: str) -> None:
    """Called exactly while the two terminals are joined; nothing of the mains is on them (common practice, no source)."""
    solution = solved(
        {"heat": (kind, {"demand": "volt-free"}), "programmer": _PROGRAMMER},
        [*fed("heat"), *_CLOCK, ("programmer.common-1", "heat.call-a"), ("programmer.on-1", "heat.call-b")],
    )
    assert not is_on(solution, "heat.firing")
    assert is_on(solution, "heat.firing", "programmer.channel-1")
    assert not is_on(solution, "heat.firing", "programmer.channel-2")
    for point in ("heat.call-a", "heat.call-b"):
        assert not any(is_live(solution, point, *on) for on in ((), ("programmer.channel-1",)))


def test_volt_free_without_supply() -> None:
    solution = solved(
        {"heat": ("boiler", {"demand": "volt-free"}), "programmer": _PROGRAMMER},
        [*_CLOCK, ("programmer.common-1", "heat.call-a"), ("programmer.on-1", "heat.call-b")],
    )
    assert not is_on(solution, "heat.firing", "programmer.channel-1")


def test_volt_free_feels_by_a_source_of_its_own() -> None:
    parts = BOILER.parts(BOILER.settings.model_validate({"demand": "volt-free"}))
    (sense,) = parts.senses
    assert (sense.a, sense.b) == ("call-a", "call-b")
    assert sense.volts < 50  # extra-low voltage: BS 7671, not over 50 V a.c.


def test_two_demands() -> None:
    """Either input fires it: heating by a switched live, hot water by a volt-free contact."""
    solution = solved(
        {"boiler": ("boiler", {"hot_water_demand": "volt-free"}), "programmer": _PROGRAMMER},
        [
            *fed("boiler"),
            *_CLOCK,
            ("programmer.common-1", "boiler.hot-water-a"),
            ("programmer.on-1", "boiler.hot-water-b"),
            ("spur.L", "programmer.common-2"),
            ("programmer.on-2", "boiler.call"),
        ],
    )
    water, heating = "programmer.channel-1", "programmer.channel-2"
    assert [is_on(solution, "boiler.firing", *on) for on in ((), (water,), (heating,), (water, heating))] == [
        False,
        True,
        True,
        True,
    ]


_BUS: dict[str, Any] = {"boiler": ("boiler", {"demand": "bus"}), "room": "bus-thermostat"}


def test_bus_either_way_round() -> None:
    for first, second in (("bus-a", "bus-b"), ("bus-b", "bus-a")):
        solution = solved(
            _BUS, [*fed("boiler"), ("boiler.bus-a", f"room.{first}"), ("boiler.bus-b", f"room.{second}")]
        )
        assert not is_on(solution, "boiler.firing")
        assert is_on(solution, "boiler.firing", "room.calling")


def test_bus_needs_both_wires() -> None:
    solution = solved(_BUS, [*fed("boiler"), ("boiler.bus-a", "room.bus-a")])
    assert not is_on(solution, "boiler.firing", "room.calling")


def test_bus_whose_wires_touch_carries_no_message() -> None:
    wires = [("boiler.bus-a", "room.bus-a"), ("boiler.bus-b", "room.bus-b"), ("room.bus-a", "room.bus-b")]
    solution = solved(_BUS, [*fed("boiler"), *wires])
    assert not is_on(solution, "boiler.firing")
    assert not is_on(solution, "boiler.firing", "room.calling")


def test_two_room_units_on_one_bus() -> None:
    devices: dict[str, Any] = {**_BUS, "other": "bus-thermostat"}
    wires = [
        (f"boiler.bus-{side}", f"{unit}.bus-{side}") for unit in ("room", "other") for side in ("a", "b")
    ]
    solution = solved(devices, [*fed("boiler"), *wires])
    assert is_on(solution, "boiler.firing", "other.calling")


def test_combination() -> None:
    """A running tap fires it and stops the pump that serves the radiators; a call for heat alone runs it."""
    devices: dict[str, Any] = {
        "boiler": ("boiler", {"combination": True, "pump_inside": True}),
        "clock": ("time-switch", {"channels": 1}),
    }
    wires = [*fed("boiler"), ("spur.L", "clock.L"), ("spur.N", "clock.N"), ("clock.on-1", "boiler.call")]
    shut, running = solved(devices, wires), solved(devices, wires, held={"boiler.tap": True})
    call = "clock.channel-1"
    assert is_on(shut, "boiler.pump-held", call)
    assert not is_on(shut, "boiler.heating-tap-water", call)
    assert is_on(running, "boiler.heating-tap-water")
    assert not is_on(running, "boiler.firing")
    assert not is_on(running, "boiler.pump-held", call)


def test_pump_with_control() -> None:
    """It runs while `run` is live and its permanent supply is there."""
    devices: dict[str, Any] = {"pump": ("pump", {"control": True}), "clock": ("time-switch", {"channels": 1})}
    wires = [("spur.L", "clock.L"), ("spur.N", "clock.N"), ("clock.on-1", "pump.run")]
    assert is_on(solved(devices, [*fed("pump"), *wires]), "pump.running", "clock.channel-1")
    assert not is_on(solved(devices, [*fed("pump"), *wires]), "pump.running")
    unfed = solved(devices, [("spur.N", "pump.N"), *wires])
    assert not is_on(unfed, "pump.running", "clock.channel-1")
