"""Terminals: empty ones, cores that land nowhere, and two conductors in one, on small circuits judged by hand."""

from collections.abc import Sequence

import pytest

from generator.findings.finding import Severity
from generator.rules.example_house import HOUSE, change, without
from tests.circuits import Kinds, Wire, house
from tests.unit.rules.looking import found, seen

EMPTY, TWICE, NOWHERE = "terminal-left-empty", "terminal-landed-twice", "core-landed-nowhere"
DEVICES: Kinds = {
    "spur": "fused-spur",
    "box": ("wiring-centre", {"terminals": ["A", "L", "N"]}),
    "clock": ("time-switch", {"channels": 1}),
    "boiler": "boiler",
    "pump": "pump",
}


@pytest.mark.parametrize(
    ("lines", "subject", "message", "severity"),
    [
        (["- { to: boiler.L, core: BN }"], "boiler", "nothing lands in `L` of the boiler", Severity.ERROR),
        (
            ["- { to: boiler.call, core: BK }"],
            "boiler",
            "nothing lands in `call` of the boiler",
            Severity.WARNING,
        ),
        (
            ["- { to: programmer.L, core: BN }"],
            "programmer",
            "nothing lands in `L` of the programmer",
            Severity.WARNING,
        ),
        (["- { to: spur.N, core: BU }"], "spur", "nothing lands in `N` of the spur", Severity.WARNING),
        (
            ["- { to: room-thermostat.common, core: BN }", "- { to: room-thermostat.call, core: BK }"],
            "room-thermostat",
            "the room thermostat has no conductor at all",
            Severity.WARNING,
        ),
        (
            ["- { to: spur.L, core: BN }", "- { to: spur.N, core: BU }"],
            "spur",
            "nothing lands in `L` and `N` of the spur",
            Severity.WARNING,
        ),
        (
            ["- { to: heating-valve.switch-a, core: GY }"],
            "heating-valve",
            "nothing lands in `switch-a` of the heating valve",
            Severity.WARNING,
        ),
    ],
)
def test_a_terminal_that_is_needed(lines: list[str], subject: str, message: str, severity: Severity) -> None:
    """A boiler without its permanent live never fires, which is an error; the rest may still work."""
    (only,) = found(EMPTY, without(HOUSE, *lines))
    assert (only.subject, only.message, only.severity) == (subject, message, severity)


@pytest.mark.parametrize(
    "lines",
    [
        ["- { to: pump.N, core: BU }"],
        ["- { to: pump.E, core: GNYE }"],
        ["- { to: spur.E, core: GNYE }"],
        ["- { to: heating-valve.switch-a, core: GY }", "- { to: heating-valve.switch-b, core: OG }"],
        ["- { to: programmer.on-1, core: BK }"],
    ],
    ids=[
        "neutral of a load",
        "earth",
        "earth of the spur",
        "both sides of an end switch",
        "an output not used",
    ],
)
def test_a_terminal_that_other_rules_or_none_ask_for(lines: list[str]) -> None:
    assert found(EMPTY, without(HOUSE, *lines)) == []


def test_one_device_in_order_does_not_hide_the_next() -> None:
    record = without(HOUSE, "- { to: programmer.L, core: BN }", "- { to: pump.L, core: BN }")
    assert [each.subject for each in found(EMPTY, record)] == ["programmer", "pump"]


@pytest.mark.parametrize(
    ("cores", "message"),
    [
        ("BK, BN, BU", "core BU of cable `water-thermostat` lands nowhere and is not listed as spare"),
        (
            "BK, BN, BU, GY",
            "cores BU and GY of cable `water-thermostat` land nowhere and are not listed as spare",
        ),
    ],
)
def test_how_cores_that_land_nowhere_are_told(cores: str, message: str) -> None:
    record = change(
        HOUSE, ("water-thermostat: { cores: [BK, BN],", f"water-thermostat: {{ cores: [{cores}],")
    )
    (only,) = found(NOWHERE, record)
    assert only.message == message


def test_a_core_of_another_cable_is_not_the_missing_one() -> None:
    circuit = house(
        devices=DEVICES,
        conductors=[("clock.L", "box.L", "BN"), ("clock.on-1", "box.A", "BK")],
        cables={"boiler": {"cores": ["BN"]}, "clock": {"cores": ["BN", "BK", "BU"]}},
        spare=[{"cable": "clock", "core": "BU", "how": "in a connector"}],
    )
    assert [each.subject for each in seen(NOWHERE, circuit)] == ["boiler"]


@pytest.mark.parametrize(
    ("wires", "looped"),
    [
        ((("boiler.N", "box.N", "BU"), ("boiler.N", "pump.N", "BU", "pump")), True),
        ((("boiler.L", "box.L", "BN"), ("boiler.L", "clock.L", "BN", "clock")), True),
        ((("clock.L", "spur.L", "BN"), ("clock.L", "boiler.L", "BN", "loop")), True),
        ((("boiler.E", "box.A", "GNYE"), ("boiler.E", "pump.E", "GNYE", "pump")), True),
        ((("boiler.N", "box.N", "BU"), ("boiler.N", "pump.L", "BU", "pump")), False),
        ((("clock.L", "spur.N", "BN"), ("clock.L", "boiler.L", "BN", "loop")), False),
        ((("boiler.N", "spur.N", "BU"), ("boiler.N", "pump.N", "BU", "pump")), True),
        ((("boiler.call", "box.A", "BK"), ("boiler.call", "pump.L", "BN", "pump")), False),
        ((("clock.on-1", "box.A", "BK"), ("clock.on-1", "boiler.call", "GY")), False),
    ],
)
def test_two_conductors_in_a_terminal_of_a_device(wires: Sequence[Wire], looped: bool) -> None:
    """Looping permanent live, neutral or earth from device to device is common practice; anything else wants a look."""
    place = wires[0][0]
    found_ = [each for each in seen(TWICE, house(devices=DEVICES, conductors=wires)) if each.subject == place]
    (only,) = found_
    assert only.severity is (Severity.NOTE if looped else None)
    assert only.message.endswith(", which loops the supply on") is looped
    assert only.message.startswith("2 conductors land in terminal ")


def test_three_are_told_at_the_second() -> None:
    wires: list[Wire] = [
        ("boiler.call", "box.A", "BK"),
        ("boiler.call", "pump.L", "BN"),
        ("boiler.call", "clock.on-1", "GY"),
    ]
    circuit = house(devices=DEVICES, conductors=wires)
    (only,) = seen(TWICE, circuit)
    assert only.message.startswith("3 conductors")
    assert only.path == circuit.conductors[1].path
    assert [path for path, _ in only.related] == [circuit.conductors[0].path, circuit.conductors[2].path]


def test_spurs_boxes_controllers_and_links_may_have_two() -> None:
    """And the first of these, in order, does not hide what comes after it."""
    circuit = house(
        devices={**DEVICES, "controller": ("zone-controller", {"zones": 1})},
        conductors=[
            ("spur.L", "box.L", "BN"),
            ("spur.L", "clock.L", "RD"),
            ("controller.L", "box.L", "BN"),
            ("controller.L", "box.A", "RD"),
            ("boiler.N", "box.N", "BU"),
            ("pump.L", "box.A", "BN"),
            ("pump.L", "clock.on-1", "BK"),
        ],
        links=[["boiler.N", "boiler.E"]],
    )
    assert [each.subject for each in seen(TWICE, circuit)] == ["pump.L"]
