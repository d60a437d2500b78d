"""Colours of cores: each rule on small circuits in which one core after another is in order or is not, judged by hand.

Blue is neutral, brown line, green-and-yellow earth and nothing else (BS 7671, 514.3.1 and 514.4.2; Table 51).
"""

from collections.abc import Sequence

import pytest

from generator.circuit.model import Circuit
from generator.findings.finding import Severity
from generator.rules.example_house import HOUSE, change
from tests.circuits import Kinds, Wire, house
from tests.unit.rules.looking import found, seen, subjects

DEVICES: Kinds = {
    "spur": "fused-spur",
    "box": ("wiring-centre", {"terminals": ["A", "B", "E", "L", "N"]}),
    "far-box": ("wiring-centre", {"terminals": ["1", "2", "3"]}),
    "stat": "room-thermostat",
    "valve": "two-port-valve",
    "pump": "pump",
}
SUPPLY: tuple[Wire, ...] = (
    ("spur.L", "box.L", "BN"),
    ("spur.N", "box.N", "BU"),
    ("spur.E", "box.E", "GNYE"),
)
EARTH_RISER: Wire = ("box.E", "far-box.1", "GNYE", "riser")
BRIDGE = (("box.N", "box.E"),)
"""Neutral and earth joined."""


def small(*wires: Wire, links: Sequence[Sequence[str]] = ()) -> Circuit:
    return house(devices=DEVICES, conductors=[*SUPPLY, *wires], links=links)


def test_an_earth_between_two_boxes_does_not_hide_a_live_one() -> None:
    circuit = small(EARTH_RISER, ("stat.common", "box.L", "BN"), ("stat.call", "box.A", "GNYE"))
    (only,) = seen("green-yellow-not-earth", circuit)
    assert only.subject == "stat GNYE"
    assert only.message.endswith("is live (`stat.call` to `box.A`)")
    assert only.holds == "whenever the stat is calling for heat"
    assert only.example


@pytest.mark.parametrize(
    ("wires", "links", "words"),
    [
        ((("valve.N", "box.N", "GNYE"),), (), "is a neutral"),
        ((("valve.N", "box.N", "GNYE"),), BRIDGE, "ends at a terminal that is no earth"),
        ((("valve.motor", "box.A", "GNYE"),), (), "ends at a terminal that is no earth"),
        ((("valve.E", "box.E", "GNYE"),), (), None),
        ((("valve.E", "box.L", "GNYE"),), (), None),
        ((("valve.E", "pump.L", "GNYE"),), (), "ends at a terminal that is no earth"),
        ((EARTH_RISER,), (), None),
        ((("box.A", "far-box.2", "GNYE", "riser"),), (), None),
        ((("box.N", "far-box.2", "GNYE", "riser"),), (), "is a neutral"),
        ((("box.N", "far-box.2", "GNYE", "riser"),), BRIDGE, None),
        ((("box.L", "far-box.2", "GNYE", "riser"),), (), "is live"),
    ],
)
def test_what_a_green_and_yellow_core_is(
    wires: Sequence[Wire], links: Sequence[Sequence[str]], words: str | None
) -> None:
    """Its earth end at the device is right where it meets the line: that is told of the earth, not of the colour."""
    told = seen("green-yellow-not-earth", small(*wires, links=links))
    assert len(told) == (words is not None)
    for each in told:
        assert f" {words} (`" in each.message
        assert (each.holds, bool(each.example)) == (
            ("in every state", True) if words == "is live" else ("", False)
        )


@pytest.mark.parametrize(
    ("sleeve", "severity", "state"),
    [
        ("BN", Severity.WARNING, "sleeved brown"),
        ("RD", Severity.WARNING, "sleeved red"),
        ("GNYE", Severity.ERROR, "not sleeved"),
        ("BU", Severity.ERROR, "not sleeved"),
    ],
)
def test_a_blue_line_by_its_sleeve(sleeve: str, severity: Severity, state: str) -> None:
    """Blue once more, or earth, is no sleeve for a line."""
    record = change(
        HOUSE,
        (
            "{ to: room-thermostat.call, core: BK }",
            f"{{ to: room-thermostat.call, core: BU, sleeve: {sleeve} }}",
        ),
    )
    (only,) = found("blue-core-as-line", record)
    assert only.severity is severity
    assert f"is a line conductor, {state} (" in only.message


@pytest.mark.parametrize(
    ("sleeve", "severity", "state"),
    [
        ("BU", Severity.WARNING, "sleeved blue"),
        ("BK", Severity.WARNING, "sleeved black"),
        ("GY", Severity.ERROR, "not sleeved"),
    ],
)
def test_a_brown_neutral_by_its_sleeve(sleeve: str, severity: Severity, state: str) -> None:
    record = change(
        HOUSE,
        ("- { to: pump.L, core: BN }", "- { to: pump.L, core: BK }"),
        ("- { to: pump.N, core: BU }", f"- {{ to: pump.N, core: BN, sleeve: {sleeve} }}"),
    )
    (only,) = found("brown-core-as-neutral", record)
    assert only.severity is severity
    assert f"is a neutral, {state} (" in only.message


def test_black_beside_red_is_a_line_where_a_blue_core_of_the_cable_is_spare() -> None:
    """Two cores of the new colours and one of the old say nothing; red and black without a blue one are the old pair."""
    wires: list[Wire] = [("stat.common", "box.L", "RD"), ("stat.call", "box.A", "BK")]
    cables = {"stat": {"cores": ["RD", "BK", "BU"]}}
    spare = [{"cable": "stat", "core": "BU", "how": "in a connector"}]
    with_blue = house(devices=DEVICES, conductors=[*SUPPLY, *wires], cables=cables, spare=spare)
    assert subjects("blue-core-as-line", with_blue) == []
    assert subjects("blue-core-as-line", small(*wires)) == ["stat BK"]


def test_a_core_that_is_line_and_neutral_by_turns_is_told_by_neither() -> None:
    """A change-over thermostat with line on one side and neutral on the other."""
    devices: Kinds = {**DEVICES, "stat": "cylinder-thermostat"}
    wires: list[Wire] = [
        ("stat.call", "box.L", "BN"),
        ("stat.satisfied", "box.N", "BU"),
    ]
    for core, rule in (("BU", "blue-core-as-line"), ("BN", "brown-core-as-neutral")):
        circuit = house(
            devices=devices, conductors=[*SUPPLY, *wires, ("stat.common", "far-box.1", core, "common")]
        )
        assert subjects(rule, circuit) == []


def test_a_switched_neutral_in_brown_is_told_of_the_switch() -> None:
    """Beyond the thermostat the core is a neutral at times only; before it, at all times."""
    circuit = small(
        ("stat.common", "box.N", "BN"), ("stat.call", "far-box.1", "BK"), ("pump.N", "far-box.1", "BN")
    )
    assert subjects("brown-core-as-neutral", circuit) == ["stat BN"]


@pytest.mark.parametrize(
    ("wire", "links", "told"),
    [
        (("pump.E", "box.E", "GN"), (), True),
        (("pump.E", "box.E", "GNYE"), (), False),
        (("box.E", "far-box.1", "BK", "riser"), (), True),
        (("box.A", "far-box.1", "BK", "riser"), (), False),
        (("pump.N", "box.E", "BU"), (), False),
        (("pump.E", "box.E", "GN"), BRIDGE, False),
        (("pump.E", "box.E", "GN"), (("box.L", "box.E"),), False),
    ],
)
def test_an_earth_of_another_colour(wire: Wire, links: Sequence[Sequence[str]], told: bool) -> None:
    """Not one that is line or neutral as well, nor a load's side that got to the earths: other rules tell of those."""
    assert bool(subjects("earth-core-not-green-and-yellow", small(wire, links=links))) is told


def test_an_earth_sleeved_green_and_yellow() -> None:
    record = change(HOUSE, ("- { to: pump.E, core: GNYE }", "- { to: pump.E, core: GN, sleeve: GNYE }"))
    assert found("earth-core-not-green-and-yellow", record) == []


def test_spare_cores_are_of_the_cable_too() -> None:
    circuit = house(
        devices=DEVICES,
        conductors=[*SUPPLY, ("stat.common", "box.L", "BN")],
        cables={"stat": {"cores": ["BN", "BK"]}, "pump": {"cores": []}},
        spare=[
            {"cable": "stat", "core": "BK", "how": "in a connector"},
            {"cable": "stat", "core": "GY", "how": "in a connector"},
            {"cable": "pump", "core": "OG", "how": "in a connector"},
            {"cable": "valve", "core": "OG", "how": "in a connector"},
        ],
    )
    assert [(each.subject, each.message) for each in seen("core-not-in-cable", circuit)] == [
        ("stat GY", "cable `stat` has no core GY; its cores are recorded as BN BK"),
        ("pump OG", "cable `pump` has no core OG; its cores are recorded as none"),
    ]


@pytest.mark.parametrize(
    ("sleeves", "told"),
    [
        (("", ""), True),
        (("", "BN"), False),
        (("BN", "BN"), True),
        (("BN", "RD"), False),
        (("", "BN", "BN"), True),
        (("", "", "BN"), True),
        (("", "BN", "RD"), False),
        (("BU",), False),
    ],
)
def test_black_cores_told_apart_by_their_sleeves(sleeves: tuple[str, ...], told: bool) -> None:
    """One may be without a sleeve, where the others have one each of its own."""
    landed = "".join(
        f"        - {{ to: room-thermostat.common, core: BK{index}, cable: five"
        + (f", sleeve: {sleeve} }}\n" if sleeve else " }\n")
        for index, sleeve in enumerate(sleeves, start=1)
    )
    record = change(HOUSE, ("        - { to: room-thermostat.common, core: BN }\n", landed))
    findings = found("alike-cores-unmarked", record)
    assert [each.subject for each in findings] == ([f"five BK{len(sleeves)}"] if told else [])
    for each in findings:
        assert each.message == f"cable `five` has {len(sleeves)} black cores and nothing tells them apart"
        assert len(each.related) == len(sleeves) - 1


def test_a_cable_in_order_does_not_hide_the_next() -> None:
    """Numbered cores, two earths, and two that are of different cables need no marks."""
    circuit = house(
        devices=DEVICES,
        conductors=[
            *SUPPLY,
            ("stat.common", "box.L", "BK1"),
            ("stat.call", "box.A", "BK2"),
            ("box.E", "far-box.1", "GNYE1", "riser"),
            ("box.E", "far-box.2", "GNYE2", "riser"),
            ("valve.motor", "box.A", "BN"),
            ("valve.switch-a", "box.L", "GY1"),
            ("valve.switch-b", "box.B", "GY2"),
        ],
        cables={"stat": {"numbered": True}},
    )
    assert subjects("alike-cores-unmarked", circuit) == ["valve GY2"]


def test_a_neutral_at_times_does_not_hide_one_at_all_times() -> None:
    """The first is behind a thermostat; so is a core that is nothing at all, and a live one."""
    circuit = small(
        ("pump.N", "far-box.1", "BN"),
        ("pump.L", "box.L", "BN1"),
        ("valve.switch-a", "box.B", "BN"),
        ("stat.call", "far-box.1", "BK"),
        ("stat.common", "box.N", "BN"),
    )
    assert subjects("brown-core-as-neutral", circuit) == ["stat BN"]
