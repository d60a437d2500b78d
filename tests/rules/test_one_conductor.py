"""One conductor that explains what is found is named, with what to do; nothing is named that only hides a fault."""

from datetime import date
from pathlib import Path

import pytest

from generator.pipeline import examine_text
from generator.rules.example_house import HOUSE, OVERRUN, change, moved, without
from generator.rules.rules import rule_named
from tests.rules.examples import examined
from tests.tools.paths import PROPERTIES

CORE = "- { to: heating-valve.motor, core: BN }"


def cures(text: str, folder: Path) -> dict[str, str]:
    return {finding.rule: finding.cure for finding in examined(text, folder).findings}


def test_a_core_that_was_moved(tmp_path: Path) -> None:
    found = cures(moved(HOUSE, CORE, after="- { to: programmer.on-1, core: BK }"), tmp_path)
    assert found["zone-does-not-open-its-valve"].startswith(
        "One change puts it right, worked out from the record: move the brown core (BN) of cable `heating-valve` from "
        "terminal `A` of the centre to `D`"
    )


def test_two_that_were_exchanged(tmp_path: Path) -> None:
    text = change(
        HOUSE,
        ("{ to: boiler.L, core: BN }", "{ to: boiler.call, core: BK }"),
        ("{ to: boiler.call, core: BK }", "{ to: boiler.L, core: BN }"),
    )
    found = cures(text, tmp_path)
    assert all("exchange the" in cure for cure in found.values())
    assert any("cable `boiler`" in cure for cure in found.values())


def test_two_that_went_to_each_other_s_device(tmp_path: Path) -> None:
    text = change(
        HOUSE,
        ("{ to: pump.L, core: BN }", "{ to: heating-valve.motor, core: BN, cable: pump }"),
        (CORE, "- { to: pump.L, core: BN, cable: heating-valve }"),
    )
    found = cures(text, tmp_path)
    (cure,) = set(found.values())
    assert cure == (
        "One change puts it right, worked out from the record: exchange the brown core (BN) of cable `heating-valve` and "
        "the brown core (BN) of cable `pump` in terminal `L` of the pump and terminal `motor` of the heating valve. "
        "Look first whether the house or the record is wrong."
    )


@pytest.mark.parametrize(
    ("line", "ends"),
    [
        (", {to: up.1, core: BK1, cable: riser}", "terminal `A` of the Downstairs centre in terminal `1`"),
        (
            "        - {to: up.5, core: BK3, cable: riser}\n",
            "terminal `E` of the Downstairs centre in terminal `5`",
        ),
        (
            "        - {to: up.7, core: BK5, cable: riser, sleeve: BU}\n",
            "terminal `H` of the Downstairs centre in terminal `7`",
        ),
        (
            "        - {to: up.6, core: GNYE, cable: riser}\n",
            "terminal `G` of the Downstairs centre in terminal `6`",
        ),
    ],
)
def test_one_between_two_wiring_centres_that_is_missing(line: str, ends: str) -> None:
    found = in_demo_house("EB-0066", line)
    told = f"land a core of cable `riser` from {ends} of the Upstairs centre"
    assert any(told in cure for cure in found.values())


@pytest.mark.parametrize(
    ("reference", "old", "new", "told"),
    [
        # A pump that is wired at the boiler, whose neutral and earth are looped on to it.
        (
            "EB-0058",
            "{ends: [pump.N, boiler.N], core: BU}",
            "{ends: [pump.N, boiler.L], core: BU}",
            "move the blue core (BU) of cable `pump` from terminal `L` of the boiler to `N`",
        ),
        (
            "EB-0058",
            "    - {ends: [pump.L, boiler.pump], core: BN}\n",
            "",
            "land a core from terminal `pump` of the boiler, where none is, in terminal `L` of the pump",
        ),
        (
            "EB-0058",
            ", {to: boiler.E, core: GNYE}",
            "",
            "land another core from terminal `E` of the boiler in terminal",
        ),
        # The riser has its neutral already: the spur's belongs in its own box.
        (
            "EB-0066",
            "        - {to: spur.N, core: BU}\n",
            "",
            "land a core from terminal `N` of the spur, where none is, in terminal `H` of the Downstairs centre",
        ),
    ],
)
def test_one_that_loops_on(reference: str, old: str, new: str, told: str) -> None:
    assert any(told in cure for cure in in_demo_house(reference, old, new).values())


def test_an_error_of_another_cause_does_not_stand_against_a_core_that_left_its_cable() -> None:
    """That the relay meets two supplies is an error of its own, with no cure; the valve's core is named all the same."""
    found = in_demo_house(
        "EB-0183", "{to: up-valve.motor, core: BN}", "{to: pump.L, core: BN, cable: up-valve}"
    )
    assert found["live-with-isolator-open"] == ""
    told = "move the brown core (BN) of cable `up-valve` from terminal `L` of the pump to terminal `motor` of the"
    assert told in found["zone-does-not-open-its-valve"]


def test_what_a_dead_house_hides_does_not_stand_against_its_cure() -> None:
    """That the box holds extra-low voltage beside mains shows again as soon as there is mains."""
    found = in_demo_house("EB-0149", "        - {to: spur.L, core: BN}\n")
    assert "extra-low-voltage-in-mains-box" not in found
    told = "land a core from terminal `L` of the spur, where none is, in terminal `L` of the centre"
    assert told in found["zone-does-not-open-its-valve"]


def in_demo_house(reference: str, line: str, other: str = "") -> dict[str, str]:
    """What is said of a house of the demo stock once a conductor of it is taken out, or another put there."""
    text = change((PROPERTIES / f"{reference}.yaml").read_text(encoding="utf-8"), (line, other))
    examination = examine_text(text, today=date(2026, 11, 25), folder=PROPERTIES)
    assert examination.solution is not None
    return {finding.rule: finding.cure for finding in examination.findings}


def test_one_that_is_missing(tmp_path: Path) -> None:
    found = cures(without(HOUSE, "- { to: pump.E, core: GNYE }"), tmp_path)
    assert (
        "land a core from terminal `E` of the pump, where none is, in terminal `F`"
        in found["class-one-without-earth"]
    )


def test_a_link_that_should_not_be(tmp_path: Path) -> None:
    rule = rule_named("control-changes-nothing")
    assert rule is not None
    found = cures(rule.wrong, tmp_path)
    assert set(found) == {rule.name, *rule.implied}
    assert all("take out the link from `centre.C` to `centre.D`" in cure for cure in found.values())


def test_the_line_of_the_conductor_is_given(tmp_path: Path) -> None:
    text = moved(HOUSE, CORE, after="- { to: programmer.on-1, core: BK }")
    (line,) = (number for number, row in enumerate(text.splitlines(), 1) if CORE in row)
    for finding in examined(text, tmp_path).findings:
        assert line in {span.line for span, _ in finding.related}


def test_nothing_is_said_of_what_no_conductor_can_cure(tmp_path: Path) -> None:
    for name in (
        "fuse-not-3-amp",
        "isolator-not-double-pole",
        "stored-water-too-cool",
        "overrun-without-path",
    ):
        rule = rule_named(name)
        assert rule is not None
        assert set(cures(rule.wrong, tmp_path).values()) == {""}


def test_a_cure_never_makes_another_fault(tmp_path: Path) -> None:
    """A boiler called for ever would run its pump too, which is no cure for an overrun that does not."""
    text = moved(OVERRUN, "- { to: pump.L, core: BN }", after="- { to: boiler.call, core: BK }")
    assert "`pump`" in cures(text, tmp_path)["overrun-does-not-run-the-pump"]


@pytest.mark.parametrize("rule", ["blue-core-as-line", "radiator-valve-beside-thermostat"])
def test_findings_that_wiring_is_not_the_cause_of(rule: str, tmp_path: Path) -> None:
    value = rule_named(rule)
    assert value is not None
    assert cures(value.wrong, tmp_path)[rule] == ""


def test_no_cure_leaves_an_error(tmp_path: Path) -> None:
    """Hot water called for by a satisfied thermostat: that a switched output could hold the boiler on is no cure."""
    text = change(
        HOUSE,
        ("- { to: water-thermostat.call, core: BK }", "- { to: water-thermostat.satisfied, core: BK }"),
    )
    found = cures(text, tmp_path)
    assert "zone-does-not-open-its-valve" in found
    assert all("cable `programmer`" not in cure for cure in found.values())


def test_an_output_is_never_landed_on_the_permanent_live(tmp_path: Path) -> None:
    for line in ("- { to: room-thermostat.common, core: BN }", "- { to: water-thermostat.call, core: BK }"):
        for cure in cures(without(HOUSE, line), tmp_path).values():
            assert "to `H`" not in cure


def test_a_zone_that_names_the_valve_of_another_is_not_for_a_conductor(tmp_path: Path) -> None:
    """The record is wrong, not the house: moving cores until it agrees would leave a valve that nothing opens."""
    text = change(
        HOUSE,
        (
            "thermostat: room-thermostat, valve: heating-valve",
            "thermostat: room-thermostat, valve: water-valve",
        ),
    )
    found = cures(text, tmp_path)
    assert "zone-does-not-open-its-valve" in found
    assert set(found.values()) == {""}


def test_the_core_of_the_cable_that_lies_loose_is_landed(tmp_path: Path) -> None:
    """A core of the usual colour would be one that the cable does not have."""
    text = change(without(HOUSE, CORE), ("heating-valve: { cores: [BN,", "heating-valve: { cores: [WH,"))
    found = cures(text, tmp_path)
    told = (
        "land a core from terminal `motor` of the heating valve, where none is, in terminal `D` of the centre"
    )
    assert "core-landed-nowhere" in found
    assert all(told in cure for cure in found.values())
