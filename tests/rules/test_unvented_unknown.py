"""An unvented cylinder is judged though the record says nothing of its coil. Common practice, no source."""

import re
from pathlib import Path

import pytest

from generator.findings.finding import Severity
from generator.rules.example_house import HOUSE, UNVENTED, change
from generator.rules.rules import rule_named
from tests.rules.examples import examined

CUT_OUT = ("unvented-without-cut-out", "unvented-cut-out-does-nothing")


def without_water(text: str) -> str:
    """The house with neither zones nor water circuits recorded."""
    return re.sub(r"\nzones:.*", "\n", text, flags=re.DOTALL)


def cut_outs(text: str, folder: Path) -> set[str]:
    return {item.rule for item in examined(text, folder).findings if item.severity is Severity.DANGER}


@pytest.mark.parametrize("name", CUT_OUT)
def test_the_wrong_houses_are_still_in_danger(name: str, tmp_path: Path) -> None:
    rule = rule_named(name)
    assert rule is not None
    assert cut_outs(without_water(rule.wrong), tmp_path) == {name}


def test_a_cut_out_that_shuts_a_valve_is_believed(tmp_path: Path) -> None:
    assert cut_outs(without_water(UNVENTED), tmp_path) == set()


def test_only_the_hot_water_is_missing(tmp_path: Path) -> None:
    text = change(HOUSE, ("settings: { system: vented }", "settings: { system: unvented }"))
    text = re.sub(r"\n  hot-water: .*", "", text)
    text = re.sub(r"\n.*feeds: cylinder coil.*", "", text)
    assert cut_outs(text, tmp_path) == {"unvented-without-cut-out"}


def test_without_a_boiler_nothing_is_said(tmp_path: Path) -> None:
    """Electric water heating alone: an immersion heater brings its own cut-out."""
    text = change(without_water(HOUSE), ("settings: { system: vented }", "settings: { system: unvented }"))
    text = re.sub(r".*(boiler: \{ kind|to: boiler\.).*\n", "", text)
    assert cut_outs(text, tmp_path) == set()
