"""The words of the Overrides page and of the command."""

import re
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import get_args

from click.testing import CliRunner

from generator.command.main import program
from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy, VentedLever
from generator.pipeline import examine
from generator.views.overrides import overrides_view

DEMO = Path(__file__).parents[3] / "properties"
DAY = date(2026, 11, 25)


def test_every_step_and_every_fault_has_words() -> None:
    examination = examine(DEMO / "EB-0012.yaml", today=DAY)
    view = overrides_view(
        examination.circuit, overrides(examination.solution, examination.findings, Policy())
    )
    assert view.instructions
    assert view.plans
    assert not view.refused
    for one in view.instructions:
        for attempt in one.attempts:
            assert all(attempt.steps)
            assert attempt.brings.endswith(".")
            assert all(" " in words for words in attempt.helps), "names instead of words"
    assert any("lever over" in step for plan in view.plans for step in plan.steps)


def test_the_command_says_steps_and_proof() -> None:
    result = CliRunner().invoke(
        program, ["override", "EB-0012", "--properties", str(DEMO), "--today", "2026-11-25", "--faults"]
    )
    assert result.exit_code == 0, result.output
    assert "No room gets warm" in result.output
    assert "proved: Try 1" in result.output
    assert "motor open-circuit" in result.output


def test_the_command_says_why_there_is_no_step() -> None:
    result = CliRunner().invoke(
        program, ["override", "EB-0175", "--properties", str(DEMO), "--today", "2026-11-25"]
    )
    assert result.exit_code == 1
    assert "heat that no control can stop" in result.output


NIGHT = """\
format: 1
property:
  reference: NT-01
  address: {lines: [1 Any Row], town: Embermere}
  nation: england
  fuel: electricity
  dwelling: {storeys: 1, floor_area_m2: 40}
sure: {how: tested, on: 2026-03-17, by: electrician}
devices:
  supply: {kind: own-circuit, settings: {breaker_a: 16, feeds: immersion heater}}
  night: {kind: time-switch, reach: tenant, settings: {channels: 1, contact_a: 16}}
  immersion: {kind: immersion-heater}
  cylinder: {kind: cylinder, settings: {system: vented, other_heat: [immersion heater]}}
wiring:
  direct:
    - {ends: [supply.L, night.L], core: BN}
    - {ends: [supply.N, night.N], core: BU}
    - {ends: [night.on-1, immersion.L], core: BN, cable: immersion}
    - {ends: [supply.N, immersion.N], core: BU, cable: immersion}
    - {ends: [supply.E, immersion.E], core: GNYE, cable: immersion}
"""
"""Night-rate water heating alone: nothing that a boiler or a heating control gives."""


def test_the_command_lists_no_hazards_where_none_was_looked_for(tmp_path: Path) -> None:
    (tmp_path / "NT-01.yaml").write_text(NIGHT, encoding="utf-8")
    result = CliRunner().invoke(program, ["override", str(tmp_path / "NT-01.yaml"), "--today", "2026-11-25"])
    assert result.exit_code == 1, result.output
    assert "Looked for" not in result.output


def test_one_fault_is_one() -> None:
    """Numbers agree with their nouns, and sentences begin with a capital."""
    for reference in ("EB-0012", "EB-0164"):
        result = CliRunner().invoke(
            program, ["override", reference, "--properties", str(DEMO), "--today", "2026-11-25"]
        )
        assert not re.search(r"\b1 faults|^ *[a-z]+ faults? can", result.output, re.MULTILINE)


def test_the_page_names_no_hazard_as_absent_that_one_of_its_steps_leads_to() -> None:
    examination = examine(DEMO / "EB-0108.yaml", today=DAY)
    found = overrides(examination.solution, examination.findings, Policy(vented_lever="with a warning"))
    view = overrides_view(examination.circuit, found)
    assert view.hazards
    assert not any(h.split(",")[0] == "a cylinder heated with its thermostat satisfied" for h in view.hazards)


def test_a_hazard_that_one_instruction_leads_to_is_not_said_of_the_page() -> None:
    examination = examine(DEMO / "EB-0108.yaml", today=DAY)
    pages = {}
    for words in get_args(VentedLever):
        found = overrides(examination.solution, examination.findings, Policy(vented_lever=words))
        pages[words] = overrides_view(examination.circuit, found).hazards
    past = "a cylinder heated with its thermostat satisfied"
    assert any(hazard.startswith(past) for hazard in pages["not allowed"])
    assert not any(hazard.startswith(past) for hazard in pages["with a warning"])
    assert pages["with a warning"]


def test_faults_that_could_not_be_solved_are_named() -> None:
    examination = examine(DEMO / "EB-0012.yaml", today=DAY)
    found = overrides(examination.solution, examination.findings, Policy())
    assert found.unsolved == ()
    view = overrides_view(examination.circuit, replace(found, unsolved=("Relay: coil dead",)))
    assert any("Relay: coil dead" in limit for limit in view.limits)
