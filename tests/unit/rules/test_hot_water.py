"""Stored hot water: its thermostat, its times, and where a finding on it stands. By hand."""

import pytest

from generator.findings.finding import Severity
from generator.rules.example_house import HOUSE, change, moved, without
from tests.unit.rules.looking import found, rule_of

NO_STAT, TIMES = "stored-water-without-thermostat", "hot-water-time-not-independent"
COIL = "    hot-water: { valve: water-valve, feeds: cylinder coil }\n"
ZONE = "  hot-water: { serves: hot water, channel: programmer.1, valve: water-valve }\n"
SUN = "    sun: { source: sun, feeds: cylinder coil }\n"
SOURCE = ("  pump: on the flow\n", "  sources: { sun: { of: solar, device: solar } }\n  pump: on the flow\n")
SOLAR = (
    "  bypass: { kind: automatic-bypass }\n",
    "  bypass: { kind: automatic-bypass }\n  solar: { kind: solar-station }\n",
)
WRONG = rule_of(NO_STAT).wrong
"""The house without a cylinder thermostat: the channel goes straight to the valve."""


def line_of(record: str, text: str) -> int:
    (number,) = (number for number, row in enumerate(record.splitlines(), 1) if text in row)
    return number


@pytest.mark.parametrize(
    ("record", "at", "subject", "words"),
    [
        (WRONG, ZONE, "hot-water", "hot water"),
        (change(WRONG, (ZONE, "")), COIL, "hot-water", "the cylinder"),
        (change(WRONG, (COIL, "")), ZONE, "hot-water", "hot water"),
        (change(WRONG, (ZONE, ""), (COIL, f"{SUN}{COIL}"), SOURCE, SOLAR), COIL, "hot-water", "the cylinder"),
    ],
    ids=["zone and circuit", "circuit", "zone", "circuit behind that of the sun"],
)
def test_where_it_stands(record: str, at: str, subject: str, words: str) -> None:
    (only,) = found(NO_STAT, record)
    assert only.subject == subject
    assert only.message == f"the boiler heats {words} and the cylinder has no thermostat"
    assert only.span.line == line_of(record, at.strip())
    assert only.span.column == at.index("hot-water") + 1


def test_a_thermostat_that_stops_nothing() -> None:
    """It is there, and a core goes past it."""
    record = change(
        HOUSE,
        ("        - { to: water-valve.motor, core: BN }\n", ""),
        (
            "        - { to: programmer.on-1, core: BK }\n",
            "        - { to: programmer.on-1, core: BK }\n        - { to: water-valve.motor, core: BN }\n",
        ),
    )
    (only,) = found(NO_STAT, record)
    assert only.message == "the boiler heats hot water and no thermostat on the cylinder stops it"
    assert only.holds == "whenever channel 1 of the programmer is on"


def test_a_coil_without_a_valve_is_always_open() -> None:
    """Gravity: the boiler heats it whenever it fires, be it for heating."""
    record = change(
        without(WRONG, "- { to: water-valve.motor, core: BN }"),
        (ZONE, ""),
        (COIL, "    hot-water: { feeds: cylinder coil, gravity: true }\n"),
    )
    (only,) = found(NO_STAT, record)
    assert only.holds == "whenever anything calls"


def test_crossed_zones_are_told_as_that() -> None:
    """Each thermostat works the other's valve: hot water has no thermostat of its own only because of the crossing."""
    record = rule_of("crossed-zones").wrong
    assert found("crossed-zones", record)
    assert found(NO_STAT, record) == []


def test_water_that_the_boiler_never_heats() -> None:
    assert found(NO_STAT, without(WRONG, "- { to: boiler.call, core: BK }")) == []


@pytest.mark.parametrize(("status", "severity"), [(", status: new", Severity.WARNING), ("", Severity.NOTE)])
def test_times_of_the_heating(status: str, severity: Severity) -> None:
    """Both thermostats hang on channel 1."""
    record = moved(
        HOUSE, "- { to: room-thermostat.common, core: BN }", after="- { to: programmer.on-1, core: BK }"
    )
    record = change(record, ("floor_area_m2: 82 }", f"floor_area_m2: 82{status} }}"))
    (only,) = found(TIMES, record)
    assert only.severity is severity
    assert only.message == "hot water has the times of the heating"


def test_no_times_at_all() -> None:
    """The cylinder thermostat is on the permanent live."""
    record = moved(
        HOUSE, "- { to: water-thermostat.common, core: BN }", after="- { to: programmer.L, core: BN }"
    )
    (only,) = found(TIMES, record)
    assert only.message == "hot water has no times of its own"


@pytest.mark.parametrize("lost", ["heating-valve", "water-valve"])
def test_without_one_of_the_two_there_is_nothing_to_compare(lost: str) -> None:
    record = moved(
        HOUSE, "- { to: room-thermostat.common, core: BN }", after="- { to: programmer.on-1, core: BK }"
    )
    assert found(TIMES, without(record, f"- {{ to: {lost}.motor, core: BN }}")) == []


def test_each_has_its_own() -> None:
    assert found(TIMES, HOUSE) == []


def test_times_go_by_the_valves_where_no_boiler_fires() -> None:
    """That the boiler is not called is another fault, and does not hide this one."""
    record = moved(
        HOUSE, "- { to: room-thermostat.common, core: BN }", after="- { to: programmer.on-1, core: BK }"
    )
    (only,) = found(TIMES, without(record, "- { to: boiler.call, core: BK }"))
    assert only.message == "hot water has the times of the heating"


def test_a_boiler_that_fires_at_all_times_heats_only_what_is_open() -> None:
    record = moved(WRONG, "- { to: boiler.call, core: BK }", after="- { to: spur.L, core: BN }")
    (only,) = found(NO_STAT, record)
    assert only.holds == "whenever hot water calls"
