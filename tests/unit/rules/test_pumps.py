"""Pumps with and without a call, in houses that have several, judged by hand."""

import pytest

from generator.circuit.model import Circuit
from generator.findings.finding import Severity
from generator.rules.example_house import HOUSE, OVERRUN, added, change, moved, without
from tests.circuits import Kinds, Wire, house
from tests.unit.rules.looking import found, seen, subjects

DEVICES: Kinds = {
    "spur": "fused-spur",
    "clock": ("programmer", {"channels": 2}),
    "first-pump": "pump",
    "second-pump": "pump",
    "boiler": "boiler",
}
ZONES = {"flat": {"serves": "heating", "channel": "clock.1", "pump": "first-pump"}}
SUPPLY: tuple[Wire, ...] = (
    ("spur.L", "clock.L", "BN"),
    ("spur.N", "clock.N", "BU"),
    ("spur.N", "first-pump.N", "BU", "first-pump"),
    ("spur.N", "second-pump.N", "BU", "second-pump"),
    ("spur.L", "boiler.L", "BN", "boiler"),
    ("spur.N", "boiler.N", "BU", "boiler"),
    ("clock.on-1", "boiler.call", "BK", "boiler"),
)


def small(*wires: Wire) -> Circuit:
    return house(devices=DEVICES, conductors=[*SUPPLY, *wires], zones=ZONES)


def test_a_pump_in_order_does_not_hide_the_next() -> None:
    circuit = small(
        ("clock.on-1", "first-pump.L", "BN", "first-pump"), ("spur.L", "second-pump.L", "BN", "second-pump")
    )
    (only,) = seen("pump-on-without-call", circuit)
    assert only.subject == "second-pump"
    assert only.message == "the second pump runs though no zone calls, by `spur.L` > `second-pump.L`"
    assert only.holds == "while nothing calls"
    assert not only.key


def test_without_zones_nobody_knows_what_a_call_is() -> None:
    circuit = house(devices=DEVICES, conductors=[*SUPPLY, ("spur.L", "second-pump.L", "BN", "second-pump")])
    assert subjects("pump-on-without-call", circuit) == []


def test_a_pump_that_runs_with_the_boiler_is_told_of_the_boiler() -> None:
    """Both are on with the second channel, which no zone has."""
    circuit = small(
        ("clock.on-2", "boiler.call", "GY", "wrong"),
        ("clock.on-2", "second-pump.L", "BN", "second-pump"),
        ("clock.on-1", "first-pump.L", "BN", "first-pump"),
    )
    assert subjects("pump-on-without-call", circuit) == []
    assert subjects("boiler-on-without-call", circuit) == ["boiler"]


NO_BYPASS = (("  bypass: bypass\n", "  bypass: none\n"), ("  bypass: { kind: automatic-bypass }\n", ""))
NOT_SEEN = (("  bypass: bypass\n", ""), ("  bypass: { kind: automatic-bypass }\n", ""))
ALWAYS_ON = moved(HOUSE, "- { to: pump.L, core: BN }", after="- { to: programmer.L, core: BN }")


@pytest.mark.parametrize(
    ("record", "severity"),
    [
        (change(ALWAYS_ON, *NO_BYPASS), Severity.ERROR),
        (change(ALWAYS_ON, *NOT_SEEN), Severity.WARNING),
        (ALWAYS_ON, None),
        (change(HOUSE, *NO_BYPASS), None),
    ],
)
def test_a_pump_against_shut_valves_by_its_bypass(record: str, severity: Severity | None) -> None:
    told = found("pump-against-shut-valves", record)
    assert [each.severity for each in told] == ([] if severity is None else [severity])
    for each in told:
        # Neither thermostat is reached without its channel; with both its valve opens.
        assert each.holds == "while nothing calls"


def test_what_is_so_without_overrun_too_is_told_once() -> None:
    """The pump is on at all times: that it runs against shut valves during overrun is nothing new."""
    record = change(
        moved(OVERRUN, "- { to: pump.L, core: BN }", after="- { to: programmer.L, core: BN }"), *NO_BYPASS
    )
    assert found("pump-against-shut-valves", record)
    assert found("overrun-without-path", record) == []


def test_overrun_adds_to_the_states_that_are_so_without_it() -> None:
    """The channel of hot water runs the pump by a second core: shut valves with that alone, and during overrun at rest too."""
    record = change(
        added(OVERRUN, "- { to: pump.L, core: BK }", after="- { to: programmer.on-1, core: BK }"), *NO_BYPASS
    )
    assert len(found("pump-against-shut-valves", record)) == 1
    (only,) = found("overrun-without-path", record)
    assert only.holds.startswith("during overrun, ")
    assert "channel 1 of the programmer is off" in only.holds


@pytest.mark.parametrize(("fix", "severity"), [(NO_BYPASS, Severity.ERROR), (NOT_SEEN, Severity.NOTE)])
def test_overrun_by_its_bypass(fix: tuple[tuple[str, str], ...], severity: Severity) -> None:
    (only,) = found("overrun-without-path", change(OVERRUN, *fix))
    assert only.severity is severity
    assert only.holds == "during overrun, while nothing calls"


def test_overrun_that_is_lost_at_times_only() -> None:
    """The pump is on the end switches: during overrun with nothing calling it stands still, and runs with a call."""
    record = moved(OVERRUN, "- { to: pump.L, core: BN }", after="- { to: boiler.call, core: BK }")
    (only,) = found("overrun-does-not-run-the-pump", record)
    assert only.holds == "during overrun, while nothing calls"
    assert only.subject == "pump"
    assert only.message == "the boiler runs its pump output on and the pump stands still"


def test_overrun_without_a_permanent_live_is_told_as_that() -> None:
    """No output of the boiler's is live then: that is not for the pump's wiring."""
    record = without(
        moved(OVERRUN, "- { to: pump.L, core: BN }", after="- { to: boiler.call, core: BK }"),
        "- { to: boiler.L, core: BN }",
    )
    assert found("overrun-does-not-run-the-pump", record) == []


def test_a_boiler_without_overrun_runs_nothing_on() -> None:
    record = moved(HOUSE, "- { to: pump.L, core: BN }", after="- { to: water-thermostat.call, core: BK }")
    assert found("overrun-does-not-run-the-pump", record) == []


def test_a_boiler_that_fires_while_its_pump_stands_still() -> None:
    record = moved(HOUSE, "- { to: pump.L, core: BN }", after="- { to: water-thermostat.call, core: BK }")
    (only,) = found("boiler-on-without-pump", record)
    assert only.holds == "whenever hot water does not call and heating calls"
    assert only.message == "a zone calls, the boiler fires, and the pump does not run"


def test_hot_water_by_gravity_needs_no_pump() -> None:
    """Its circuit is recorded so; one that nobody recorded may be by gravity too."""
    record = moved(HOUSE, "- { to: pump.L, core: BN }", after="- { to: room-thermostat.call, core: BK }")
    assert [each.holds for each in found("boiler-on-without-pump", record)] == [
        "whenever hot water calls and heating does not call"
    ]
    gravity = change(record, ("feeds: cylinder coil }", "feeds: cylinder coil, gravity: true }"))
    assert found("boiler-on-without-pump", gravity) == []
    not_recorded = change(record, ("    hot-water: { valve: water-valve, feeds: cylinder coil }\n", ""))
    assert found("boiler-on-without-pump", not_recorded) == []


def test_the_state_that_is_told_of_an_overrun_that_is_lost() -> None:
    """With channel 1 off its off terminal feeds the pump: it stands still only with that channel on and nothing calling."""
    record = moved(OVERRUN, "- { to: pump.L, core: BN }", after="- { to: boiler.call, core: BK }")
    record = change(
        added(record, "- { to: programmer.off-1, core: WH }", after="- { to: boiler.call, core: BK }"),
        ("settings: { channels: 2 }", "settings: { channels: 2, off_terminals: [1] }"),
    )
    (only,) = found("overrun-does-not-run-the-pump", record)
    assert only.example.startswith("during overrun, with only channel 1 of the programmer on: ")


def test_a_pump_without_a_conductor_is_told_at_the_device() -> None:
    """It has no line of its own to point at: the name of the device is."""
    bare = without(HOUSE, "- { to: pump.L, core: BN }")
    (line,) = (number for number, row in enumerate(bare.splitlines(), 1) if "pump: { kind: pump }" in row)
    (only,) = found("boiler-on-without-pump", bare)
    assert (only.span.line, only.span.column) == (line, 3)
    (only,) = found("overrun-does-not-run-the-pump", without(OVERRUN, "- { to: pump.L, core: BN }"))
    assert only.span.column == 3


def test_the_state_that_is_told_of_an_overrun_without_a_way() -> None:
    """With channel 1 off the pump runs against shut valves anyhow: overrun adds the states with that channel on."""
    record = change(
        added(OVERRUN, "- { to: programmer.off-1, core: WH }", after="- { to: boiler.pump, core: GY }"),
        ("settings: { channels: 2 }", "settings: { channels: 2, off_terminals: [1] }"),
        *NO_BYPASS,
    )
    (only,) = found("overrun-without-path", record)
    assert only.example.startswith("during overrun, with only channel 1 of the programmer on: ")
