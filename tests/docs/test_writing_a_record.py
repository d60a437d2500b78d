"""The examples of *Writing a record* are read by the program, and the house in them behaves as a reader works it out."""

import re
from datetime import date
from pathlib import Path

import pytest

from generator.findings.finding import Severity
from generator.pipeline import Examination, examine, examine_text
from generator.record.own_kinds import read_own_kind
from generator.templates import templates_dir
from generator.views.property import property_view
from generator.views.readings import Reading

TODAY = date(2026, 11, 25)
BLOCKS = re.findall(
    r"```yaml\n(.*?)```",
    (templates_dir() / "docs" / "writing-a-record.md").read_text(encoding="utf-8"),
    flags=re.DOTALL,
)


@pytest.fixture(scope="module")
def example() -> Examination:
    return examine_text(BLOCKS[0], today=TODAY)


def test_the_whole_record_has_nothing_wrong(example: Examination) -> None:
    assert [finding.message for finding in example.findings] == []


def test_purposes_of_its_terminals(example: Examination) -> None:
    solved = property_view(example, stem="KB-0101").solved
    assert solved is not None
    (centre,) = solved.centres
    assert {row.label: row.purpose for row in centre.rows} == {
        "1": "Heating timer on",
        "2": "Heating valve",
        "3": "Hot water timer on",
        "4": "Hot water valve",
        "5": "Boiler call",
        "6": "Pump",
        "7": "Not used",
        "8": "Earth",
        "9": "Neutral",
        "10": "Permanent live",
    }


def test_readings_worked_out_by_hand(example: Examination) -> None:
    """Live terminals in each state: common practice, no source."""
    solved = property_view(example, stem="KB-0101").solved
    assert solved is not None
    expected = {
        "rest": {"10"},
        "timers": {"1", "3", "10"},
        "zone-1": {"1", "2", "5", "6", "10"},
        "zone-2": {"3", "4", "5", "6", "10"},
        "all": {"1", "2", "3", "4", "5", "6", "10"},
    }
    (centre,) = solved.centres
    for state, live in expected.items():
        assert {row.label for row in centre.rows if row.readings[state].live} == live
        for row in centre.rows:
            _agrees(row.readings[state])


def _agrees(reading: Reading) -> None:
    """Live reads supply to neutral and to earth, all else next to nothing: this house has no odd readings."""
    if reading.live:
        assert 216.2 <= reading.to_neutral_v <= 253.0
        assert 216.2 <= reading.to_earth_v <= 253.0
        assert reading.word == "live"
    else:
        assert reading.to_neutral_v < 15
        assert reading.to_earth_v < 15


def test_account_of_a_call(example: Examination) -> None:
    solved = property_view(example, stem="KB-0101").solved
    assert solved is not None
    heating = solved.stories[0]
    assert heating.needs == ("programmer channel 1 is on", "the hall thermostat is calling for heat")
    assert [(event.device, event.happens) for event in heating.events] == [
        ("Heating valve", "The heating valve opens and its end switch is made"),
        ("Boiler", "The boiler is called"),
        ("Pump", "The pump runs"),
    ]
    assert heating.events[1].says == (
        "Live from terminal 10, by the GY core to heating valve switch-a, through the heating valve end switch "
        "(made) to heating valve switch-b, by the OG core to terminal 5, by the BK core to boiler call."
    )
    assert heating.missing == ()
    assert "overrun" in heating.ends


def test_house_type_and_short_way_of_the_page(tmp_path: Path) -> None:
    """The page's house type and short way, put together as it says."""
    types = tmp_path / "house-types"
    types.mkdir()
    (types / "sorrel-lane-two-zone.yaml").write_text(BLOCKS[1], encoding="utf-8")
    head = BLOCKS[0][: BLOCKS[0].index("devices:")]
    record = head.replace("format: 1\n", "format: 1\nhouse_type: sorrel-lane-two-zone\n", 1) + BLOCKS[2]
    file = tmp_path / "KB-0101.yaml"
    file.write_text(record, encoding="utf-8")
    examined = examine(file, today=TODAY)
    assert [finding.message for finding in examined.findings] == []
    assert examined.circuit is not None
    names = [device.name for device in examined.circuit.devices]
    assert names[:3] == ["spur", "centre", "programmer"]
    assert {"bedrooms-valve", "cylinder"} <= set(names)


def test_accepted_finding_of_the_page() -> None:
    """Two conductors in one terminal of the valve are the finding that the page accepts."""
    (block,) = [block for block in BLOCKS if block.startswith("accepted:")]
    looped = "  direct:\n    - {ends: [heating-valve.switch-b, boiler.call], core: GY, cable: boiler-call}\n"
    text = (
        BLOCKS[0].replace("\nzones:", f"{looped}\nzones:").replace(", {to: boiler.call, core: BK}", "")
        + block
    )
    text = text.replace("at: hall-valve", "at: heating-valve")
    (finding,) = examine_text(text, today=TODAY).findings
    assert (finding.rule, finding.severity) == ("terminal-landed-twice", Severity.NOTE)
    assert "Looped on at the valve" in finding.message


def test_kind_of_your_own_of_the_page() -> None:
    (text,) = [block for block in BLOCKS if "\nkind: " in block]
    made = read_own_kind(text.encode(), "kinds/run-back-timer.yaml", "run-back-timer")
    assert made.findings == ()
    assert made.kind is not None


def test_record_with_the_kind_of_your_own_of_the_page(tmp_path: Path) -> None:
    """Its contact goes by its channel and its electronics together; the call is still told as that of the channel."""
    (text,) = [block for block in BLOCKS if "\nkind: " in block]
    (tmp_path / "kinds").mkdir()
    (tmp_path / "kinds" / "run-back-timer.yaml").write_text(text, encoding="utf-8")
    record = BLOCKS[0].replace(
        "{kind: programmer, place: hall, reach: tenant, settings: {channels: 2}}",
        "{kind: run-back-timer, place: hall, reach: tenant}",
    )
    record = record.replace("programmer.on-1", "programmer.out").replace(
        "{to: programmer.on-2, core: GY}, ", ""
    )
    record = record.replace("channel: programmer.2, ", "").replace(
        "{to: water-thermostat.common, core: BN}", ""
    )
    record = record.replace(
        "- {to: boiler.L, core: BN}",
        "- {to: boiler.L, core: BN}\n        - {to: water-thermostat.common, core: BN}",
    )
    file = tmp_path / "KB-0101.yaml"
    file.write_text(record, encoding="utf-8")
    examination = examine(file, today=TODAY)
    assert {finding.severity for finding in examination.findings} <= {Severity.WARNING, Severity.NOTE}
    solved = property_view(examination, stem="KB-0101").solved
    assert solved is not None
    assert solved.call_map is not None
    assert [node.words for node in solved.call_map.nodes][:2] == ["Programmer channel 1", "Hall thermostat"]
