"""The underfloor zone controller with its actuators, pump and boiler; worked out by hand."""

from typing import Any

import pytest

from generator.states.answer import Solution
from tests.unit.catalogue.standing import fed, is_on, solved


def _house(boiler_enable: str) -> Solution:
    demand = "volt-free" if boiler_enable == "volt-free" else "switched live"
    devices: dict[str, Any] = {
        "controller": ("zone-controller", {"zones": 2, "boiler_enable": boiler_enable}),
        "lounge": "room-thermostat",
        "hall": "room-thermostat",
        "lounge-loop": "thermal-actuator",
        "hall-loop": "thermal-actuator",
        "blending": "blending-set",
        "boiler": ("boiler", {"demand": demand}),
    }
    wires = [*fed("boiler"), ("spur.L", "controller.L"), ("spur.N", "controller.N")]
    for number, room in ((1, "lounge"), (2, "hall")):
        wires += [
            (f"controller.live-{number}", f"{room}.common"),
            (f"{room}.call", f"controller.call-{number}"),
            (f"controller.actuator-{number}", f"{room}-loop.L"),
            (f"controller.actuator-N-{number}", f"{room}-loop.N"),
        ]
    wires += [("controller.pump", "blending.L"), ("spur.N", "blending.N"), ("spur.E", "blending.E")]
    if boiler_enable == "volt-free":
        wires += [("controller.boiler-a", "boiler.call-a"), ("controller.boiler-b", "boiler.call-b")]
    else:
        wires += [("controller.boiler", "boiler.call")]
    return solved(devices, wires)


@pytest.mark.parametrize("boiler_enable", ["volt-free", "switched live"])
@pytest.mark.parametrize(
    ("on", "lounge", "hall"),
    [
        ((), False, False),
        (("lounge.calling",), True, False),
        (("hall.calling",), False, True),
        (("lounge.calling", "hall.calling"), True, True),
    ],
)
def test_every_state(boiler_enable: str, on: tuple[str, ...], lounge: bool, hall: bool) -> None:
    """A zone's own actuator opens; pump and boiler run while any zone calls (common practice, no source)."""
    solution = _house(boiler_enable)
    assert is_on(solution, "lounge-loop.open", *on) is lounge
    assert is_on(solution, "hall-loop.open", *on) is hall
    for part in ("blending.running", "boiler.firing"):
        assert is_on(solution, part, *on) is (lounge or hall)


def test_actuators_take_minutes_and_the_pump_waits() -> None:
    """Three to five minutes to open: from memory."""
    driven = {item.name: item for item in _house("volt-free").circuit.driven}
    assert 180 <= driven["lounge-loop.open"].on_s <= 300
    assert driven["controller.pump"].on_s == driven["controller.boiler"].on_s == 180


def test_limit_thermostat_stops_the_blending_pump() -> None:
    wires = fed("blending")
    assert is_on(solved({"blending": "blending-set"}, wires), "blending.running")
    tripped = solved({"blending": "blending-set"}, wires, held={"blending.limit": True})
    assert not is_on(tripped, "blending.running")


def test_actuator_end_switch() -> None:
    devices: dict[str, Any] = {
        "loop": ("thermal-actuator", {"end_switch": True}),
        "clock": ("time-switch", {"channels": 1}),
    }
    solution = solved(
        devices,
        [("spur.L", "clock.L"), ("spur.N", "clock.N"), ("clock.on-1", "loop.L"), ("spur.N", "loop.N")],
    )
    assert is_on(solution, "loop.end-switch", "clock.channel-1")
    assert not is_on(solution, "loop.end-switch")
