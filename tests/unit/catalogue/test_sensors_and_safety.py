"""Thermostats beside those of rooms, and switches that stop everything; worked out by hand."""

from typing import Any

import pytest

from tests.unit.catalogue.standing import fed, is_live, is_on, solved


def test_frost_in_series_with_pipe() -> None:
    """The boiler fires only while the air is cold and the pipe is cold too (common practice, no source)."""
    solution = solved(
        {"boiler": "boiler", "frost": "frost-thermostat", "pipe": "pipe-thermostat"},
        [
            *fed("boiler"),
            ("spur.L", "frost.common"),
            ("frost.call", "pipe.common"),
            ("pipe.cold", "boiler.call"),
        ],
    )
    frost, hot = "frost.calling", "pipe.hot"
    assert [is_on(solution, "boiler.firing", *on) for on in ((), (frost,), (hot,), (frost, hot))] == [
        False,
        True,
        False,
        False,
    ]


def test_both_poles_of_a_frost_thermostat() -> None:
    solution = solved(
        {"frost": ("frost-thermostat", {"poles": 2})},
        [("spur.L", "frost.common"), ("spur.L", "frost.common-2")],
    )
    for output in ("frost.call", "frost.call-2"):
        assert is_live(solution, output, "frost.calling")
        assert not is_live(solution, output)
    assert solution.circuit.inputs[-1].calls


def test_pipe_thermostat_of_a_stove_runs_the_pump() -> None:
    solution = solved(
        {
            "stove": "solid-fuel-stove",
            "pipe": ("pipe-thermostat", {"watches": "heat to be carried away"}),
            "pump": "pump",
        },
        [("spur.L", "pipe.common"), ("pipe.hot", "pump.L"), ("spur.N", "pump.N"), ("spur.E", "pump.E")],
    )
    assert is_on(solution, "pump.running", "pipe.hot")
    assert not is_on(solution, "pump.running")


@pytest.mark.parametrize("linked", [True, False])
def test_dual_thermostat(linked: bool) -> None:
    """A tripped cut-out takes line from both sides of the thermostat (Approved Document G, 3.17 to 3.31)."""
    wires = [("spur.L", "dual.cut-out-in"), *([] if linked else [("dual.cut-out-out", "dual.common")])]
    devices: dict[str, Any] = {"dual": ("dual-thermostat", {"linked": linked})}
    sound = solved(devices, wires)
    assert is_live(sound, "dual.call", "dual.calling")
    assert is_live(sound, "dual.satisfied")
    assert not is_live(sound, "dual.satisfied", "dual.calling")
    tripped = solved(devices, wires, held={"dual.cut-out": True})
    for on in ((), ("dual.calling",)):
        assert not is_live(tripped, "dual.call", *on)
        assert not is_live(tripped, "dual.satisfied", *on)


@pytest.mark.parametrize(
    ("kind", "moved"),
    [
        ("pressure-switch", "low"),
        ("condensate-switch", "full"),
        ("service-timer", "due"),
        ("prepayment-shut-off", "no-credit"),
    ],
)
def test_series_switches(kind: str, moved: str) -> None:
    devices: dict[str, Any] = {"boiler": "boiler", "switch": kind, "clock": ("time-switch", {"channels": 1})}
    wires = [
        *fed("boiler"),
        ("spur.L", "clock.L"),
        ("spur.N", "clock.N"),
        ("clock.on-1", "switch.in"),
        ("switch.out", "boiler.call"),
    ]
    call = "clock.channel-1"
    assert is_on(solved(devices, wires), "boiler.firing", call)
    assert not is_on(solved(devices, wires, held={f"switch.{moved}": True}), "boiler.firing", call)


def test_wireless_receiver() -> None:
    """Made while the room unit calls, the link works and there is supply; a lost link lets go."""
    devices: dict[str, Any] = {"receiver": "wireless-receiver"}
    wires = [("spur.L", "receiver.L"), ("spur.N", "receiver.N"), ("spur.L", "receiver.common")]
    solution = solved(devices, wires)
    assert is_live(solution, "receiver.call", "receiver.calling")
    assert not is_live(solution, "receiver.call")
    assert is_live(solution, "receiver.satisfied")
    lost = solved(devices, wires, held={"receiver.paired": False})
    assert not is_live(lost, "receiver.call", "receiver.calling")
    unfed = solved(devices, [("spur.L", "receiver.common")])
    assert not is_live(unfed, "receiver.call", "receiver.calling")


def test_wireless_receiver_is_volt_free_unless_linked() -> None:
    wires = [("spur.L", "receiver.L"), ("spur.N", "receiver.N")]
    apart = solved({"receiver": "wireless-receiver"}, wires)
    assert not is_live(apart, "receiver.call", "receiver.calling")
    linked = solved({"receiver": ("wireless-receiver", {"linked": True})}, wires)
    assert is_live(linked, "receiver.call", "receiver.calling")


def test_solar_holds_the_boiler_off() -> None:
    devices: dict[str, Any] = {"solar": ("solar-station", {"holds_boiler": True})}
    solution = solved(devices, [*fed("solar"), ("spur.L", "solar.hold-a")])
    assert is_live(solution, "solar.hold-b")
    assert not is_live(solution, "solar.hold-b", "solar.sun")
    assert is_on(solution, "solar.pumping", "solar.sun")


def test_heating_channel_brings_hot_water() -> None:
    """The link of gravity hot water: hot water is live with either channel, heating with its own only."""
    devices: dict[str, Any] = {
        "programmer": ("programmer", {"channels": 2, "hot_water_with_heating": True, "off_terminals": [1]})
    }
    zones = {"hot-water": {"serves": "hot water", "channel": "programmer.1"}}
    solution = solved(devices, [("spur.L", "programmer.L"), ("spur.N", "programmer.N")], zones=zones)
    water, heating = "programmer.channel-1", "programmer.channel-2"
    assert is_live(solution, "programmer.on-1", water)
    assert is_live(solution, "programmer.on-1", heating)
    assert is_live(solution, "programmer.on-2", heating)
    assert not is_live(solution, "programmer.on-2", water)
    assert is_live(solution, "programmer.off-1")
    assert not is_live(solution, "programmer.off-1", heating)
    assert solution.circuit.zones[0].call_groups == ((water, heating),)
