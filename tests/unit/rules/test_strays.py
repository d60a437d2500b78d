"""Cores that left the way of their cables: which end, and where the others go."""

from dataclasses import replace

from generator.rules.strays import strays
from tests.circuits import Wire
from tests.unit.rules.two_boxes import two_boxes

MOTOR: Wire = ("valve.motor", "down.A", "BN")


def told(*changes: tuple[Wire, Wire | None]) -> list[tuple[str, str, str, str, str]]:
    return [
        (each.conductor.cable, each.here, each.far, each.end, each.device)
        for each in strays(two_boxes(*changes))
    ]


def test_none_in_a_sound_house() -> None:
    """The riser's cores all go between the two boxes, those of each device between it and one box."""
    assert told() == []


def test_the_end_in_the_box() -> None:
    """Four cores of the valve go downstairs, the fifth upstairs."""
    assert told((MOTOR, ("valve.motor", "up.1", "BN"))) == [("valve", "up.1", "valve.motor", "b", "down")]


def test_the_end_at_the_device() -> None:
    assert told((MOTOR, ("stat.call", "down.A", "BN", "valve"))) == [
        ("valve", "stat.call", "down.A", "a", "valve")
    ]


def test_a_core_with_neither_end_where_the_others_are_is_not_judged() -> None:
    assert told((MOTOR, ("stat.call", "up.1", "BN", "valve"))) == []


def test_a_core_with_both_ends_in_one_place() -> None:
    """It could be either end that left: both are told."""
    assert told((MOTOR, ("down.B", "down.A", "BN", "valve"))) == [
        ("valve", "down.B", "down.A", "a", "valve"),
        ("valve", "down.A", "down.B", "b", "valve"),
    ]


def test_a_core_of_a_cable_of_its_own_is_not_judged() -> None:
    assert told((MOTOR, ("valve.motor", "up.1", "BN", "other"))) == []


def test_the_only_two_cores_with_both_ends_in_one_place_each() -> None:
    """Of two cores one has both ends at the box and one both at the thermostat: between these two the cable goes."""
    found = told(
        (("stat.common", "up.3", "BN"), ("up.2", "up.3", "BN", "stat")),
        (("stat.call", "up.1", "BK"), ("stat.call", "stat.common", "BK")),
        (("stat.N", "up.4", "BU"), None),
    )
    assert found == [
        ("stat", "up.2", "up.3", "a", "stat"),
        ("stat", "up.3", "up.2", "b", "stat"),
        ("stat", "stat.call", "stat.common", "a", "up"),
        ("stat", "stat.common", "stat.call", "b", "up"),
    ]


def test_links_are_no_cores() -> None:
    assert list(strays(two_boxes(links=(("down.A", "down.C"), ("up.2", "up.5"))))) == []


def test_a_cable_of_one_core_does_not_hide_the_next() -> None:
    """Of a single core nobody knows where its cable goes."""
    lone: Wire = ("spur.L", "down.L", "BN")
    assert told((lone, (*lone[:3], "lone")), (MOTOR, ("valve.motor", "up.1", "BN"))) == [
        ("valve", "up.1", "valve.motor", "b", "down")
    ]


def test_links_that_come_first_hide_nothing() -> None:
    circuit = two_boxes((MOTOR, ("valve.motor", "up.1", "BN")), links=(("down.A", "down.C"),))
    turned = replace(circuit, conductors=circuit.conductors[::-1])
    assert [each.conductor.cable for each in strays(turned)] == ["valve"]
