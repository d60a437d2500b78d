"""Calls between controls, valves and boiler: houses in which one thing in order comes before one that is not, by hand."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from generator.findings.finding import Severity
from generator.rules.calls_loops import FLOOR, blending_pumps
from generator.rules.crossed import crossings
from generator.rules.example_house import FROST, HOUSE, UNVENTED, added, change, moved, without
from generator.rules.example_three_port import DIVERTER
from generator.rules.turned_contacts import _beside
from tests.circuits import Kinds, Wire, house
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


HEADER = """\
format: 1
property:
  reference: EX-0003
  address: { lines: [3 Example Row], town: Exampleton }
  nation: england
  fuel: gas
  dwelling: { storeys: 2, floor_area_m2: 82 }
sure: { how: tested, on: 2026-03-14, by: heating engineer }

arrangement:
  name: header-with-zone-pumps
  zones:
    down: { serves: heating }
    up: { serves: heating }
"""


def test_the_pump_of_a_zone_runs_for_another() -> None:
    """The core of the first zone's pump went to the second's."""
    record = HEADER + "wiring:\n  direct:\n    - { ends: [down-pump.L, up-pump.L], core: BN }\n"
    (only,) = found("valve-opens-without-its-call", record)
    assert only.subject == "down-pump"
    assert only.message.startswith("the down pump runs with no call of its own, fed by `spur.L` > ")
    assert only.message.endswith(" > `up-pump.L` > `down-pump.L`")
    assert only.holds == "whenever down does not call and up calls"
    assert found("valve-opens-without-its-call", HEADER) == []


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


CHATTER: tuple[Wire, ...] = (
    ("spur.L", "up-stat.common", "BN"),
    ("up-stat.call", "relay.11", "BK"),
    ("relay.12", "relay.A1", "RD"),
    ("spur.N", "relay.A2", "BU"),
)


def test_a_relay_fed_through_its_own_contact() -> None:
    circuit = house(
        devices={"spur": "fused-spur", "up-stat": "room-thermostat", "relay": "relay"}, conductors=CHATTER
    )
    (only,) = seen("hunting", circuit)
    assert only.subject == "relay"
    assert only.holds == "whenever the up stat is calling for heat"
    assert only.message.endswith(
        "is fed through a contact that it breaks itself: `spur.L` > `up-stat.common` > `up-stat.call` > `relay.11` > "
        "`relay.12` > `relay.A1`"
    )
    assert only.example.startswith("with only the up stat calling for heat: it moves, loses what moved it")


def test_the_part_that_is_to_blame_is_not_the_first() -> None:
    """A valve and a sound relay come before it."""
    circuit = house(
        devices={
            "spur": "fused-spur",
            "valve": "two-port-valve",
            "first-relay": "relay",
            "up-stat": "room-thermostat",
            "relay": "relay",
        },
        conductors=[
            *CHATTER,
            ("up-stat.call", "valve.motor", "BN", "valve"),
            ("spur.N", "valve.N", "BU", "valve"),
            ("up-stat.call", "first-relay.A1", "BN", "first-relay"),
            ("spur.N", "first-relay.A2", "BU", "first-relay"),
        ],
    )
    assert subjects("hunting", circuit) == ["relay"]


def test_of_two_that_hunt_each_by_itself_none_is_named() -> None:
    """With one of them held the other goes on."""
    circuit = house(
        devices={"spur": "fused-spur", "up-stat": "room-thermostat", "relay": "relay", "other": "relay"},
        conductors=[
            *CHATTER,
            ("up-stat.call", "other.11", "BK", "other"),
            ("other.12", "other.A1", "RD"),
            ("spur.N", "other.A2", "BU", "other"),
        ],
    )
    (only,) = seen("hunting", circuit)
    assert only.subject == ""
    assert (
        only.message
        == "the controls never come to rest: a part that moves undoes what moved it, over and over"
    )


def test_a_loop_in_order_does_not_hide_the_next() -> None:
    """Of the kitchen's three loops the second opens with the first, the third with nothing."""
    record = change(FLOOR, ("loops: 2", "loops: 3"))
    assert found("loop-unlike-its-zone", record) == []
    wrong = change(
        record,
        (
            "      D: # controller",
            "      F: # earths\n        - { to: kitchen-actuator-3.L, core: BN }\n      D: # controller",
        ),
    )
    assert [each.subject for each in found("loop-unlike-its-zone", wrong)] == ["kitchen-actuator-3"]


def test_which_pumps_are_of_blending_sets() -> None:
    """Not a boiler's own pump, one without a limit thermostat, one of a single circuit or a source, nor a solar controller's."""
    circuit = house(
        devices={
            "boiler": ("boiler", {"pump_inside": True}),
            "pump": "pump",
            "set": "blending-set",
            "loop-set": "blending-set",
            "solar": "solar-station",
            "valve": "two-port-valve",
        },
        water={
            "circuits": {
                "floor": {"valve": "valve", "feeds": "underfloor", "blending": True},
                "loop": {"pump": "loop-set", "feeds": "underfloor"},
                "sun": {"source": "sun", "feeds": "cylinder coil"},
            },
            "sources": {"sun": {"of": "solar", "device": "solar"}},
        },
    )
    assert [load.name.split(".", 1)[0] for load in blending_pumps(circuit)] == ["set"]


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


def test_the_pump_of_a_floor_without_a_conductor_is_told_at_the_device() -> None:
    record = (
        FLOOR.partition("\nwiring:\n")[0] + "\nwiring:\n  removed:\n    - { cable: blending-set, core: BN }\n"
    )
    (only,) = found("blending-pump-unlike-the-floor", record)
    assert only.message == (
        "the blending set does not run while a floor that it serves is open and the boiler fires"
    )


def test_a_relay_that_feeds_the_one_that_hunts_is_not_to_blame() -> None:
    """Held at rest it takes the supply from the other, and held moved it does not stop it."""
    circuit = house(
        devices={
            "spur": "fused-spur",
            "up-stat": "room-thermostat",
            "first-relay": "relay",
            "relay": "relay",
        },
        conductors=[
            ("spur.L", "up-stat.common", "BN"),
            ("up-stat.call", "first-relay.A1", "BK"),
            ("spur.N", "first-relay.A2", "BU"),
            ("spur.L", "first-relay.11", "BN2"),
            ("first-relay.14", "relay.11", "BK"),
            ("relay.12", "relay.A1", "RD"),
            ("spur.N", "relay.A2", "BU2"),
        ],
    )
    assert subjects("hunting", circuit) == ["relay"]


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


def test_what_is_beside_a_contact_hangs_on_one_of_its_sides() -> None:
    """The cut-out of a dual thermostat shares no side with the thermostat's contact, whose two outputs share one."""
    circuit = house(devices={"stat": "dual-thermostat"})
    device = circuit.device("stat")
    told = {contact.name: _beside(device, contact) for contact in device.parts.contacts}
    assert told["stat.cut-out"] == ""
    assert told["stat.call"] == told["stat.satisfied"] == "its other output is then live at the wrong times"
