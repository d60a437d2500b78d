"""Currents through fuses and contacts, and volts lost on the way, on small circuits reckoned by hand.

I = P / (230 V * power factor). Volts lost: mV/A/m of the cord (BS 7671, Table 4F3B) times ampere times metres.
"""

from collections.abc import Mapping
from typing import Any

import pytest

from generator.circuit.model import Circuit
from tests.circuits import Kinds, Wire, house
from tests.unit.rules.looking import seen, subjects

FUSE, CONTACT, DROP = "load-over-fuse", "contact-overloaded", "volt-drop-over-limit"


def heater(watts: float, *, contact_a: float | None = 16, cables: Mapping[str, Any] | None = None) -> Circuit:
    """An immersion heater behind a thermostat, on a spur of 13 A; another spur, in order, comes first."""
    devices: Kinds = {
        "first-spur": "fused-spur",
        "lamp-pump": "pump",
        "spur": ("fused-spur", {"fuse_a": 13}),
        "first-stat": "room-thermostat",
        "stat": ("room-thermostat", {"contact_a": contact_a}),
        "heater": ("immersion-heater", {"watts": watts}),
    }
    wires: list[Wire] = [
        ("first-spur.L", "first-stat.common", "BN"),
        ("first-stat.call", "lamp-pump.L", "BK"),
        ("first-spur.N", "lamp-pump.N", "BU"),
        ("spur.L", "stat.common", "BN"),
        ("stat.call", "heater.L", "BK"),
        ("spur.N", "heater.N", "BU", "heater"),
    ]
    return house(devices=devices, conductors=wires, cables=cables or {})


def test_over_the_fuse() -> None:
    """3100 W / 230 V = 13.5 A, past 13 A and a hundredth; 3000 W draws 13.04 A, which is let pass."""
    (only,) = seen(FUSE, heater(3100))
    assert (only.subject, only.key) == ("spur", True)
    assert only.message == "the loads of the spur draw 13.5 A together through a fuse of 13 A"
    assert "the stat is calling for heat" in only.holds
    assert seen(FUSE, heater(3000)) == []


@pytest.mark.parametrize(
    ("watts", "rated", "message"),
    [
        (3000, 10, "the contact of the stat carries 13.0 A and is rated 10 A"),
        (1000, 4, "the contact of the stat carries 4.3 A and is rated 4 A"),
        (1000, 5, None),
        (3000, None, None),
    ],
)
def test_over_a_contact(watts: float, rated: float | None, message: str | None) -> None:
    """The other thermostat, which carries a pump, is in order."""
    told = [each.message for each in seen(CONTACT, heater(watts, contact_a=rated))]
    assert told == ([message] if message else [])


def test_less_than_an_ampere_over_a_small_contact() -> None:
    """A pump of 60 W at a power factor of 0.9 draws 0.29 A."""
    circuit = house(
        devices={
            "spur": "fused-spur",
            "stat": ("room-thermostat", {"contact_a": 0.2}),
            "pump": ("pump", {"watts": 60}),
        },
        conductors=[
            ("spur.L", "stat.common", "BN"),
            ("stat.call", "pump.L", "BK"),
            ("spur.N", "pump.N", "BU", "pump"),
        ],
    )
    (only,) = seen(CONTACT, circuit)
    assert only.message == "the contact of the stat carries 0.3 A and is rated 0.2 A"


def test_a_load_that_another_way_feeds_as_well_does_not_count() -> None:
    """With a core across the contact nobody can say how much flows through it."""
    circuit = heater(3000, contact_a=10)
    assert subjects(CONTACT, circuit) == ["stat"]
    devices: Kinds = {
        "spur": ("fused-spur", {"fuse_a": 13}),
        "stat": ("room-thermostat", {"contact_a": 10}),
        "heater": "immersion-heater",
    }
    wires: list[Wire] = [
        ("spur.L", "stat.common", "BN"),
        ("stat.call", "heater.L", "BK"),
        ("stat.common", "stat.call", "RD"),
        ("spur.N", "heater.N", "BU", "heater"),
    ]
    assert subjects(CONTACT, house(devices=devices, conductors=wires)) == []


LONG = {"size_mm2": 1.5, "length_m": 60}


def test_volts_lost_in_one_core_of_two() -> None:
    """13.04 A at 32 mV/A/m: the heater's cable carries the way back alone, half of 25.0 V in 60 m."""
    (only,) = seen(DROP, heater(3000, cables={"heater": LONG}))
    assert only.subject == "heater"
    assert " loses 12.5 V on its way, in cable `heater`; 11.5 V is the most" in only.message
    assert "the stat is calling for heat" in only.holds
    assert "first" not in only.holds


def test_two_cables_add_up() -> None:
    """35 m out and 35 m back are 14.6 V; each alone would be half of that. The longest is where it stands."""
    cables = {"stat": {"size_mm2": 1.5, "length_m": 34}, "heater": {"size_mm2": 1.5, "length_m": 36}}
    circuit = heater(3000, cables=cables)
    (only,) = seen(DROP, circuit)
    assert " loses 14.6 V on its way, in cable `stat` and cable `heater`; " in only.message
    assert only.path[-2:] == ("heater", "length_m")


@pytest.mark.parametrize(
    "cable",
    [
        {"size_mm2": 1.5},
        {"length_m": 60},
        {"size_mm2": 1.5, "length_m": 40},
        {"size_mm2": 2.5, "length_m": 60},
    ],
)
def test_no_volts_are_reckoned_from_half_the_facts(cable: Mapping[str, Any]) -> None:
    """Nor is a cable told that is short or thick enough: 40 m lose 8.3 V, and 2.5 mm2 loses 7.4 V in 60 m."""
    assert seen(DROP, heater(3000, cables={"heater": cable})) == []
