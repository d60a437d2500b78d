"""Where two boilers heat parts without valves, the record does not say which zone is whose: no step may rest on it."""

from datetime import date
from pathlib import Path

from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy
from generator.pipeline import examine
from tests.odd_heat_houses import TWO_BOILERS, written


def test_the_thermostat_of_one_boiler_brings_back_nothing_of_the_other(tmp_path: Path) -> None:
    text = TWO_BOILERS.replace("EX-0003", "HN-01").replace("place: hall", "place: hall, reach: tenant")
    text = text.replace("place: annexe }", "place: annexe, reach: tenant }")
    seen = examine(written(text, tmp_path), today=date(2026, 11, 25))
    assert seen.findings == ()
    found = overrides(seen.solution, seen.findings, Policy())
    assert {name for each in found.instructions for one in each.attempts for name in one.wanted} <= {"taps"}
    assert not {"house", "annexe"} & {service.name for service in found.services}
