"""A step that can heat water with nothing to stop it, or an immersion heater, is never given without the caution."""

from datetime import date
from pathlib import Path

import pytest

from generator.overrides.model import Caution, Move, Overrides
from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy
from generator.pipeline import examine
from tests.odd_heat_houses import changed, written
from tests.tools.paths import PROPERTIES

DAY = date(2026, 11, 25)


def found(file: Path) -> Overrides:
    seen = examine(file, today=DAY)
    return overrides(seen.solution, seen.findings, Policy())


def cautions(found: Overrides, move: Move) -> list[tuple[Caution, ...]]:
    """The cautions of every attempt with a step of this sort that switches heat on."""
    return [
        attempt.cautions
        for each in found.instructions
        if not each.symptom.never_stops
        for attempt in each.attempts
        if any(step.move is move for step in attempt.steps)
    ]


@pytest.mark.parametrize("move", [Move.SWITCH_ON, Move.CHECK_CREDIT])
def test_what_sets_a_cylinder_going_that_nothing_stops_has_the_caution(move: Move) -> None:
    # Gravity hot water with nothing on the cylinder.
    told = cautions(found(PROPERTIES / "EB-0142.yaml"), move)
    assert told
    assert all(Caution.SCALD in each for each in told)


def test_a_cylinder_with_its_thermostat_needs_none() -> None:
    told = cautions(found(PROPERTIES / "EB-0066.yaml"), Move.CHECK_CREDIT)
    assert told
    assert not any(Caution.SCALD in each for each in told)


def test_a_switch_that_feeds_an_immersion_heater_too_has_the_caution(tmp_path: Path) -> None:
    text = changed(
        "EB-0164",
        ("immersion.L, immersion-spur.L", "immersion.L, boiler.L"),
        ("immersion.N, immersion-spur.N", "immersion.N, boiler.N"),
        ("immersion.E, immersion-spur.E", "immersion.E, boiler.E"),
    )
    told = cautions(found(written(text, tmp_path, "EB-0164")), Move.SWITCH_ON)
    assert told
    assert all(Caution.SCALD in each for each in told)
