"""Floors, their loops and the pump of their blending set, on small circuits judged by hand."""

from collections.abc import Mapping
from typing import Any

import pytest

from generator.circuit.model import Circuit
from generator.findings.finding import Severity
from tests.circuits import Kinds, Wire, house
from tests.unit.rules.looking import seen, subjects

LOOP, PUMP = "loop-unlike-its-zone", "blending-pump-unlike-the-floor"
DEVICES: Kinds = {
    "spur": "fused-spur",
    "clock": ("programmer", {"channels": 2}),
    "valve": "two-port-valve",
    "second": "two-port-valve",
    "third": "two-port-valve",
    "boiler": "boiler",
    "set": "blending-set",
}
WIRES: tuple[Wire, ...] = (
    ("spur.L", "clock.L", "BN", "clock"),
    ("spur.N", "clock.N", "BU", "clock"),
    ("spur.L", "boiler.L", "BN", "boiler"),
    ("spur.N", "boiler.N", "BU", "boiler"),
    ("spur.N", "valve.N", "BU", "valve"),
    ("spur.N", "second.N", "BU", "second"),
    ("spur.N", "third.N", "BU", "third"),
    ("spur.N", "set.N", "BU", "set"),
    ("clock.on-1", "valve.motor", "BN", "valve"),
    ("clock.on-1", "boiler.call", "BK", "boiler"),
)
ZONES = {"floor": {"serves": "heating", "channel": "clock.1", "valve": "valve"}}
BLENDED = {"valve": "valve", "feeds": "underfloor", "blending": True}
FED: Wire = ("clock.on-1", "set.L", "BN", "set")


def floor(
    *wires: Wire, circuits: Mapping[str, Any], devices: Kinds = DEVICES, zones: Mapping[str, Any] = ZONES
) -> Circuit:
    return house(devices=devices, conductors=[*WIRES, *wires], zones=zones, water={"circuits": circuits})


def test_a_pump_that_nothing_feeds_is_told_at_the_device() -> None:
    circuit = floor(circuits={"floor": BLENDED})
    (only,) = seen(PUMP, circuit)
    assert (only.subject, only.key, only.path) == ("set", True, circuit.device("set").path)
    assert only.holds == "whenever anything calls"
    assert only.severity is None
    assert seen(PUMP, floor(FED, circuits={"floor": BLENDED})) == []


def test_a_pump_that_runs_in_vain_is_told_at_its_core() -> None:
    """It is fed for good; the floor is open with its call alone."""
    zones = {**ZONES, "other": {"serves": "heating", "channel": "clock.2", "valve": "second"}}
    circuit = floor(
        ("spur.L", "set.L", "BN", "set"),
        ("clock.on-2", "second.motor", "BN", "second"),
        circuits={"floor": BLENDED},
        zones=zones,
    )
    (only,) = seen(PUMP, circuit)
    assert (only.key, only.severity, only.path) == (
        False,
        Severity.WARNING,
        circuit.conductors[len(WIRES)].path,
    )
    assert only.holds == "whenever other calls and channel 1 of the clock is off"


@pytest.mark.parametrize(
    "circuits",
    [
        {"floor": {"valve": "valve", "feeds": "underfloor"}},
        {
            "floor": {"feeds": "underfloor", "blending": True},
            "rooms": {"valve": "valve", "feeds": "radiators"},
        },
    ],
    ids=["not blended", "blended without a valve"],
)
def test_a_floor_that_does_not_say_when_its_pump_should_run(circuits: Mapping[str, Any]) -> None:
    assert seen(PUMP, floor(circuits=circuits)) == []


def test_of_two_blending_sets_nobody_knows_which_serves_the_floor() -> None:
    assert (
        seen(PUMP, floor(circuits={"floor": BLENDED}, devices={**DEVICES, "other-set": "blending-set"})) == []
    )


SECOND: Wire = ("clock.on-1", "second.motor", "BN", "second")


@pytest.mark.parametrize(
    ("wire", "told"),
    [
        (SECOND, []),
        (("spur.L", "second.motor", "BN", "second"), ["second"]),
        (("clock.on-2", "second.motor", "BN", "second"), ["second"]),
    ],
)
def test_a_valve_that_no_zone_names(wire: Wire, told: list[str]) -> None:
    """It should open along with the floor's, or with another zone's; on the second channel it does with none."""
    assert subjects(LOOP, floor(wire, FED, circuits={"floor": BLENDED})) == told


def test_one_without_a_conductor_is_for_other_rules() -> None:
    """And does not hide the next, which is wrong."""
    circuit = floor(("spur.L", "third.motor", "BN", "third"), FED, circuits={"floor": BLENDED})
    assert subjects(LOOP, circuit) == ["third"]


@pytest.mark.parametrize(
    ("where", "feeds", "like"),
    [
        ("kitchen", "underfloor", "unlike the valve of floor, whose part of the house it feeds"),
        ("kitchen", "radiators", None),
        ("hall", "underfloor", None),
        (None, "underfloor", None),
    ],
)
def test_a_valve_that_opens_along_with_another_zone_s(
    where: str | None, feeds: str, like: str | None
) -> None:
    """It goes with the zone of the second channel. That is wrong only where its circuit feeds the floor's place as the floor does."""
    zones = {**ZONES, "other": {"serves": "heating", "channel": "clock.2", "valve": "third"}}
    mine: dict[str, Any] = {"valve": "second", "feeds": feeds, **({"where": where} if where else {})}
    circuit = floor(
        ("clock.on-2", "third.motor", "BN", "third"),
        ("clock.on-2", "second.motor", "GY", "second"),
        FED,
        circuits={
            "other": {"valve": "third", "feeds": "radiators", "where": "loft"},
            "floor": {**BLENDED, "where": "kitchen"},
            "mine": mine,
        },
        zones=zones,
    )
    told = seen(LOOP, circuit)
    assert [each.subject for each in told] == (["second"] if like else [])
    for each in told:
        assert each.message == f"the second opens {like}"
        # One of the two calls and the other does not.
        assert each.holds == "in every state except while nothing calls, or while floor calls and other calls"


def test_a_valve_that_never_opens() -> None:
    circuit = floor(("spur.N", "second.motor", "BN", "second"), FED, circuits={"floor": BLENDED})
    (only,) = seen(LOOP, circuit)
    assert only.message == "the second never opens, unlike any zone's valve"
    assert only.holds == "in every state"
