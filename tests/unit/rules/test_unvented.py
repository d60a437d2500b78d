"""Unvented cylinders: the cut-out, what it cuts, and the relief valve, where the record says much or little. By hand.

Approved Document G, 3.17 to 3.31; that what is not recorded is taken for the worse: common practice, no source.
"""

import re

import pytest

from generator.findings.finding import Severity
from generator.rules.example_house import HOUSE, IMMERSION, UNVENTED, change, without
from tests.unit.rules.looking import found

NO_CUT_OUT, IDLE, RELIEF = (
    "unvented-without-cut-out",
    "unvented-cut-out-does-nothing",
    "unvented-without-relief-valve",
)
BARE = ("settings: { system: vented }", "settings: { system: unvented, relief_valve: seen }")
TAKEN = "; the record has no way of boiler water to it, so it is taken to be heated by the boiler"
COIL = "    hot-water: { valve: water-valve, feeds: cylinder coil }\n"
ZONE = "  hot-water: { serves: hot water, channel: programmer.1, thermostat: water-thermostat, valve: water-valve }\n"


def no_water(record: str) -> str:
    """Without zones and without the water side."""
    return re.sub(r"\nzones:.*", "\n", record, flags=re.DOTALL)


def coil_gone(record: str) -> str:
    """Without hot water's zone and circuit, and with those of heating."""
    return change(record, (COIL, ""), (ZONE, ""))


@pytest.mark.parametrize(
    ("record", "taken"),
    [
        (change(HOUSE, BARE), False),
        (change(HOUSE, BARE, (ZONE, "")), False),
        (change(HOUSE, BARE, (COIL, "")), False),
        (coil_gone(change(HOUSE, BARE)), True),
        (no_water(change(HOUSE, BARE)), True),
        (no_water(change(IMMERSION, BARE)), True),
    ],
    ids=[
        "zone and circuit",
        "circuit",
        "zone",
        "heating alone",
        "nothing",
        "nothing, and an immersion heater",
    ],
)
def test_no_cut_out(record: str, taken: bool) -> None:
    (only,) = found(NO_CUT_OUT, record)
    assert only.severity is Severity.DANGER
    assert (
        only.message == f"the cylinder is unvented and no energy cut-out is recorded{TAKEN if taken else ''}"
    )


@pytest.mark.parametrize(
    "record",
    [
        coil_gone(change(IMMERSION, BARE)),
        change(
            HOUSE, ("{ system: vented }", "{ system: unvented, relief_valve: seen, cut_out: on the boiler }")
        ),
        HOUSE,
        UNVENTED,
        change(
            coil_gone(HOUSE),
            BARE,
            (
                "\n  pump: on the flow\n",
                "\n    sun: { source: sun, feeds: cylinder coil }\n  sources: { sun: { of: solar } }\n  pump: on the flow\n",
            ),
        ),
    ],
    ids=["an immersion heater heats it", "cut-out on the boiler", "vented", "wired", "the sun heats it"],
)
def test_no_cut_out_is_wanted(record: str) -> None:
    assert found(NO_CUT_OUT, record) == []


def idle(record: str) -> list[str]:
    return [each.message for each in found(IDLE, record)]


TRIPPED = "with the energy cut-out of the cylinder tripped the boiler still heats it"
PAST = change(
    UNVENTED,
    ("        - { to: water-valve.motor, core: BN }\n", ""),
    (
        "        - { to: water-thermostat.call, core: BK }\n",
        "        - { to: water-thermostat.call, core: BK }\n        - { to: water-valve.motor, core: BN }\n",
    ),
)
"""The motor before the cut-out, not behind it."""


@pytest.mark.parametrize(
    ("record", "messages"),
    [
        (UNVENTED, []),
        (PAST, [TRIPPED]),
        (coil_gone(UNVENTED), []),
        (coil_gone(PAST), [TRIPPED + TAKEN]),
        (no_water(UNVENTED), []),
        (no_water(PAST), [TRIPPED + TAKEN]),
        (change(PAST, ("system: unvented", "system: vented")), []),
    ],
)
def test_a_cut_out_that_cuts_nothing(record: str, messages: list[str]) -> None:
    """Of a coil that is not recorded a valve that serves nothing else, and that the cut-out keeps shut, may be the way."""
    assert idle(record) == messages


def test_in_which_states_it_heats_all_the_same() -> None:
    (only,) = found(IDLE, PAST)
    assert only.holds == "whenever hot water calls"


def test_a_valve_of_heating_is_no_way_to_a_coil_that_is_not_recorded() -> None:
    """The cut-out is in the line of the heating valve, which its zone and circuit take: that protects no cylinder."""
    record = change(
        coil_gone(PAST),
        ("        - { to: cylinder.cut-out-in, core: BN }\n", ""),
        ("        - { to: cylinder.cut-out-out, core: BK }\n", ""),
        (
            "        - { to: heating-valve.motor, core: BN }\n",
            "        - { to: cylinder.cut-out-in, core: BN }\n",
        ),
        (
            "      B2: # hot water calls, through the cut-out\n",
            "      B2: # heating calls, through the cut-out\n        - { to: cylinder.cut-out-out, core: BK }\n        - { to: heating-valve.motor, core: BN }\n",
        ),
    )
    assert idle(record) == [TRIPPED + TAKEN]


@pytest.mark.parametrize(
    ("relief", "severity", "ending", "fix"),
    [
        ("none", Severity.DANGER, "has no temperature relief valve", "Take the cylinder out of use"),
        (
            "not seen",
            Severity.NOTE,
            "nobody has seen its temperature relief valve",
            "Look for it at the next visit",
        ),
    ],
)
def test_relief_valves(relief: str, severity: Severity, ending: str, fix: str) -> None:
    record = change(UNVENTED, ("relief_valve: seen", f"relief_valve: {relief}"))
    (only,) = found(RELIEF, record)
    assert only.severity is severity
    assert only.message == f"the cylinder is unvented and {ending}"
    assert only.fix.startswith(fix)
    assert found(RELIEF, change(record, ("system: unvented", "system: vented"))) == []


def test_a_cut_out_without_its_zone_is_tried_on_what_opens() -> None:
    """The water thermostat is lost too: nothing opens for hot water, and the boiler fires for heating alone."""
    record = without(coil_gone(UNVENTED), "- { to: water-thermostat.call, core: BK }")
    assert idle(record) == [TRIPPED + TAKEN]
