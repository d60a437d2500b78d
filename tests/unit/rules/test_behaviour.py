"""What devices do, by duty and by parts: what each valve does without supply, and what is read off the solved states."""

import pytest

from generator.catalogue.parts import Role
from generator.rules.behaviour import (
    any_firing,
    call,
    calling,
    calls_for,
    can_open,
    conductors_at,
    dead,
    first_answer,
    heated_otherwise,
    isolator_of,
    joined_points,
    joined_to,
    live,
    opened,
    overrun_of,
    pump_loads,
    pumping,
    rated_a,
    rating_of,
    terminals_of,
    way_between,
    way_of_load,
    ways_of,
    with_role,
)
from generator.rules.example_house import HOUSE
from generator.rules.rule import When
from generator.rules.valve_mechanism import never_both, open_without_supply
from tests.circuits import house
from tests.unit.rules.looking import subject_of

NORMALLY_OPEN = ("two-port-valve", {"rests": "open"})


@pytest.mark.parametrize(
    ("kind", "ways"),
    [
        ("two-port-valve", {"open": False}),
        (NORMALLY_OPEN, {"open": True}),
        ("motor-open-motor-close-valve", {"open": True}),
        ("thermal-actuator", {"open": False}),
        ("three-port-mid-position-valve", {"open-heating": False, "open-water": True}),
        ("three-port-diverter-valve", {"open-heating": False, "open-water": True}),
    ],
)
def test_what_is_open_once_the_supply_is_lost(
    kind: str | tuple[str, dict[str, object]], ways: dict[str, bool]
) -> None:
    """A spring shuts a two-port valve, and turns a three-port one to the cylinder; one without a spring stays (common practice)."""
    device = house(devices={"valve": kind}).device("valve")
    assert ways_of(device) == tuple(f"valve.{name}" for name in ways)
    assert {name: open_without_supply(device, f"valve.{name}") for name in ways} == ways


@pytest.mark.parametrize(
    ("kind", "never"),
    [
        ("three-port-diverter-valve", True),
        ("three-port-mid-position-valve", False),
        ("two-port-valve", False),
    ],
)
def test_whether_both_outlets_are_ever_open(kind: str, never: bool) -> None:
    assert never_both(house(devices={"valve": kind}).device("valve")) is never


SUBJECT = subject_of(HOUSE)
SPACE = SUBJECT.solution.space
WATER = SPACE.where("programmer.channel-1") & SPACE.where("water-thermostat.calling")
ROOMS = SPACE.where("programmer.channel-2") & SPACE.where("room-thermostat.calling")
SETTLED = SUBJECT.solution.settled


def test_the_sound_house() -> None:
    """Two zones, each with a channel and a thermostat; boiler and pump run with either call."""
    water, rooms = SUBJECT.circuit.zones
    assert (call(SUBJECT, water), call(SUBJECT, rooms), calling(SUBJECT)) == (WATER, ROOMS, WATER | ROOMS)
    assert opened(SETTLED, "water-valve.open") == calls_for(SUBJECT, "water-valve.open") == WATER
    assert opened(SETTLED, "") == calls_for(SUBJECT, "no-valve.open") == 0
    assert can_open(SUBJECT, "water-valve.open")
    assert not can_open(SUBJECT, "")
    assert any_firing(SUBJECT, SETTLED) == pumping(SUBJECT, SETTLED) == WATER | ROOMS
    assert [load.name for load in pump_loads(SUBJECT.circuit)] == ["pump.motor"]
    assert not heated_otherwise(SUBJECT, "water-valve.open")
    assert not heated_otherwise(SUBJECT, "")


def test_live_dead_and_joined() -> None:
    assert live(SUBJECT, "programmer.on-1") == SPACE.where("programmer.channel-1")
    assert dead(SUBJECT, "programmer.on-1") == SPACE.everywhere & ~SPACE.where("programmer.channel-1")
    assert live(SUBJECT, "boiler.L") == SPACE.everywhere
    assert dead(SUBJECT, "boiler.L") == 0
    assert joined_to(SUBJECT, SUBJECT.circuit.supplies[0].neutral, "pump.N") == SPACE.everywhere
    assert joined_points(SUBJECT, SETTLED, "room-thermostat.common", "heating-valve.motor") == SPACE.where(
        "room-thermostat.calling"
    )


def test_ways() -> None:
    steps = way_between(SUBJECT, SETTLED, ROOMS, "programmer.on-2", "heating-valve.motor")
    assert [step.to for step in steps][-1] == "heating-valve.motor"
    assert way_between(SUBJECT, SETTLED, 0, "programmer.on-2", "heating-valve.motor") == ()
    (pump,) = pump_loads(SUBJECT.circuit)
    assert way_of_load(SUBJECT, SETTLED, WATER, pump)[-1].to == "pump.L"
    assert way_of_load(SUBJECT, SETTLED, 0, pump) == ()


def test_where_from() -> None:
    """From rest where it is so from rest."""
    assert first_answer(SUBJECT, When(WATER)) == (SETTLED, WATER)
    assert first_answer(SUBJECT, When(0)) == (SETTLED, 0)


def test_devices_and_their_settings() -> None:
    circuit = house(
        devices={
            "spur": ("fused-spur", {"fuse_a": 5}),
            "own": ("own-circuit", {"breaker_a": 32}),
            "boiler": ("boiler", {"overrun": True, "pump_output": True}),
            "plain": "boiler",
            "box": ("wiring-centre", {"terminals": ["A", "B"]}),
        },
        conductors=[("spur.L", "box.A", "BN"), ("boiler.L", "box.A", "BN")],
        links=[["box.A", "box.B"]],
    )
    spur, own = circuit.device("spur"), circuit.device("own")
    assert (rating_of(spur), rated_a(spur)) == ("fuse_a", 5.0)
    assert (rating_of(own), rated_a(own)) == ("breaker_a", 32.0)
    assert isolator_of(spur) == "spur.isolator"
    assert isolator_of(circuit.device("plain")) == ""
    assert overrun_of(circuit.device("boiler")) == "boiler.overrun"
    assert overrun_of(circuit.device("plain")) == ""
    assert [place.terminal.name for place in terminals_of(circuit, "box")] == ["A", "B"]
    assert [item.is_link for item in conductors_at(circuit, "box.A")] == [False, False, True]
    assert [place.ref for place in with_role(circuit, Role.PERMANENT_LINE)] == ["boiler.L", "plain.L"]
