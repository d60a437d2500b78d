"""The row of one property: facts of its record and of its solved circuit, and nothing that a name says."""

import pickle
from datetime import date
from pathlib import Path

import pytest

from generator.pipeline import Examination, examine, examine_text
from generator.rules.example_house import HOUSE, TODAY, change, without
from generator.views.stock_model import PartGroup, StockRow
from generator.views.stock_row import still_shown, stock_row
from generator.views.worked_out import worked_out
from tests.tools.paths import PROPERTIES


def made(text: str) -> StockRow:
    examination = examine_text(text, today=TODAY, file="properties/A-1.yaml")
    return stock_row(examination, worked_out(examination), stem="A-1")


def demo(reference: str) -> StockRow:
    examination = _examined(PROPERTIES / f"{reference}.yaml")
    return stock_row(examination, worked_out(examination), stem=reference)


def _examined(file: Path) -> Examination:
    return examine(file, today=date(2026, 11, 25))


def test_what_is_found_of_a_property() -> None:
    row = demo("EB-0012")
    assert (row.reference, row.uprn, row.postcode) == ("EB-0012", "990000000124", "QE1 4KR")
    assert row.address == "4 Kiln Row, Embermere, QE1 4KR"
    assert (row.nation, row.fuel, row.house_type) == ("england", "gas", "")
    assert (
        row.arrangement
        == "One heating zone and hot water, on two two-port valves; a programmer with two channels."
    )
    assert ("two-port-valve", "two-port valve") in row.kinds
    assert "several-supplies" in row.unusual
    assert row.worked_out
    assert row.worst is None


def test_parts_have_their_age_and_valves_have_motors() -> None:
    parts = demo("EB-0012").parts
    valves = [part for part in parts if part.group is PartGroup.VALVES]
    motors = [part for part in parts if part.group is PartGroup.MOTORS]
    assert [(part.device, part.detail, part.fitted) for part in valves] == [
        ("Heating valve", "22 mm", date(2009, 10, 6)),
        ("Hot water valve", "22 mm", date(2021, 12, 2)),
    ]
    assert [(part.words, part.detail, part.fitted) for part in motors] == [
        ("two-port valve motor", "6 W", date(2009, 10, 6)),
        ("two-port valve motor", "6 W", date(2021, 12, 2)),
    ]
    assert not {part.kind for part in parts} & {"boiler", "fused-spur", "wiring-centre", "cylinder"}


def test_the_firms_own_reference_of_a_part() -> None:
    row = made(change(HOUSE, ("{ kind: cylinder-thermostat }", "{ kind: cylinder-thermostat, part: T-07 }")))
    assert [part.part for part in row.parts if part.kind == "cylinder-thermostat"] == ["T-07"]


def test_orange_is_told_by_what_is_live_and_not_by_a_name() -> None:
    orange = [file.stem for file in sorted(PROPERTIES.glob("*.yaml")) if demo(file.stem).orange]
    assert orange == ["EB-0027", "EB-0041", "EB-0120"]


@pytest.mark.parametrize(
    ("change_to", "day"),
    [
        (("sure: {", "sure: {"), date(2026, 3, 14)),
        (("how: tested", "how: assumed"), None),
    ],
)
def test_assumed_is_not_looked_at(change_to: tuple[str, str], day: date | None) -> None:
    text = HOUSE.replace("sure: { how:", "sure: {how:").replace(*change_to)
    row = made(text)
    assert row.visited_on is None
    assert row.looked_on == day


def test_a_record_that_cannot_be_read_has_a_row_too() -> None:
    row = made("format: 1\nproperty: [")
    assert (row.address, row.arrangement, row.worked_out) == ("Address not read", "", False)
    assert row.worst is not None


def test_a_withheld_record_gives_nothing_away() -> None:
    row = made(HOUSE + '\nnotes: "Key safe 4711 by the door, code 1234"\n')
    assert row.address == "Address withheld"
    assert "4711" not in repr(row)
    assert {finding.rule for finding in row.findings} == {"secret-in-record"}


def test_the_last_good_row_tells_what_is_wrong_now() -> None:
    good, bad = made(HOUSE), made(change(HOUSE, ("to: pump.L", "to: nowhere.L")))
    shown = still_shown(good, bad)
    assert shown.arrangement == good.arrangement
    assert shown.findings == bad.findings
    assert shown.settled.findings == bad.settled.findings


def test_a_row_survives_the_way_to_another_process() -> None:
    row = made(without(HOUSE, "- { to: pump.E, core: GNYE }"))
    assert pickle.loads(pickle.dumps(row)) == row  # noqa: S301  # what was pickled just now
