"""Supply and isolation on houses with several spurs: what is in order at one of them does not hide the next."""

import pytest

from generator.findings.finding import Severity
from generator.rules.example_house import HOUSE, IMMERSION, OVERRUN, change
from tests.circuits import Kinds, Wire, house
from tests.unit.rules.looking import found, seen, subjects

ONE_POLE = ("fused-spur", {"double_pole": False})
DEVICES: Kinds = {
    "spur": "fused-spur",
    "second-spur": "fused-spur",
    "third-spur": "fused-spur",
    "box": ("wiring-centre", {"terminals": ["A", "L", "N"]}),
    "relay": "relay",
    "pump": "pump",
}


def test_each_isolator_is_looked_at() -> None:
    devices: Kinds = {
        "own": ("own-circuit", {"breaker_a": 16, "double_pole": False}),
        "spur": "fused-spur",
        "second-spur": ONE_POLE,
        "third-spur": ONE_POLE,
    }
    told = seen("isolator-not-double-pole", house(devices=devices))
    assert [each.subject for each in told] == ["own", "second-spur", "third-spur"]
    assert all(each.key for each in told)


def test_two_supplies_in_a_relay_and_a_box() -> None:
    """The box is named and is the danger; the relay, which both reach too, is named beside it."""
    wires: list[Wire] = [
        ("spur.L", "relay.11", "BN"),
        ("second-spur.L", "relay.14", "BN"),
        ("relay.14", "box.L", "RD", "loop"),
        ("spur.L", "box.A", "BK", "other"),
    ]
    (only,) = seen("live-with-isolator-open", house(devices=DEVICES, conductors=wires))
    assert only.subject == "box"
    assert only.severity is None
    assert only.message.startswith(
        "the spur and the second spur both reach the box (and the relay): with the spur off, `box.L` can"
    )
    assert only.message.endswith("by `second-spur.L` > `relay.14` > `box.L`")
    assert not only.key
    assert only.holds == "in every state"
    assert only.example


def test_two_supplies_in_a_relay_alone_are_an_error() -> None:
    wires: list[Wire] = [("spur.L", "relay.11", "BN"), ("second-spur.L", "relay.14", "BN")]
    (only,) = seen("live-with-isolator-open", house(devices=DEVICES, conductors=wires))
    assert (only.subject, only.severity) == ("relay", Severity.ERROR)
    assert "(and " not in only.message


def test_every_pair_of_supplies_is_looked_at() -> None:
    """The first and the second share nothing; the third meets both, each in another device."""
    wires: list[Wire] = [
        ("spur.L", "box.L", "BN"),
        ("second-spur.L", "relay.11", "BN"),
        ("third-spur.L", "relay.14", "BN"),
        ("third-spur.L", "box.A", "BK"),
    ]
    assert subjects("live-with-isolator-open", house(devices=DEVICES, conductors=wires)) == ["box", "relay"]


@pytest.mark.parametrize(
    ("kind", "size", "told"),
    [
        ("flexible cord", 1.0, True),
        ("heat-resisting cord", 1.0, True),
        ("unknown", 1.0, True),
        ("flexible cord", 1.25, False),
        ("flat cable", 1.0, False),
        ("conduit singles", 1.0, False),
    ],
)
def test_thin_cords_behind_a_large_fuse(kind: str, size: float, told: bool) -> None:
    """A cord of 1 mm2 may carry 10 A, of 1.25 mm2 13 A (BS 7671, Table 4F3A, which is of flexible cords alone).

    The spur of the controls, with cords that its 3 A suit, comes first.
    """
    record = change(
        IMMERSION,
        ("\nwiring:\n", f"  immersion: {{ size_mm2: {size}, length_m: 3, type: {kind} }}\n\nwiring:\n"),
    )
    findings = found("fuse-larger-than-core", record)
    assert [each.subject for each in findings] == (["water-spur"] if told else [])
    for each in findings:
        assert each.message == (
            "the fuse of the water spur is 13 A; it feeds cable `immersion` of 1 mm2, which may carry 10 A"
        )


def test_a_thin_cord_on_another_spur_is_not_this_one_s() -> None:
    """Both cords of the controls are too thin for 13 A, and hang on 3 A."""
    assert found("fuse-larger-than-core", IMMERSION) == []


def test_a_thin_cord_on_a_circuit_breaker() -> None:
    record = change(
        IMMERSION,
        (
            "water-spur: { kind: fused-spur, settings: { fuse_a: 13, feeds: immersion heater } }",
            "water-spur: { kind: own-circuit, settings: { breaker_a: 16 } }",
        ),
        ("\nwiring:\n", "  immersion: { size_mm2: 1.25, length_m: 3 }\n\nwiring:\n"),
    )
    (only,) = found("fuse-larger-than-core", record)
    assert (
        "of the water spur is 16 A; it feeds cable `immersion` of 1.25 mm2, which may carry 13 A"
        in only.message
    )
    (line,) = [number for number, row in enumerate(record.splitlines(), 1) if "breaker_a" in row]
    assert only.span.line == line


@pytest.mark.parametrize(
    ("settings", "told"),
    [
        ("fuse_a: 5", True),
        ("fuse_a: 3", False),
        ("fuse_a: 5, fuse_by_maker: true", False),
        ("fuse_a: 3, fuse_by_maker: true", False),
    ],
)
def test_controls_on_a_fuse_other_than_3_a(settings: str, told: bool) -> None:
    """Behind a spur of 13 A for the immersion heater, which is in order, and an own circuit, which has its own value."""
    first = (
        "  water-spur: { kind: fused-spur, settings: { fuse_a: 13, feeds: immersion heater } }\n"
        "  immersion: { kind: immersion-heater }\n"
        "  own: { kind: own-circuit, settings: { breaker_a: 16 } }\n"
    )
    direct = (
        "  direct:\n"
        "    - { ends: [water-spur.L, immersion.L], core: BN, cable: immersion }\n"
        "    - { ends: [water-spur.N, immersion.N], core: BU, cable: immersion }\n\nzones:\n"
    )
    record = change(
        HOUSE,
        (
            "  spur: { kind: fused-spur }\n",
            f"{first}  spur: {{ kind: fused-spur, settings: {{ {settings} }} }}\n",
        ),
        ("\nzones:\n", direct),
    )
    assert [each.subject for each in found("fuse-not-3-amp", record)] == (["spur"] if told else [])


def test_a_thermostat_that_takes_power_does_not_hide_the_boiler() -> None:
    """Of the loads on the spur the first is no control of heating's: an indicator or heater in a thermostat."""
    circuit = house(
        devices={
            "spur": ("fused-spur", {"fuse_a": 5}),
            "stat": ("room-thermostat", {"wires": 3}),
            "immersion": "immersion-heater",
            "boiler": "boiler",
        },
        conductors=[
            ("spur.L", "stat.common", "BN"),
            ("spur.N", "stat.N", "BU"),
            ("spur.L", "boiler.L", "BN", "boiler"),
        ],
    )
    assert subjects("fuse-not-3-amp", circuit) == ["spur"]


def test_line_and_neutral_exchanged_at_one_device_and_at_all() -> None:
    """At the supply it is told once, there; at two devices of several twice, at each."""
    wires: list[Wire] = [("spur.L", "box.L", "BN"), ("spur.N", "box.N", "BU")]
    turned: list[Wire] = [("spur.L", "box.N", "BN"), ("spur.N", "box.L", "BU")]
    devices: Kinds = {
        **DEVICES,
        "boiler": "boiler",
        "valve": "two-port-valve",
        "clock": ("time-switch", {"channels": 1}),
    }
    right: list[Wire] = [
        ("boiler.L", "box.L", "BN"),
        ("boiler.N", "box.N", "BU"),
        ("valve.N", "box.N", "BU"),
        ("clock.L", "box.L", "BN"),
        ("clock.N", "box.N", "BU"),
        ("relay.A2", "box.N", "BU"),
    ]
    at_all = seen("line-and-neutral-reversed", house(devices=devices, conductors=[*turned, *right]))
    assert [each.subject for each in at_all] == ["spur"]
    assert at_all[0].message == "every neutral terminal is live: line and neutral are reversed at the spur"
    assert at_all[0].holds == "in every state"
    mixed = [right[0], ("boiler.N", "box.L", "BU"), right[2], right[3], ("clock.N", "box.L", "BU"), right[5]]
    some = seen("line-and-neutral-reversed", house(devices=devices, conductors=[*wires, *mixed]))
    assert [(each.subject, each.message) for each in some] == [
        ("boiler", "terminal `N` of the boiler is live"),
        ("clock", "terminal `N` of the clock is live"),
    ]


def test_a_relay_s_coil_works_either_way_round() -> None:
    circuit = house(devices=DEVICES, conductors=[("spur.L", "relay.A2", "BU"), ("spur.N", "relay.A1", "BN")])
    assert subjects("line-and-neutral-reversed", circuit) == []


def test_one_live_neutral_is_not_every_one() -> None:
    """Of a single device nobody can say whether it or the supply is turned round: it is told of the device."""
    circuit = house(devices=DEVICES, conductors=[("spur.L", "pump.N", "BU"), ("spur.N", "pump.L", "BN")])
    (only,) = seen("line-and-neutral-reversed", circuit)
    assert (only.subject, only.message) == ("pump", "terminal `N` of the pump is live")


def test_a_short_through_a_contact_is_told_with_its_state() -> None:
    """Line to neutral by the boiler's pump output, as soon as the boiler fires."""
    record = change(
        OVERRUN,
        ("        - { to: boiler.pump, core: GY }\n", ""),
        (
            "        - { to: spur.N, core: BU }\n",
            "        - { to: spur.N, core: BU }\n        - { to: boiler.pump, core: GY }\n",
        ),
    )
    findings = found("line-joined-to-neutral", record)
    assert findings
    assert findings[0].severity is Severity.DANGER
    assert findings[0].subject == "boiler GY"


def test_two_live_neutrals_and_no_other_are_the_supply_s() -> None:
    wires: list[Wire] = [
        ("spur.L", "box.N", "BN"),
        ("pump.N", "box.N", "BU"),
        ("clock.N", "box.N", "BU"),
        ("relay.A2", "spur.N", "BU"),
    ]
    circuit = house(devices={**DEVICES, "clock": ("time-switch", {"channels": 1})}, conductors=wires)
    assert subjects("line-and-neutral-reversed", circuit) == ["spur"]


@pytest.mark.parametrize(
    ("count", "named", "ending"),
    [(3, 3, "may carry 6 A"), (4, 3, "6 A and 1 more"), (5, 3, "6 A and 2 more")],
)
def test_three_thin_cords_are_named_and_the_rest_counted(count: int, named: int, ending: str) -> None:
    cables = [f"cable-{number}" for number in range(count)]
    circuit = house(
        devices={"spur": ("fused-spur", {"fuse_a": 13}), "box": ("wiring-centre", {"count": count})},
        conductors=[("spur.L", f"box.{number}", "BN", name) for number, name in enumerate(cables, start=1)],
        cables={name: {"size_mm2": 0.75, "length_m": 2} for name in cables},
    )
    (only,) = seen("fuse-larger-than-core", circuit)
    assert only.message.count("of 0.75 mm2") == named
    assert only.message.endswith(ending)
    assert len(only.related) == count
