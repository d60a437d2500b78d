"""What each terminal of a device is for, in houses whose terminals are sorted by hand as an engineer would read them."""

import pytest

from generator.circuit.model import Circuit
from generator.pipeline import examine_text
from generator.rules.example_house import HOUSE, OVERRUN, TODAY, VOLT_FREE, change
from generator.rules.example_three_port import MID_POSITION
from generator.rules.sorts import sorts
from tests.circuits import house
from tests.short_houses import short_house

SUPPLIES = {
    "spur.L": "line",
    "spur.N": "neutral",
    "spur.E": "earth",
    "programmer.L": "line",
    "programmer.N": "neutral",
    "boiler.L": "line",
    "boiler.N": "neutral",
    "boiler.E": "earth",
    "pump.N": "neutral",
    "pump.E": "earth",
}
WATER_ON, HEATING_ON = "programmer.channel-1 on", "programmer.channel-2 on"
CONTROLS = {
    "programmer.on-1": WATER_ON,
    "water-thermostat.common": WATER_ON,
    "programmer.on-2": HEATING_ON,
    "room-thermostat.common": HEATING_ON,
    "room-thermostat.call": "heating calls",
}
TWO_PORT = {
    **SUPPLIES,
    **CONTROLS,
    "water-thermostat.call": "hot-water calls",
    "water-valve.motor": "hot-water calls",
    "water-valve.N": "neutral",
    "water-valve.E": "earth",
    "water-valve.switch-a": "line",
    "water-valve.switch-b": "boiler",
    "heating-valve.motor": "heating calls",
    "heating-valve.N": "neutral",
    "heating-valve.E": "earth",
    "heating-valve.switch-a": "line",
    "heating-valve.switch-b": "boiler",
    "boiler.call": "boiler",
    "pump.L": "boiler",
}
"""Two-port valves: channel, thermostat, motor; the end switch hands the permanent live on to boiler and pump."""


def circuit_of(record: str) -> Circuit:
    circuit = examine_text(record, today=TODAY).circuit
    assert circuit is not None
    return circuit


def known(circuit: Circuit, *but: str) -> dict[str, str]:
    """The sorts of terminals, but for those of some devices."""
    outside = {place.ref for place in circuit.terminals if place.device.name not in but}
    return {ref: sort for ref, sort in sorts(circuit).items() if ref in outside}


def test_two_port_valves() -> None:
    assert known(circuit_of(HOUSE), "cylinder") == TWO_PORT


def test_a_boiler_with_an_output_for_the_pump() -> None:
    """The pump then goes with that output, and the boiler alone with the end switches."""
    assert known(circuit_of(OVERRUN), "cylinder") == {**TWO_PORT, "boiler.pump": "pump", "pump.L": "pump"}


def test_mid_position_valve() -> None:
    """Its orange calls the boiler for heating alone; for hot water the thermostat calls it, and grey is live when satisfied."""
    assert known(circuit_of(MID_POSITION), "cylinder") == {
        **SUPPLIES,
        **CONTROLS,
        "programmer.off-1": "water off",
        "water-thermostat.satisfied": "water off",
        "valve.water-off": "water off",
        "water-thermostat.call": "boiler",
        "valve.out": "boiler",
        "valve.heat": "heating calls",
        "valve.N": "neutral",
        "valve.E": "earth",
        "boiler.call": "boiler",
        "pump.L": "boiler",
    }


def test_mid_position_valve_with_one_thermostat_and_no_channel_for_hot_water() -> None:
    """Hot water at all times: its thermostat takes the line itself."""
    record = change(
        MID_POSITION,
        ("serves: hot water, channel: programmer.1, thermostat", "serves: hot water, thermostat"),
    )
    found = sorts(circuit_of(record))
    assert found["water-thermostat.common"] == "line"
    assert found["water-thermostat.call"] == "boiler"
    assert found["water-thermostat.satisfied"] == found["valve.water-off"] == "water off"
    assert "programmer.on-1" not in found
    assert "programmer.off-1" not in found


def test_mid_position_valve_with_a_channel_and_no_thermostat_for_hot_water() -> None:
    record = change(
        MID_POSITION,
        ("channel: programmer.1, thermostat: water-thermostat, valve", "channel: programmer.1, valve"),
    )
    found = sorts(circuit_of(record))
    assert found["programmer.off-1"] == found["valve.water-off"] == "water off"
    assert found["programmer.on-1"] == "hot-water calls"
    assert (
        not {"water-thermostat.call", "water-thermostat.satisfied", "water-thermostat.common"} & found.keys()
    )


def test_pumps_of_zones_are_worked_by_relays() -> None:
    """Each zone's pump belongs to its zone, not to the boiler; what a relay's contact switches is not known by its parts."""
    found = sorts(circuit_of(short_house("header-with-zone-pumps")))
    assert found["heating-pump.L"] == "heating calls"
    assert found["hot-water-pump.L"] == "hot-water calls"
    assert {ref for ref in found if "relay" in ref} == {"heating-relay.A2", "hot-water-relay.A2"}
    assert {found["heating-relay.A2"], found["hot-water-relay.A2"]} == {"neutral"}


def test_a_volt_free_demand_is_no_load_of_the_mains() -> None:
    found = sorts(circuit_of(VOLT_FREE))
    assert not {"boiler.call-a", "boiler.call-b", "relay.A1", "relay.11", "relay.14"} & found.keys()
    assert found["pump.L"] == "boiler"


def test_a_channel_that_is_on_with_another() -> None:
    """With the link for gravity hot water its output is live whenever either channel is on, and calls all the same."""
    clock = ("programmer", {"channels": 2, "hot_water_with_heating": True})
    found = sorts(
        house(
            devices={"spur": "fused-spur", "clock": clock, "valve": "two-port-valve"},
            zones={"water": {"serves": "hot water", "channel": "clock.1", "valve": "valve"}},
        )
    )
    assert found["clock.on-1"] == "water calls"
    assert "clock.on-2" not in found


def test_a_zone_of_a_thermostat_alone() -> None:
    """With no clock before it a thermostat takes the permanent live."""
    found = sorts(
        house(
            devices={"spur": "fused-spur", "stat": "room-thermostat", "valve": "two-port-valve"},
            zones={"flat": {"serves": "heating", "thermostat": "stat", "valve": "valve"}},
        )
    )
    assert {ref: found[ref] for ref in ("stat.common", "stat.call", "valve.motor")} == {
        "stat.common": "line",
        "stat.call": "flat calls",
        "valve.motor": "flat calls",
    }


def test_a_zone_of_a_channel_alone() -> None:
    found = sorts(
        house(
            devices={
                "spur": "fused-spur",
                "clock": ("programmer", {"channels": 2}),
                "valve": "two-port-valve",
            },
            zones={"flat": {"serves": "heating", "channel": "clock.2", "valve": "valve"}},
        )
    )
    assert found["clock.on-2"] == found["valve.motor"] == "flat calls"
    assert "clock.on-1" not in found


@pytest.mark.parametrize("terminal", ["A", "H"])
def test_wiring_centres_have_none(terminal: str) -> None:
    assert f"centre.{terminal}" not in sorts(circuit_of(HOUSE))
