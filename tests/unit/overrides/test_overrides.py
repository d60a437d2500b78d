"""What the search gives for demo houses: steps where they are safe, reasons where they are not."""

from datetime import date
from functools import cache
from pathlib import Path

import pytest

from generator.findings.finding import Finding, Severity, Span
from generator.overrides.model import Caution, Instruction, Move, Overrides, Reason, Sign
from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy, VentedLever
from generator.pipeline import examine
from generator.states.solve import TooManyStates

DEMO = Path(__file__).parents[3] / "properties"
DAY = date(2026, 11, 25)
WARNED: VentedLever = "with a warning"
NEVER: VentedLever = "not allowed"


@cache
def found(reference: str, vented: VentedLever = "with a warning") -> Overrides:
    examination = examine(DEMO / f"{reference}.yaml", today=DAY)
    return overrides(examination.solution, examination.findings, Policy(vented_lever=vented))


def instruction(reference: str, slug: str, vented: VentedLever = "with a warning") -> Instruction:
    return next(each for each in found(reference, vented).instructions if each.symptom.slug == slug)


def moves(one: Instruction) -> list[Move]:
    return [step.move for attempt in one.attempts for step in attempt.steps]


def test_a_dead_valve_motor_is_met_with_its_lever_while_something_else_fires_the_boiler() -> None:
    plan = next(
        plan
        for plan in found("EB-0012").plans
        if plan.fault == "motor-open-circuit:heating-valve" and plan.service == "heating"
    )
    # Neither lever makes its end switch there, so the boiler has to be called by the hot water.
    assert {step.move for step in plan.steps} == {Move.LEVER_LATCHED, Move.TIMER_ON}
    assert plan.only_while == ("cylinder-thermostat.calling",)
    assert plan.still_works == ("hot-water",)


def test_hot_water_comes_by_the_immersion_heater_before_any_lever() -> None:
    one = instruction("EB-0012", "water-cold")
    assert Move.LEVER_LATCHED not in moves(one)
    at = moves(one).index(Move.SWITCH_ON)
    assert moves(one)[at - 1] is Move.CHECK_TAP


def test_an_immersion_heater_that_nobody_tested_is_left_alone() -> None:
    one = instruction("EB-0108", "water-cold")
    assert Reason.IMMERSION_NOT_TESTED in one.reasons
    assert Move.CHECK_TAP not in moves(one)


@pytest.mark.parametrize("reference", ["EB-0027", "EB-0101", "EB-0167", "FW-01"])
def test_no_lever_of_an_unvented_cylinder_is_ever_moved(reference: str) -> None:
    # Approved Document G, 3.30 and 3.31: the cut-out acts through the valve, which must shut when its supply is lost.
    for one in found(reference, WARNED).instructions:
        for attempt in one.attempts:
            for step in attempt.steps:
                assert not (step.move is Move.LEVER_LATCHED and step.device == "hot-water-valve")


def test_a_vented_cylinder_goes_by_the_firms_choice() -> None:
    warned = instruction("EB-0108", "water-cold", WARNED)
    with_lever = [a for a in warned.attempts if any(s.move is Move.LEVER_LATCHED for s in a.steps)]
    assert with_lever
    assert {Caution.SCALD, Caution.TIME_LIMIT} <= set(with_lever[0].cautions)
    refused = instruction("EB-0108", "water-cold", NEVER)
    assert Move.LEVER_LATCHED not in moves(refused)
    assert Reason.VENTED_POLICY in refused.reasons


def test_a_lever_that_heats_a_cylinder_past_its_thermostat_is_not_said_to_be_free_of_it() -> None:
    past = "a cylinder heated with its thermostat satisfied"
    warned = instruction("EB-0108", "water-cold", WARNED)
    refused = instruction("EB-0108", "water-cold", NEVER)
    assert not any(hazard.startswith(past) for hazard in warned.proof.hazards)
    assert any(hazard.startswith(past) for hazard in refused.proof.hazards)


def test_a_house_too_large_to_be_searched_has_no_steps_and_stops_nothing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def too_large(*_: object) -> None:
        raise TooManyStates(25, 24, "independent controls")

    monkeypatch.setattr("generator.overrides.overrides.outcomes", too_large)
    examination = examine(DEMO / "EB-0012.yaml", today=DAY)
    answer = overrides(examination.solution, examination.findings, Policy())
    assert answer.refused is Reason.TOO_LARGE
    assert not answer.instructions


def test_danger_stops_every_step() -> None:
    examination = examine(DEMO / "EB-0012.yaml", today=DAY)
    danger = Finding(rule="x", severity=Severity.DANGER, message="m", fix="f", span=Span("f", 1, 1))
    stopped = overrides(examination.solution, [*examination.findings, danger], Policy())
    assert stopped.refused is Reason.DANGER
    assert not stopped.instructions
    assert not stopped.plans
    assert found("EB-0071").refused is Reason.DANGER


def test_a_stove_and_a_record_that_cannot_be_solved_stop_every_step() -> None:
    assert found("EB-0175").refused is Reason.SOLID_FUEL
    assert overrides(None, (), Policy()).refused is Reason.NOT_SOLVED


def test_controls_out_of_reach_or_of_assumed_wiring_get_no_step() -> None:
    assert {Reason.OUT_OF_REACH, Reason.ASSUMED} & set(instruction("EB-0079", "rooms-cold").reasons)
    assert not instruction("EB-0079", "rooms-cold").attempts
    assert Reason.ASSUMED in instruction("FW-04", "rooms-cold").reasons


def test_what_was_moved_is_put_back_the_last_first() -> None:
    one = instruction("EB-0012", "rooms-cold")
    back = [step.device for step in one.put_back]
    done = [step.device for attempt in one.attempts for step in attempt.steps if step.device]
    assert set(back) == set(done)
    assert one.put_back[0].move is Move.LEVER_BACK


def test_heat_that_will_not_stop_ends_at_the_switch() -> None:
    one = instruction("EB-0012", "rooms-never-stop")
    assert one.symptom.sign is Sign.ROOMS_NEVER_STOP
    assert moves(one)[-1] is Move.SWITCH_OFF
    assert Caution.FROST in one.attempts[-1].cautions


def test_every_fault_that_makes_something_cold_is_behind_some_symptom() -> None:
    result = found("EB-0012")
    cold = {plan.fault for plan in result.plans if plan.service not in plan.still_works}
    behind = {name for one in result.instructions for name in one.proof.faults}
    by_work = {name for name in cold if name.startswith(("cores-exchanged", "polarity-reversed"))}
    assert cold - by_work <= behind


def test_a_lever_that_the_record_does_not_tell_from_another_is_left_alone(tmp_path: Path) -> None:
    text = (DEMO / "EB-0012.yaml").read_text(encoding="utf-8")
    alike = text.replace("airing cupboard, the higher of the two", "airing cupboard").replace(
        "airing cupboard, the lower of the two", "Airing cupboard"
    )
    file = tmp_path / "EB-0012.yaml"
    file.write_text(alike, encoding="utf-8")
    examination = examine(file, today=DAY)
    answer = overrides(examination.solution, examination.findings, Policy(vented_lever=WARNED))
    for one in answer.instructions:
        assert Move.LEVER_LATCHED not in moves(one)
    cold = next(one for one in answer.instructions if one.symptom.slug == "rooms-cold")
    assert Reason.NOT_TOLD_APART in cold.reasons
