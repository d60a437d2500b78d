"""What the rules find in houses with three-port valves: nothing in sound ones, and one change at a time elsewhere."""

from pathlib import Path

import pytest

from generator.rules.example_house import change, moved, without
from generator.rules.example_three_port import DIVERTER, MID_POSITION, MID_POSITION_UNVENTED
from tests.rules.examples import examined, rules_of

GREY = "- { to: valve.water-off, core: GY }"
WHITE = "- { to: valve.heat, core: WH }"
ORANGE = "- { to: valve.out, core: OG }"


@pytest.mark.parametrize(
    "record",
    [MID_POSITION, MID_POSITION_UNVENTED, DIVERTER],
    ids=["mid-position", "mid-position, unvented", "diverter"],
)
def test_sound_houses(record: str, tmp_path: Path) -> None:
    """Hot water open at rest, both ports open at once, and a motor that stays powered are no faults."""
    examination = examined(record, tmp_path)
    assert examination.findings == ()
    assert examination.solution is not None
    assert examination.solution.hunting == 0


@pytest.mark.parametrize(
    ("record", "found"),
    [
        (without(MID_POSITION, GREY), {"call-does-not-reach-boiler"}),
        (
            moved(MID_POSITION, GREY, after=ORANGE),
            {"call-does-not-reach-boiler", "zone-does-not-open-its-valve"},
        ),
        (without(MID_POSITION, "- { to: programmer.off-1, core: OG }"), {"call-does-not-reach-boiler"}),
        (without(MID_POSITION, ORANGE), {"call-does-not-reach-boiler"}),
        (without(MID_POSITION, WHITE), {"zone-does-not-open-its-valve"}),
        (
            without(MID_POSITION, "- { to: water-thermostat.satisfied, core: GY }"),
            {"call-does-not-reach-boiler"},
        ),
        (
            without(MID_POSITION, "- { to: valve.N, core: BU }"),
            {"zone-does-not-open-its-valve", "neutral-missing"},
        ),
        (
            change(
                MID_POSITION,
                (GREY, "- { to: valve.water-off, core: OG }"),
                (ORANGE, "- { to: valve.out, core: GY }"),
            ),
            {"valve-core-against-custom"},
        ),
    ],
    ids=[
        "grey lost",
        "grey on the wrong contact",
        "no hot water off terminal",
        "orange lost",
        "white lost",
        "thermostat's satisfied side not wired",
        "neutral lost",
        "grey and orange colours exchanged",
    ],
)
def test_one_change_is_found(record: str, found: set[str], tmp_path: Path) -> None:
    assert found <= rules_of(record, tmp_path)


def test_two_zones_on_one_valve_are_never_crossed(tmp_path: Path) -> None:
    """White and grey exchanged: said as what it does, not as a crossing of two valves."""
    record = change(
        MID_POSITION,
        (WHITE, "- { to: valve.water-off, core: GY }"),
        (GREY, "- { to: valve.heat, core: WH }"),
    )
    rules = rules_of(record, tmp_path)
    assert "zone-does-not-open-its-valve" in rules
    assert "crossed-zones" not in rules


def test_words_name_the_outlet(tmp_path: Path) -> None:
    findings = examined(without(MID_POSITION, WHITE), tmp_path).findings
    messages = [f.message for f in findings if f.rule == "zone-does-not-open-its-valve"]
    assert messages == ["heating calls and the valve never opens to heating"]


def test_hot_water_first_is_no_fault_of_a_diverter(tmp_path: Path) -> None:
    """Both call: the valve stays at the cylinder by design, and only a mid-position valve must serve both."""
    examination = examined(DIVERTER, tmp_path)
    solution = examination.solution
    assert solution is not None
    both = solution.space.size - 1
    assert not solution.settled.on["valve.open-heating"] >> both & 1
    assert solution.settled.on["boiler.firing"] >> both & 1


def test_a_clock_on_the_wall_is_a_time_of_its_own(tmp_path: Path) -> None:
    """Heating waits for hot water, and has the times of its thermostat's clock besides (common practice, no source)."""
    text = change(
        without(
            DIVERTER, "- { to: programmer.on-2, core: GY }", "- { to: room-thermostat.common, core: BN }"
        ),
        ("kind: room-thermostat", "kind: programmable-room-thermostat"),
        ("settings: { channels: 2, off", "settings: { channels: 1, off"),
        ("      C: # heating on\n", ""),
        (
            "- { to: boiler.L, core: BN }",
            "- { to: boiler.L, core: BN }\n        - { to: room-thermostat.common, core: BN }",
        ),
        ("channel: programmer.2, ", ""),
    )
    assert rules_of(text, tmp_path) == set()
    assert rules_of(text.replace("kind: programmable-room", "kind: room"), tmp_path) == set()
