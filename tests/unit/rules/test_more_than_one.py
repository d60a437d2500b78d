"""Houses that have two of something, of which only the second is wrong: what is in order hides nothing. By hand."""

import pytest

from generator.findings.finding import Severity
from generator.rules.example_house import FROST, HOUSE, UNVENTED, VOLT_FREE, added, change, moved, without
from tests.circuits import Kinds, Wire, house
from tests.unit.rules.looking import found, seen, subjects

SPARE_EARTH = "  spare:\n    - {{ cable: {0}, core: GNYE, how: {1} }}\n    - {{ cable: {2}, core: GNYE, how: {3} }}\n\nzones:\n"


@pytest.mark.parametrize(
    ("first", "second", "told"),
    [
        ("in a connector", "cut off", ["room-thermostat"]),
        ("cut off", "in a connector", ["water-thermostat"]),
        ("bare", "bare", ["room-thermostat", "water-thermostat"]),
        ("in a connector", "in a connector", []),
    ],
)
def test_protective_conductors_of_two_points(first: str, second: str, told: list[str]) -> None:
    """A programmer with a cord, of which nothing is asked, comes before them."""
    record = change(
        HOUSE,
        (
            "  water-thermostat: { cores: [BK, BN], size_mm2: 0.75, length_m: 3 }\n",
            (
                "  programmer: { cores: [BN, BU, BK, GY], type: flexible cord }\n"
                "  water-thermostat: { cores: [BK, BN, GNYE], type: flat cable }\n"
                "  room-thermostat: { cores: [BK, BN, GNYE], type: armoured cable }\n"
            ),
        ),
        ("\nzones:\n", SPARE_EARTH.format("water-thermostat", first, "room-thermostat", second)),
    )
    assert [each.subject for each in found("point-without-protective-conductor", record)] == told


def test_a_device_on_two_cables_of_which_one_has_no_protective_conductor() -> None:
    wires: list[Wire] = [("stat.common", "box.A", "BN", "good"), ("stat.call", "box.B", "BK", "bad")]
    circuit = house(
        devices={"box": ("wiring-centre", {"terminals": ["A", "B"]}), "stat": "room-thermostat"},
        conductors=wires,
        cables={
            "good": {"cores": ["BN", "GNYE"], "type": "flat cable"},
            "bad": {"cores": ["BK"], "type": "flat cable"},
        },
    )
    (only,) = seen("point-without-protective-conductor", circuit)
    assert only.message.endswith("the stat: its flat cable `bad` has none")


def test_a_class_one_device_is_asked_for_its_earth_by_another_rule() -> None:
    circuit = house(
        devices={"box": ("wiring-centre", {"terminals": ["A"]}), "pump": "pump"},
        conductors=[("pump.L", "box.A", "BN")],
        cables={"pump": {"cores": ["BN"], "type": "flat cable"}},
    )
    assert subjects("point-without-protective-conductor", circuit) == []


@pytest.mark.parametrize(("first", "second", "told"), [(60, 50, ["second"]), (50, 60, ["water-thermostat"])])
def test_two_cylinder_thermostats_of_which_one_is_too_cool(first: int, second: int, told: list[str]) -> None:
    record = change(
        HOUSE,
        (
            "  water-thermostat: { kind: cylinder-thermostat }\n",
            (
                f"  water-thermostat: {{ kind: cylinder-thermostat, settings: {{ set_c: {first} }} }}\n"
                "  third: { kind: cylinder-thermostat }\n"
                f"  second: {{ kind: cylinder-thermostat, settings: {{ set_c: {second} }} }}\n"
            ),
        ),
    )
    assert [each.subject for each in found("stored-water-too-cool", record)] == told


def test_a_second_valve_whose_end_switch_is_fed_by_a_switched_line() -> None:
    """The first has no end switch, the second is fed right."""
    record = change(
        moved(
            HOUSE, "- { to: heating-valve.switch-a, core: GY }", after="- { to: programmer.on-2, core: GY }"
        ),
        ("  heating-valve: { kind: two-port-valve }\n", ""),
        (
            "  water-valve: { kind: two-port-valve }\n",
            (
                "  plain-valve: { kind: two-port-valve, settings: { end_switch: none } }\n"
                "  water-valve: { kind: two-port-valve }\n  heating-valve: { kind: two-port-valve }\n"
            ),
        ),
    )
    (only,) = found("end-switch-fed-by-switched-line", record)
    assert (only.subject, only.severity) == ("heating-valve", Severity.WARNING)
    assert "the grey core (GY) of cable `heating-valve`, by which it is fed, is switched" in only.message
    # The other side is live also while hot water calls, so that it is dead in fewer states: none is live at all times.
    assert only.holds.startswith("dead ")


PERMANENT, RUNS_ON = "permanent-live-switched", "overrun-without-permanent-live"


@pytest.mark.parametrize(
    ("overrun", "rule", "other"), [(False, PERMANENT, RUNS_ON), (True, RUNS_ON, PERMANENT)]
)
def test_a_permanent_live_of_two_boilers(overrun: bool, rule: str, other: str) -> None:
    """The first boiler's is in order; the second's is behind a switch, and a third has none at all."""
    settings = {"overrun": overrun, "pump_output": True}
    devices: Kinds = {
        "spur": "fused-spur",
        "stat": "room-thermostat",
        "first": ("boiler", {"overrun": True, "pump_output": True}),
        "plain": "boiler",
        "second": ("boiler", settings),
        "third": ("boiler", settings),
    }
    wires: list[Wire] = [
        ("spur.L", "first.L", "BN", "first"),
        ("spur.L", "plain.L", "BN", "plain"),
        ("spur.L", "stat.common", "BN", "stat"),
        ("stat.call", "second.L", "BK", "second"),
    ]
    circuit = house(devices=devices, conductors=wires)
    told = seen(rule, circuit)
    assert [each.subject for each in told] == ["second", *(["third"] if overrun else [])]
    assert told[0].message == "terminal `L` of the second should be live at all times and is dead"
    assert told[0].holds == "whenever the stat is satisfied"
    assert told[0].example.startswith("with every control off: nothing joins `second.L` to line")
    for each in told[1:]:
        assert each.message == "nothing lands in terminal `L` of the third, which should be live at all times"
    assert subjects(other, circuit) == []


@pytest.mark.parametrize("side", ["a", "b"])
def test_mains_on_one_of_two_inputs(side: str) -> None:
    """Each terminal of the second boiler's demand in turn, by a contact; the first boiler's has a relay of its own."""
    devices: Kinds = {
        "spur": "fused-spur",
        "stat": "room-thermostat",
        "first": ("boiler", {"demand": "volt-free"}),
        "second": ("boiler", {"demand": "volt-free"}),
    }
    wires: list[Wire] = [
        ("spur.L", "stat.common", "BN"),
        ("stat.call", f"second.call-{side}", "BK"),
        ("spur.N", "first.N", "BU"),
    ]
    circuit = house(devices=devices, conductors=wires)
    (only,) = seen("mains-on-extra-low-voltage", circuit)
    assert only.subject == "second"
    assert only.severity is None
    assert only.holds == "whenever the stat is calling for heat"
    assert not only.key
    assert only.path == circuit.conductors[1].path
    assert only.example.startswith("with only the stat calling for heat: line reaches it by ")


@pytest.mark.parametrize(
    ("point", "what", "severity"),
    [("L", "mains", None), ("N", "the neutral of the mains", Severity.ERROR), ("E", "earth", Severity.ERROR)],
)
def test_what_reaches_an_extra_low_voltage_input(point: str, what: str, severity: Severity | None) -> None:
    circuit = house(
        devices={"spur": "fused-spur", "boiler": ("boiler", {"demand": "volt-free"})},
        conductors=[(f"spur.{point}", "boiler.call-a", "BK")],
    )
    (only,) = seen("mains-on-extra-low-voltage", circuit)
    assert only.message.startswith(
        f"{what} reaches terminal `call-a` of the boiler, which is for extra-low voltage only: "
    )
    assert only.severity is severity
    assert bool(only.example) is (severity is None)


def test_two_boxes_of_which_one_holds_both_voltages() -> None:
    """The first has mains alone."""
    devices: Kinds = {
        "spur": "fused-spur",
        "first-box": ("wiring-centre", {"terminals": ["L"]}),
        "second-box": ("wiring-centre", {"terminals": ["L", "X", "Y", "Z"]}),
        "boiler": ("boiler", {"demand": "volt-free"}),
        "relay": "relay",
    }
    wires: list[Wire] = [
        ("spur.L", "first-box.L", "BN"),
        ("first-box.L", "second-box.L", "BN", "riser"),
        ("boiler.call-a", "second-box.X", "BK"),
        ("boiler.call-b", "second-box.Y", "WH"),
        ("relay.11", "second-box.X", "BK"),
    ]
    (only,) = seen("extra-low-voltage-in-mains-box", house(devices=devices, conductors=wires))
    assert only.subject == "second-box"
    assert only.message == "the second box holds extra-low voltage (terminals `X` and `Y`) beside mains"
    one = [wire for wire in wires if "call-b" not in wire[0]]
    (only,) = seen("extra-low-voltage-in-mains-box", house(devices=devices, conductors=one))
    assert only.message == "the second box holds extra-low voltage (terminal `X`) beside mains"
    without_mains = [wire for wire in wires if wire[-1] != "riser"]
    assert seen("extra-low-voltage-in-mains-box", house(devices=devices, conductors=without_mains)) == []


def test_a_demand_that_a_control_joins_at_times_is_not_bridged() -> None:
    """A contact that is always made is a link all the same; of two boilers the second has it."""
    devices: Kinds = {
        "stat": "room-thermostat",
        "first": ("boiler", {"demand": "volt-free"}),
        "second": ("boiler", {"demand": "volt-free"}),
    }
    by_stat: list[Wire] = [("stat.common", "first.call-a", "BN"), ("stat.call", "first.call-b", "BK")]
    circuit = house(devices=devices, conductors=[*by_stat, ("second.call-a", "second.call-b", "RD")])
    (only,) = seen("demand-bridged", circuit)
    assert only.subject == "second"
    assert only.message.startswith(
        "the second: its demand input is joined in every state, so that it is called for good: "
    )
    assert only.holds == "in every state"


def test_the_relay_of_a_volt_free_demand_is_followed() -> None:
    """The contact is closed for good by a core across it: the boiler is called by that, and it is said how."""
    record = change(
        VOLT_FREE,
        ("  direct:\n", "  direct:\n    - { ends: [relay.11, relay.14], core: RD, cable: across }\n"),
    )
    (only,) = found("boiler-on-without-call", record)
    assert only.message == (
        "the boiler is called though no zone calls, by `boiler.call-a` > `relay.11` > `relay.14` > `boiler.call-b`"
    )


def test_the_last_core_before_the_boiler_is_where_it_stands() -> None:
    record = moved(HOUSE, "- { to: boiler.call, core: BK }", after="- { to: spur.L, core: BN }")
    (only,) = found("boiler-on-without-call", record)
    assert only.span.line == next(
        number for number, row in enumerate(record.splitlines(), 1) if "to: boiler.call" in row
    )


def test_one_zone_of_two_does_not_reach_the_boiler() -> None:
    """Hot water comes first and reaches it. What is said of the permanent live holds only where that is dead."""
    record = without(HOUSE, "- { to: heating-valve.switch-b, core: OG }")
    (only,) = found("call-does-not-reach-boiler", record)
    assert only.subject == "heating"
    assert only.message == "heating calls, the heating valve opens, and no boiler is called"
    assert only.holds == "whenever hot water does not call and heating calls"


def test_a_boiler_whose_live_is_lost_at_times_is_not_silent_for_that_alone() -> None:
    """The end switch is lost, and the live is behind the other zone's channel: dead in some of those states only."""
    record = moved(
        without(HOUSE, "- { to: heating-valve.switch-b, core: OG }"),
        "- { to: boiler.L, core: BN }",
        after="- { to: programmer.on-1, core: BK }",
    )
    told = {each.subject: each.message for each in found("call-does-not-reach-boiler", record)}
    assert told["heating"].endswith("no boiler is called")


def test_a_second_frost_thermostat_without_a_way() -> None:
    """The first opens the valve of heating; the second fires the boiler alone."""
    record = change(
        FROST,
        (
            "  pipe-thermostat: { kind: pipe-thermostat }\n",
            "  pipe-thermostat: { kind: pipe-thermostat }\n  second-frost: { kind: frost-thermostat }\n",
        ),
        (
            "        - { to: boiler.call, core: BK }\n",
            "        - { to: boiler.call, core: BK }\n        - { to: second-frost.call, core: BK }\n",
        ),
        (
            "        - { to: boiler.L, core: BN }\n",
            "        - { to: boiler.L, core: BN }\n        - { to: second-frost.common, core: BN }\n",
        ),
    )
    assert [each.subject for each in found("frost-without-open-path", record)] == ["second-frost"]


def test_two_unvented_cylinders_of_which_one_lacks_its_cut_out() -> None:
    record = change(
        UNVENTED,
        (
            "  bypass: { kind: automatic-bypass }\n",
            (
                "  bypass: { kind: automatic-bypass }\n"
                "  vented: { kind: cylinder, settings: { system: vented } }\n"
                "  second: { kind: cylinder, settings: { system: unvented, cut_out: none, relief_valve: seen } }\n"
            ),
        ),
    )
    assert [each.subject for each in found("unvented-without-cut-out", record)] == ["second"]
    assert found("unvented-without-relief-valve", record) == []


def test_an_output_that_no_core_leaves_is_not_asked_what_it_changes() -> None:
    """A third channel, wired to nothing, and in use by no zone; the second is bypassed."""
    record = change(
        HOUSE,
        ("settings: { channels: 2 }", "settings: { channels: 3 }"),
        ("\nzones:\n", "  links:\n    - { ends: [centre.C, centre.H] }\n\nzones:\n"),
    )
    told = found("control-changes-nothing", record)
    assert [(each.subject, each.message.partition(" changes")[0]) for each in told] == [
        ("programmer", "channel 2 of the programmer")
    ]


def test_a_thermostat_that_is_bypassed_is_told_and_the_channel_is_not() -> None:
    record = added(
        HOUSE,
        "- { to: heating-valve.motor, core: WH, cable: by }",
        after="- { to: programmer.on-2, core: GY }",
    )
    assert [each.subject for each in found("control-changes-nothing", record)] == ["room-thermostat"]


def test_the_state_that_is_told_of_a_live_that_is_lost() -> None:
    """From the off terminal of a channel: live at rest, and dead with the channel on."""
    circuit = house(
        devices={
            "spur": "fused-spur",
            "clock": ("time-switch", {"channels": 1, "off_terminals": [1]}),
            "boiler": "boiler",
        },
        conductors=[("spur.L", "clock.L", "BN"), ("clock.off-1", "boiler.L", "BK")],
    )
    (only,) = seen(PERMANENT, circuit)
    assert only.holds == "whenever the clock is on"
    assert only.example.startswith("with only the clock on: nothing joins `boiler.L` to line")


@pytest.mark.parametrize("kind", [None, {"cores": ["BN"], "type": "flexible cord"}, {"type": "flat cable"}])
def test_a_cable_of_which_nothing_is_asked_does_not_hide_the_next(kind: dict[str, object] | None) -> None:
    """One that is not recorded, a cord, or one whose cores are not recorded comes first."""
    circuit = house(
        devices={"box": ("wiring-centre", {"terminals": ["A", "B"]}), "stat": "room-thermostat"},
        conductors=[("stat.common", "box.A", "BN", "first"), ("stat.call", "box.B", "BK", "bad")],
        cables={**({"first": kind} if kind else {}), "bad": {"cores": ["BK"], "type": "flat cable"}},
    )
    assert subjects("point-without-protective-conductor", circuit) == ["stat"]


def test_a_way_to_the_cylinder_in_order_does_not_hide_the_next() -> None:
    """A second coil is fed through a valve that no spring shuts."""
    record = change(
        UNVENTED,
        (
            "  bypass: { kind: automatic-bypass }\n",
            "  bypass: { kind: automatic-bypass }\n  second-valve: { kind: motor-open-motor-close-valve }\n",
        ),
        (
            "    hot-water: { valve: water-valve, feeds: cylinder coil }\n",
            (
                "    hot-water: { valve: water-valve, feeds: cylinder coil }\n"
                "    second: { valve: second-valve, feeds: cylinder coil }\n"
            ),
        ),
    )
    assert [each.subject for each in found("unvented-valve-does-not-shut", record)] == ["second-valve"]
