"""A valve that is not of the sort that the short way wires: refused at the line, or wired as the record says."""

from pathlib import Path
from typing import Any

import pytest

from generator.pipeline import examine, examine_text, today
from generator.record.load import load_record
from tests.short_houses import short_house

NAME = "setting-unlike-short-way"


def house(settings: str, more: str = "", arrangement: str = "two-port", valve: str = "heating-valve") -> str:
    text = short_house(arrangement)
    head = "" if "\ndevices:\n" in text else "devices:\n"
    return f"{text}{head}  {valve}: {{settings: {{{settings}}}}}\n{more}"


def told(text: str, folder: Path) -> list[tuple[str, int, str]]:
    file = folder / "XX-1.yaml"
    file.write_text(text, encoding="utf-8")
    return [(each.rule, each.span.line, each.message) for each in load_record(file).findings]


@pytest.mark.parametrize(
    ("settings", "says"),
    [
        (
            "rests: open",
            "`rests: open`: the arrangement `two-port` runs the motor of `heating-valve` to open it",
        ),
        ("end_switch: none", "`heating-valve.switch-a` and `heating-valve.switch-b`, which it then has not"),
    ],
)
def test_a_valve_of_another_sort_is_refused_once_at_its_own_line(
    settings: str, says: str, tmp_path: Path
) -> None:
    text = house(settings)
    ((rule, line, message),) = told(text, tmp_path)
    assert rule == NAME
    assert text.splitlines()[line - 1].strip().startswith("heating-valve:")
    assert says in message


def test_both_are_told_together(tmp_path: Path) -> None:
    found = told(house("rests: open, end_switch: none"), tmp_path)
    assert [rule for rule, _, _ in found] == [NAME, NAME]


@pytest.mark.parametrize(
    ("arrangement", "valve", "settings"),
    [
        ("gravity-hot-water-with-valve", "hot-water-valve", "end_switch: make"),
        ("gravity-hot-water-with-valve", "hot-water-valve", "end_switch: none"),
        ("diverter", "diverter-valve", "end_switch: false"),
        ("combination", "up-valve", "end_switch: none"),
    ],
)
def test_whatever_terminal_an_arrangement_wires_has_to_be_there(
    arrangement: str, valve: str, settings: str, tmp_path: Path
) -> None:
    assert [rule for rule, _, _ in told(house(settings, "", arrangement, valve), tmp_path)] == [NAME]


@pytest.mark.parametrize(
    "settings", ["rests: shut", "end_switch: make", "end_switch: change-over", "lever: none"]
)
def test_what_the_wiring_fits_is_taken(settings: str, tmp_path: Path) -> None:
    assert told(house(settings), tmp_path) == []


def test_wiring_that_somebody_saw_is_taken(tmp_path: Path) -> None:
    removed = "wiring:\n  removed:\n    - {cable: heating-valve, core: GY}\n    - {cable: heating-valve, core: OG}\n"
    assert told(house("end_switch: none", removed), tmp_path) == []
    moved = "wiring:\n  centres:\n    centre:\n      A: [{to: heating-valve.motor, core: BN}]\n"
    assert told(house("rests: open", moved), tmp_path) == []


def test_with_one_core_of_two_left_it_is_still_refused(tmp_path: Path) -> None:
    removed = "wiring:\n  removed:\n    - {cable: heating-valve, core: GY}\n"
    ((rule, _, message),) = told(house("end_switch: none", removed), tmp_path)
    assert rule == NAME
    assert "switch-b" in message
    assert "switch-a" not in message


@pytest.mark.parametrize(
    "value", ["", "3", "[none]", "{a: none}", "null", "true", "[", "'open'", "~", "-1", "none: none"]
)
@pytest.mark.parametrize("key", ["rests", "end_switch", "settings", "wiring"])
def test_nothing_malformed_ends_in_a_crash(key: str, value: str) -> None:
    given: dict[str, Any] = {
        "rests": house(f"rests: {value}"),
        "end_switch": house(f"end_switch: {value}"),
        "settings": short_house("two-port") + f"devices:\n  heating-valve: {{settings: {value}}}\n",
        "wiring": house("rests: open, end_switch: none", f"wiring: {value}\n"),
    }
    assert examine_text(given[key], today=today()).findings is not None


def test_a_refused_valve_leaves_the_house_without_steps(tmp_path: Path) -> None:
    file = tmp_path / "XX-1.yaml"
    file.write_text(house("rests: open"), encoding="utf-8")
    seen = examine(file, today=today())
    assert seen.solution is None
