"""Indicator lamps of two valves: lit and dark at the right times, and not. By hand."""

import pytest

from generator.circuit.model import Circuit
from tests.circuits import Kinds, Wire, house
from tests.unit.rules.looking import seen, subjects

LIT, DARK = "lamp-lit-while-nothing-calls", "lamp-never-lit"
LAMP = ("two-port-valve", {"lamp": "switch"})
DEVICES: Kinds = {
    "spur": "fused-spur",
    "clock": ("programmer", {"channels": 2}),
    "plain": ("two-port-valve", {"lamp": "motor"}),
    "first": LAMP,
    "second": LAMP,
}
ZONES = {
    "up": {"serves": "heating", "channel": "clock.1", "valve": "first"},
    "down": {"serves": "heating", "channel": "clock.2", "valve": "second"},
}
WIRES: dict[str, Wire] = {
    "line": ("spur.L", "clock.L", "BN"),
    "neutral": ("spur.N", "clock.N", "BU"),
    "first motor": ("clock.on-1", "first.motor", "BN", "first"),
    "second motor": ("clock.on-2", "second.motor", "BN", "second"),
    "plain motor": ("clock.on-2", "plain.motor", "BN", "plain"),
    "first neutral": ("clock.N", "first.N", "BU", "first"),
    "second neutral": ("clock.N", "second.N", "BU", "second"),
    "plain neutral": ("clock.N", "plain.N", "BU", "plain"),
    "first live": ("spur.L", "first.switch-a", "GY", "first"),
    "second live": ("spur.L", "second.switch-a", "GY", "second"),
}


def lamps(**changes: Wire | None) -> Circuit:
    instead = {key.replace("_", " "): wire for key, wire in changes.items()}
    wires = [instead.pop(key, wire) for key, wire in WIRES.items()]
    wires += list(instead.values())
    return house(devices=DEVICES, conductors=[wire for wire in wires if wire is not None], zones=ZONES)


def test_both_in_order() -> None:
    assert subjects(LIT, lamps()) == []
    assert subjects(DARK, lamps()) == []


def test_a_switch_wired_the_wrong_way_round() -> None:
    """The side with the lamp is live for good. Of the first valve, in order, nothing is said."""
    circuit = lamps(
        first_out=("first.switch-b", "plain.switch-a", "OG", "first"),
        second_live=("spur.L", "second.switch-b", "OG", "second"),
    )
    (only,) = seen(LIT, circuit)
    assert only.subject == "second"
    assert only.message == (
        "the indicator lamp of the second is lit while nothing calls, though it should show that the end switch is made"
    )
    assert only.holds == "while nothing calls"
    assert only.example.startswith("with every control off: line reaches it by `spur.L` > `second.switch-b`")
    assert only.related == ()
    both = lamps(
        second_live=("spur.L", "second.switch-b", "OG", "second"),
        second_out=("second.switch-a", "plain.switch-a", "GY", "second"),
    )
    (only,) = seen(LIT, both)
    assert [words for _, words in only.related] == ["what lands in `switch-a`"]


def test_lit_along_with_another_s_call_is_no_fault() -> None:
    """The outputs are joined, as they are where both call one boiler."""
    circuit = lamps(joined=("first.switch-b", "second.switch-b", "OG", "first"))
    assert subjects(LIT, circuit) == []


def test_a_switch_that_nothing_feeds() -> None:
    (only,) = seen(DARK, lamps(second_live=None))
    assert only.subject == "second"
    assert (
        only.message
        == "the indicator lamp of the second is never lit, though the end switch is made at times"
    )
    assert only.holds == "whenever down calls"
    assert only.example.startswith(
        "with only channel 2 of the clock on: nothing joins `second.switch-b` to line"
    )


@pytest.mark.parametrize("gone", ["second motor", "second neutral"])
def test_dark_for_another_reason(gone: str) -> None:
    """Its switch is never made, or its neutral is lost: told of the valve."""
    assert subjects(DARK, lamps(**{gone.replace(" ", "_"): None, "second_live": None})) == []


def test_a_lamp_beside_the_motor_needs_no_rule() -> None:
    circuit = lamps(plain_motor=("spur.L", "plain.motor", "BN", "plain"))
    assert subjects(LIT, circuit) == []
    assert subjects(DARK, lamps(plain_motor=None)) == []
