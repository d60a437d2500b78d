"""Neutrals and earths that are missing, switched or borrowed, on small circuits judged by hand."""

from collections.abc import Sequence

import pytest

from generator.catalogue.logic import ALWAYS
from generator.catalogue.parts import Contact, DeviceParts, Load, LoadKind, Role, Terminal
from generator.circuit.model import Circuit
from tests.circuits import Kinds, Wire, house
from tests.unit.rules.looking import seen, subjects

MISSING, SWITCHED, BORROWED, BY_EARTH = (
    "neutral-missing",
    "neutral-switched",
    "neutral-borrowed",
    "earth-used-as-neutral",
)
DEVICES: Kinds = {
    "spur": "fused-spur",
    "second-spur": "fused-spur",
    "box": ("wiring-centre", {"terminals": ["A", "B", "E", "L", "N"]}),
    "clock": ("time-switch", {"channels": 1}),
    "stat": "room-thermostat",
    "valve": "two-port-valve",
    "pump": "pump",
    "zone-pump": "pump",
}
SUPPLY: tuple[Wire, ...] = (
    ("spur.L", "box.L", "BN"),
    ("spur.N", "box.N", "BU"),
    ("spur.E", "box.E", "GNYE"),
)
PUMP: tuple[Wire, ...] = (("pump.L", "box.L", "BN"), ("pump.N", "box.N", "BU"), ("pump.E", "box.E", "GNYE"))


def small(*wires: Wire, links: Sequence[Sequence[str]] = ()) -> Circuit:
    return house(devices=DEVICES, conductors=[*SUPPLY, *wires], links=links)


def test_a_neutral_that_is_never_there() -> None:
    """The clock and the zone's pump have none, each on its own; what has no conductor at all is not asked."""
    circuit = small(("clock.L", "box.L", "BN"), *PUMP, ("zone-pump.L", "box.L", "BN"))
    told = seen(MISSING, circuit)
    assert [(each.subject, each.message) for each in told] == [
        ("clock", "the clock of the clock never has a neutral"),
        ("zone-pump", "the zone pump never has a neutral"),
    ]
    assert all(each.holds == "" for each in told)
    assert told[0].example.startswith(
        "with every control off: nothing joins `clock.N` to neutral; a meter shows 2"
    )


def test_two_without_a_neutral_in_one_terminal_are_told_once() -> None:
    circuit = small(
        ("pump.L", "box.L", "BN"),
        ("pump.N", "box.A", "BU"),
        ("clock.L", "box.L", "BN"),
        ("clock.N", "box.A", "BU"),
    )
    (only,) = seen(MISSING, circuit)
    assert only.subject == "clock"
    assert only.message == "the clock of the clock and the pump never have a neutral"
    assert [words for _, words in only.related] == ["the pump"]


def test_a_neutral_terminal_that_is_live_is_told_as_that() -> None:
    circuit = small(("pump.L", "box.L", "BN"), ("pump.N", "box.L", "BU"))
    assert subjects(MISSING, circuit) == []


def test_a_neutral_behind_a_thermostat() -> None:
    circuit = small(
        ("stat.common", "box.N", "BN"),
        ("stat.call", "box.A", "BK"),
        ("pump.L", "box.L", "BN"),
        ("pump.N", "box.A", "BU"),
        ("zone-pump.L", "box.L", "BN"),
        ("zone-pump.N", "box.N", "BU"),
    )
    (only,) = seen(SWITCHED, circuit)
    assert only.subject == "pump"
    assert only.message == "the pump loses its neutral"
    assert only.holds == "whenever the stat is satisfied"
    assert subjects(MISSING, circuit) == []


def test_a_lead_with_line_and_neutral_exchanged_has_a_neutral() -> None:
    """On the other side of the load: told as polarity, not as a missing neutral; nor is a return through the earth."""
    assert subjects(MISSING, small(("pump.L", "box.N", "BN"), ("pump.N", "box.L", "BU"))) == []
    assert subjects(MISSING, small(("pump.L", "box.L", "BN"), ("pump.N", "box.E", "BU"))) == []


@pytest.mark.parametrize(
    ("line", "neutral", "told"),
    [
        ("box.L", "second-spur.N", ["pump"]),
        ("second-spur.L", "box.N", ["pump"]),
        ("box.L", "box.N", []),
        ("second-spur.L", "second-spur.N", []),
        ("box.N", "second-spur.L", ["pump"]),
        ("second-spur.N", "second-spur.L", []),
        ("box.N", "box.L", []),
    ],
)
def test_a_neutral_of_another_spur(line: str, neutral: str, told: list[str]) -> None:
    """The other way round as well, with line at the neutral terminal. The zone's pump, on one spur, comes after."""
    other: list[Wire] = [("zone-pump.L", "box.L", "BN"), ("zone-pump.N", "box.N", "BU")]
    circuit = small(("pump.L", line, "BN"), ("pump.N", neutral, "BU"), *other)
    assert subjects(BORROWED, circuit) == told


def test_from_which_spur_the_line_comes() -> None:
    (only,) = seen(BORROWED, small(("pump.L", "second-spur.L", "BN"), ("pump.N", "box.N", "BU")))
    assert only.message == "the pump takes its line from the second spur and its neutral from another supply"


def test_with_the_lines_or_the_neutrals_joined_nobody_borrows() -> None:
    """Joined lines are told as a box that is live with its isolator off; joined neutrals are both of them its own."""
    pump: list[Wire] = [("pump.L", "box.L", "BN"), ("pump.N", "second-spur.N", "BU")]
    assert subjects(BORROWED, small(*pump, ("second-spur.L", "box.L", "BN"))) == []
    assert subjects(BORROWED, small(*pump, ("second-spur.N", "box.N", "BU"))) == []


@pytest.mark.parametrize(
    ("wires", "links", "told"),
    [
        ((("pump.L", "box.L", "BN"), ("pump.N", "box.E", "BU")), (), ["pump"]),
        ((("pump.N", "box.L", "BN"), ("pump.L", "box.E", "BU")), (), ["pump"]),
        ((("pump.L", "box.L", "BN"), ("pump.N", "box.N", "BU")), (), []),
        ((("pump.L", "box.L", "BN"), ("pump.N", "box.N", "BU")), (("box.N", "box.E"),), []),
        ((("pump.L", "box.A", "BN"), ("pump.N", "box.E", "BU")), (), []),
        ((("pump.L", "box.N", "BN"), ("pump.N", "box.E", "BU")), (), []),
    ],
)
def test_a_load_between_line_and_earth(
    wires: Sequence[Wire], links: Sequence[Sequence[str]], told: list[str]
) -> None:
    assert subjects(BY_EARTH, small(*wires, links=links)) == told


def test_metal_without_an_earth() -> None:
    """The pump has none, the zone's pump has; a valve that no conductor reaches is not recorded yet."""
    circuit = small(*PUMP[:2], ("zone-pump.L", "box.L", "BN"), ("zone-pump.E", "box.E", "GNYE"))
    (only,) = seen("class-one-without-earth", circuit)
    assert only.message == "the pump is of class I and has no earth"
    assert only.holds == "in every state"
    assert only.key


def test_metal_boxes_and_devices_are_told_apart() -> None:
    """Two boxes share a loose earth core, and two pumps another."""
    metal = {"terminals": ["A", "L", "N"], "metal_box": True}
    circuit = house(
        devices={**DEVICES, "box": ("wiring-centre", metal), "far-box": ("wiring-centre", metal)},
        conductors=[
            ("spur.L", "box.L", "BN"),
            ("box.case", "far-box.case", "GNYE", "riser"),
            ("pump.L", "box.L", "BN"),
            ("pump.E", "zone-pump.E", "GNYE"),
            ("zone-pump.L", "box.L", "BN"),
        ],
    )
    assert [each.message for each in seen("class-one-without-earth", circuit)] == [
        "the box and the far box are metal boxes and have no earth",
        "the pump and the zone pump are of class I and have no earth",
    ]


def test_a_live_earth_terminal_is_told_as_that() -> None:
    circuit = small(*PUMP[:2], ("pump.E", "box.L", "GNYE"), ("zone-pump.E", "box.L", "GNYE"))
    assert "pump" not in subjects("class-one-without-earth", circuit)
    (only,) = seen("earth-terminal-live", circuit)
    assert only.message.startswith(
        "the metal of the pump and the zone pump is live, through the earth terminal: "
    )
    assert only.message.endswith("`spur.L` > `box.L` > `pump.E`")


@pytest.mark.parametrize(
    ("line", "earths", "told"),
    [
        ("box.L", ["second-spur.E"], ["pump"]),
        ("box.L", ["box.E"], []),
        ("box.L", ["box.E", "second-spur.E"], []),
        ("second-spur.L", ["box.E"], ["pump"]),
        ("second-spur.L", ["second-spur.E"], []),
    ],
)
def test_an_earth_of_another_spur(line: str, earths: list[str], told: list[str]) -> None:
    """With the earths of both it has its own too. The zone's pump, in order, comes first."""
    cores = [("pump.E", ref, f"GNYE{index}") for index, ref in enumerate(earths, start=1)]
    circuit = house(
        devices={**DEVICES, "a-pump": "pump"},
        conductors=[
            *SUPPLY,
            ("a-pump.L", "box.L", "BN"),
            ("a-pump.E", "box.E", "GNYE"),
            ("pump.L", line, "BN"),
            *cores,
        ],
    )
    assert subjects("earth-borrowed", circuit) == told


def odd(*terminals: Terminal) -> DeviceParts:
    """A device of which the load has a contact behind it: no terminal is its second end."""
    return DeviceParts(
        terminals=(Terminal(name="L", words="line", role=Role.SWITCHED_LINE), *terminals),
        inner=("m",),
        contacts=(Contact(name="link", words="link", a="m", b=terminals[0].name, when=ALWAYS),),
        loads=(
            Load(name="load", words="load", a="L", b="m", watts=5.0, power_factor=1.0, kind=LoadKind.LAMP),
        ),
    )


@pytest.mark.parametrize(
    ("role", "shown"),
    [(Role.NEUTRAL, "`odd.N` to neutral"), (Role.SWITCHED_LINE, "nothing joins `odd.m` to neutral")],
)
def test_a_load_with_a_contact_behind_it_is_told_at_the_neutral_terminal(role: Role, shown: str) -> None:
    """Where the device has a terminal for the neutral; else at the load's own end."""
    circuit = house(
        devices={"spur": "fused-spur", "odd": odd(Terminal(name="N", words="other end", role=role))},
        conductors=[("spur.L", "odd.L", "BN")],
    )
    (only,) = seen(MISSING, circuit)
    assert shown in only.example
