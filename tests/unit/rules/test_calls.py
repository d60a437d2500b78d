"""Calls between controls, valves and boiler: houses in which one thing in order comes before one that is not, by hand."""

from dataclasses import replace

import pytest

from generator.rules.crossed import crossings
from generator.rules.example_house import FROST, HOUSE, added, change, moved, without
from generator.rules.example_three_port import DIVERTER, MID_POSITION
from tests.circuits import Kinds, Wire, house
from tests.short_houses import ZONE_PUMPS
from tests.unit.rules.looking import found, seen, subject_of, subjects

TWO_ZONES: Kinds = {
    "spur": "fused-spur",
    "clock": ("programmer", {"channels": 2}),
    "up-stat": "room-thermostat",
    "down-stat": "room-thermostat",
    "up-valve": "two-port-valve",
    "down-valve": "two-port-valve",
    "boiler": "boiler",
}
ZONES = {
    "up": {"serves": "heating", "channel": "clock.1", "thermostat": "up-stat", "valve": "up-valve"},
    "down": {"serves": "heating", "channel": "clock.2", "thermostat": "down-stat", "valve": "down-valve"},
}
DIRECT: tuple[Wire, ...] = (
    ("spur.L", "clock.L", "BN"),
    ("spur.N", "clock.N", "BU"),
    ("clock.on-1", "up-stat.common", "BK"),
    ("clock.on-2", "down-stat.common", "GY"),
    ("up-stat.call", "up-valve.motor", "BN"),
    ("down-stat.call", "down-valve.motor", "BN"),
    ("spur.N", "up-valve.N", "BU", "up-valve"),
    ("spur.N", "down-valve.N", "BU", "down-valve"),
)
"""Two zones without a wiring centre: one conductor from device to device."""


def two_zones(*changes: tuple[Wire, Wire]) -> list[Wire]:
    instead = dict(changes)
    assert set(instead) <= set(DIRECT)
    return [instead.get(wire, wire) for wire in DIRECT]


CROSSED = (
    (("up-stat.call", "up-valve.motor", "BN"), ("up-stat.call", "down-valve.motor", "BN")),
    (("down-stat.call", "down-valve.motor", "BN"), ("down-stat.call", "up-valve.motor", "BN")),
)


def test_a_crossing_that_one_swap_alone_puts_right() -> None:
    """Each thermostat has one conductor to the other's valve: no second pair does the same."""
    circuit = house(devices=TWO_ZONES, conductors=two_zones(*CROSSED), zones=ZONES)
    (crossing,) = crossings(subject_of(HOUSE, circuit))
    assert [(one.a, other.a) for one, other in crossing.swaps] == [("up-stat.call", "down-stat.call")]
    (only,) = seen("crossed-zones", circuit)
    assert "instead" not in only.fix
    assert only.message == "up and down are crossed: the controls of one work the valve of the other"
    assert only.example.startswith(
        "with only channel 1 of the clock on and the up stat calling for heat: line reaches it by "
    )
    assert subjects("zone-does-not-open-its-valve", circuit) == []
    assert subjects("valve-opens-without-its-call", circuit) == []


def test_zones_without_thermostats_are_crossed_by_their_channels_or_their_valves() -> None:
    """Each channel leads to the other's valve by a box: the two outputs can be exchanged, or the two motors."""
    circuit = house(
        devices={**TWO_ZONES, "box": ("wiring-centre", {"terminals": ["A", "B"]})},
        conductors=[
            *DIRECT[:2],
            ("clock.on-1", "box.A", "BK"),
            ("clock.on-2", "box.B", "GY"),
            ("down-valve.motor", "box.A", "BN"),
            ("up-valve.motor", "box.B", "BN"),
            *DIRECT[6:],
        ],
        zones={name: {key: zone[key] for key in zone if key != "thermostat"} for name, zone in ZONES.items()},
    )
    (crossing,) = crossings(subject_of(HOUSE, circuit))
    assert {frozenset((one.a, other.a)) for one, other in crossing.swaps} == {
        frozenset(("clock.on-1", "clock.on-2")),
        frozenset(("up-valve.motor", "down-valve.motor")),
    }


def test_zones_that_are_right_are_not_crossed() -> None:
    circuit = house(devices=TWO_ZONES, conductors=two_zones(), zones=ZONES)
    assert crossings(subject_of(HOUSE, circuit)) == ()


def test_two_zones_without_a_valve_between_them_are_not_crossed() -> None:
    """Both name one valve: that is for other rules."""
    zones = {name: {**zone, "valve": "up-valve"} for name, zone in ZONES.items()}
    circuit = house(devices=TWO_ZONES, conductors=two_zones(*CROSSED), zones=zones)
    assert crossings(subject_of(HOUSE, circuit)) == ()


def test_the_pump_of_a_zone_runs_for_another() -> None:
    """The core of the first zone's pump went to the second's."""
    record = ZONE_PUMPS + "wiring:\n  direct:\n    - { ends: [down-pump.L, up-pump.L], core: BN }\n"
    (only,) = found("valve-opens-without-its-call", record)
    assert only.subject == "down-pump"
    assert only.message.startswith("the down pump runs with no call of its own, fed by `spur.L` > ")
    assert only.message.endswith(" > `up-pump.L` > `down-pump.L`")
    assert only.holds == "whenever down does not call and up calls"
    assert found("valve-opens-without-its-call", ZONE_PUMPS) == []


def test_frost_is_not_blamed_for_what_another_call_does() -> None:
    """The boiler is called by a channel alone, with every valve shut; frost itself opens a valve first."""
    record = added(FROST, "- { to: boiler.call, core: GY }", after="- { to: programmer.on-1, core: BK }")
    record = without(record, "- { to: boiler.call, core: BK }")
    assert found("boiler-on-without-call", record)
    assert found("frost-without-open-path", record) == []


def test_frost_alone_by_its_states() -> None:
    """The pipe thermostat lets the call through while the pipe is cold; a zone's call opens a way."""
    record = moved(FROST, "- { to: pipe-thermostat.cold, core: BK }", after="- { to: boiler.call, core: BK }")
    (only,) = found("frost-without-open-path", record)
    assert only.subject == "frost-thermostat"
    assert only.message == "the frost thermostat fires the boiler with no circuit open"
    open_way = change(
        record, ("  pump: on the flow\n", "    towel: { feeds: towel rail }\n  pump: on the flow\n")
    )
    assert found("frost-without-open-path", open_way) == []


def test_a_diverter_s_heating_call_keeps_its_own_states() -> None:
    """Both call: the valve serves the cylinder by design, which is no call that opens nothing."""
    assert found("zone-does-not-open-its-valve", DIVERTER) == []
    assert found("diverter-goes-by-thermostat-alone", DIVERTER) == []


def test_a_zone_without_controls_is_crossed_with_none() -> None:
    """Its valve is on the other's call; after a swap it would never open, which nobody could call wrong."""
    circuit = house(
        devices=TWO_ZONES,
        conductors=[
            *two_zones(CROSSED[0])[:5],
            ("down-stat.call", "up-valve.motor", "BK", "loose"),
            *DIRECT[6:],
        ],
        zones={"up": ZONES["up"], "down": {"serves": "heating", "valve": "down-valve"}},
    )
    assert crossings(subject_of(HOUSE, circuit)) == ()


def test_a_boiler_that_is_on_besides_a_crossing_is_told() -> None:
    """The channels are exchanged, which explains that the boiler fires for nobody; the third channel calls it too."""
    circuit = house(
        devices={**TWO_ZONES, "clock": ("programmer", {"channels": 3})},
        conductors=[
            *two_zones(
                (("clock.on-1", "up-stat.common", "BK"), ("clock.on-1", "down-stat.common", "BK")),
                (("clock.on-2", "down-stat.common", "GY"), ("clock.on-2", "up-stat.common", "GY")),
            ),
            ("spur.L", "boiler.L", "BN", "boiler"),
            ("spur.N", "boiler.N", "BU", "boiler"),
            ("spur.L", "up-valve.switch-a", "GY", "up-valve"),
            ("spur.L", "down-valve.switch-a", "GY", "down-valve"),
            ("up-valve.switch-b", "boiler.call", "OG", "up-valve"),
            ("down-valve.switch-b", "boiler.call", "OG", "down-valve"),
        ],
        zones=ZONES,
    )
    assert subjects("crossed-zones", circuit)
    assert subjects("boiler-on-without-call", circuit) == []
    item = circuit.conductors[-1]
    more = replace(item, a="clock.on-3", index=len(circuit.conductors), core="WH", cable="clock")
    (only,) = seen("boiler-on-without-call", replace(circuit, conductors=(*circuit.conductors, more)))
    assert only.example.startswith("with only channel 3 of the clock on: ")


def test_the_second_outlet_of_a_valve_is_looked_at_though_the_first_is_in_order() -> None:
    """The room thermostat calls the boiler past the valve, which rests at the cylinder: that is heated for the rooms' call."""
    record = moved(
        MID_POSITION, "- { to: room-thermostat.call, core: BK }", after="- { to: boiler.call, core: BK }"
    )
    (only,) = found("valve-opens-without-its-call", record)
    assert only.message.startswith(
        "the valve is open to hot water with no call of its own while the boiler fires"
    )
    assert "heating calls" in only.holds


def test_an_output_without_a_conductor_does_not_hide_a_channel_that_is_bypassed() -> None:
    circuit = house(
        devices={"spur": "fused-spur", "clock": ("programmer", {"channels": 2}), "valve": "two-port-valve"},
        conductors=[
            ("spur.L", "clock.L", "BN"),
            ("spur.N", "valve.N", "BU"),
            ("clock.on-2", "valve.motor", "BK"),
            ("spur.L", "valve.motor", "BN2"),
        ],
        zones={"flat": {"serves": "heating", "channel": "clock.2", "valve": "valve"}},
    )
    (only,) = seen("control-changes-nothing", circuit)
    assert only.message.startswith("channel 2 of the clock changes nothing in any state")
    assert only.holds == "in every state"


def test_a_zone_s_pump_that_runs_for_another_is_told_at_its_core() -> None:
    """A zone with a valve comes before them, and the first zone's is in order; the outputs of the two others are joined, so that each pump runs for the other's call."""
    names = ("first", "second", "third")
    circuit = house(
        devices={
            "spur": "fused-spur",
            "clock": ("programmer", {"channels": 4}),
            "valve": "two-port-valve",
            **{f"{name}-pump": "pump" for name in names},
        },
        conductors=[
            ("spur.L", "clock.L", "BN"),
            *[("spur.N", f"{name}-pump.N", "BU", f"{name}-pump") for name in names],
            ("clock.on-4", "valve.motor", "BN", "valve"),
            ("clock.on-1", "first-pump.L", "BN", "first-pump"),
            ("clock.on-2", "second-pump.L", "BN", "second-pump"),
            ("clock.on-2", "third-pump.L", "BN", "third-pump"),
            ("clock.on-3", "third-pump.L", "BK", "third-pump"),
        ],
        zones={
            "hall": {"serves": "heating", "channel": "clock.4", "valve": "valve"},
            **{
                name: {"serves": "heating", "channel": f"clock.{number}", "pump": f"{name}-pump"}
                for number, name in enumerate(names, start=1)
            },
        },
    )
    told = seen("valve-opens-without-its-call", circuit)
    assert [each.subject for each in told] == ["second-pump", "third-pump"]
    at = {item.b: item.path for item in reversed(circuit.conductors)}
    assert [each.path for each in told] == [at["second-pump.L"], at["third-pump.L"]]
    assert told[0].holds == "whenever third calls and channel 2 of the clock is off"


MOVED: Wire = ("up-stat.call", "up-valve.motor", "BN")


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ([(MOVED, ("up-stat.call", "up-valve.E", "BN"))], "up calls and the up valve never opens"),
        (
            [(MOVED, ("down-stat.call", "up-valve.motor", "BK"))],
            "up calls and the up valve does not open",
        ),
    ],
)
def test_whether_it_opens_at_times(changes: list[tuple[Wire, Wire]], message: str) -> None:
    """Behind the other zone's thermostat it opens only while that calls."""
    circuit = house(devices=TWO_ZONES, conductors=two_zones(*changes), zones=ZONES)
    (only,) = seen("zone-does-not-open-its-valve", circuit)
    assert only.message == message
    assert (only.subject, only.key) == ("up", True)


@pytest.mark.parametrize(
    ("wire", "message"),
    [
        (("clock.on-2", "pump.L", "BN"), "flat calls and the pump does not run"),
        (("spur.E", "pump.L", "GNYE"), "flat calls and the pump never runs"),
    ],
)
def test_whether_a_pump_runs_at_times(wire: Wire, message: str) -> None:
    circuit = house(
        devices={"spur": "fused-spur", "clock": ("programmer", {"channels": 2}), "pump": "pump"},
        conductors=[("spur.L", "clock.L", "BN"), ("spur.N", "pump.N", "BU"), wire],
        zones={"flat": {"serves": "heating", "channel": "clock.1", "pump": "pump"}},
    )
    (only,) = seen("zone-does-not-open-its-valve", circuit)
    assert only.message == message


def test_zones_that_are_crossed_or_in_order_do_not_hide_the_next() -> None:
    """Two are crossed, which another rule tells; a third is in order, and a fourth has lost its motor."""
    devices: Kinds = {
        **TWO_ZONES,
        "clock": ("programmer", {"channels": 4}),
        "loft-valve": "two-port-valve",
        "hall-valve": "two-port-valve",
    }
    circuit = house(
        devices=devices,
        conductors=[
            *two_zones(*CROSSED),
            ("clock.on-3", "loft-valve.motor", "BN", "loft-valve"),
            ("spur.N", "loft-valve.N", "BU", "loft-valve"),
        ],
        zones={
            **ZONES,
            "loft": {"serves": "heating", "channel": "clock.3", "valve": "loft-valve"},
            "hall": {"serves": "heating", "channel": "clock.4", "valve": "hall-valve"},
        },
    )
    assert subjects("zone-does-not-open-its-valve", circuit) == ["hall"]
