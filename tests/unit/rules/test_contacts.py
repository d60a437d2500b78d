"""Contacts of thermostats and valves: which side is fed, and what a spring does. By hand."""

from collections.abc import Sequence

import pytest

from generator.findings.finding import Severity
from generator.rules.example_house import HOUSE, UNVENTED, change
from generator.rules.turned_contacts import _beside
from tests.circuits import Wire, house
from tests.unit.rules.looking import found, subjects


def turned(thermostat: str) -> str:
    """The house with the two cores of a thermostat exchanged."""
    return change(
        HOUSE,
        (f"{{ to: {thermostat}.common, core: BN }}", f"{{ to: {thermostat}.call, core: BK }}"),
        (f"{{ to: {thermostat}.call, core: BK }}", f"{{ to: {thermostat}.common, core: BN }}"),
    )


def test_a_plain_contact_is_alike_on_both_sides() -> None:
    assert found("thermostat-fed-at-its-output", turned("room-thermostat")) == []


def test_a_change_over_contact_is_not() -> None:
    (only,) = found("thermostat-fed-at-its-output", turned("water-thermostat"))
    assert only.message.endswith(
        "takes its line in at `call` and gives it out at `common`: its other output is then live at the wrong times"
    )
    assert only.holds == "whenever channel 1 of the programmer is on and the water thermostat is satisfied"


@pytest.mark.parametrize(
    ("wires", "told"),
    [
        ((("stat.common", "clock.on-1", "BN"), ("stat.call", "valve.motor", "BK")), False),
        ((("stat.call", "clock.on-1", "BN"), ("stat.common", "valve.motor", "BK")), True),
        ((("stat.call", "clock.on-1", "BN"),), False),
    ],
)
def test_a_thermostat_with_a_heater_inside(wires: Sequence[Wire], told: bool) -> None:
    """Its heater hangs on one side of the contact; what lands on one side only is not turned round."""
    circuit = house(
        devices={
            "spur": "fused-spur",
            "clock": ("time-switch", {"channels": 1}),
            "stat": ("room-thermostat", {"wires": 3}),
            "valve": "two-port-valve",
        },
        conductors=[("spur.L", "clock.L", "BN"), ("spur.N", "stat.N", "BU"), *wires],
    )
    assert subjects("thermostat-fed-at-its-output", circuit) == (["stat"] if told else [])


def test_both_end_switches_fed_on_orange_are_told() -> None:
    """A valve without an end switch, and one that is fed on grey, come before those."""
    record = change(
        HOUSE,
        ("{ to: heating-valve.switch-a, core: GY }", "{ to: heating-valve.switch-b, core: OG }"),
        ("{ to: heating-valve.switch-b, core: OG }", "{ to: heating-valve.switch-a, core: GY }"),
        ("  heating-valve: { kind: two-port-valve }\n", ""),
        (
            "  water-valve: { kind: two-port-valve }\n",
            (
                "  plain-valve: { kind: two-port-valve, settings: { end_switch: none } }\n"
                "  water-valve: { kind: two-port-valve }\n"
                "  heating-valve: { kind: two-port-valve }\n"
            ),
        ),
    )
    (only,) = found("end-switch-fed-on-orange", record)
    assert (only.subject, only.severity) == ("heating-valve", Severity.NOTE)


def test_what_no_spring_shuts_is_told_once_a_valve() -> None:
    """Two circuits lead through it to the cylinder."""
    record = change(
        UNVENTED,
        ("water-valve: { kind: two-port-valve }", "water-valve: { kind: motor-open-motor-close-valve }"),
        ("{ to: water-valve.motor, core: BN }", "{ to: water-valve.open, core: BN }"),
        (
            "    hot-water: { valve: water-valve, feeds: cylinder coil }\n",
            (
                "    hot-water: { valve: water-valve, feeds: cylinder coil }\n"
                "    second-coil: { valve: water-valve, feeds: cylinder coil }\n"
            ),
        ),
    )
    assert [each.subject for each in found("unvented-valve-does-not-shut", record)] == ["water-valve"]


def test_what_is_beside_a_contact_hangs_on_one_of_its_sides() -> None:
    """The cut-out of a dual thermostat shares no side with the thermostat's contact, whose two outputs share one."""
    circuit = house(devices={"stat": "dual-thermostat"})
    device = circuit.device("stat")
    told = {contact.name: _beside(device, contact) for contact in device.parts.contacts}
    assert told["stat.cut-out"] == ""
    assert told["stat.call"] == told["stat.satisfied"] == "its other output is then live at the wrong times"
