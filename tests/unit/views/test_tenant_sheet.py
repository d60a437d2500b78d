"""One symptom's sheet: what it says follows from the instruction and the house, and nothing is added."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from generator.circuit.model import Circuit
from generator.overrides.model import (
    Attempt,
    Caution,
    Instruction,
    Move,
    Overrides,
    Reason,
    Sign,
    Step,
    Symptom,
)
from generator.pipeline import examine, today
from generator.views.tenant_model import ShownSymptom
from generator.views.tenant_sheet import MINUTES, SheetWords
from generator.views.tenant_wording import Phrase, load_wordings
from tests.hand_made_overrides import hand_made

PROPERTIES = Path(__file__).parents[3] / "properties"


@cache
def circuit(reference: str) -> Circuit:
    found = examine(PROPERTIES / f"{reference}.yaml", today=today()).circuit
    assert found is not None
    return found


def words(overrides: Overrides, reference: str = "EB-0066") -> SheetWords:
    wording = load_wordings()[0]["en"]
    return SheetWords(circuit(reference), overrides, wording, fuel="gas", stop=(wording.say("stop.short"),))


def plain(phrase: Phrase) -> str:
    return "".join(run.text for run in phrase)


def all_said(sheet: ShownSymptom) -> str:
    phrases = [
        sheet.heading,
        *sheet.rest,
        *sheet.first,
        *sheet.why,
        *sheet.meanwhile,
        *sheet.works,
        *sheet.put_back_by,
    ]
    for each in sheet.tries:
        phrases += each.look
        for step in each.steps:
            phrases += [step.says, *step.more]
    return " ".join(plain(phrase) for phrase in phrases)


def instruction(reference: str = "EB-0066", slug: str = "nothing-warm") -> tuple[Overrides, Instruction]:
    made = hand_made(circuit(reference))
    return made, next(each for each in made.instructions if each.symptom.slug == slug)


def test_steps_are_counted_over_the_whole_sheet_and_each_has_its_place() -> None:
    overrides, one = instruction()
    sheet = words(overrides).sheet(one)
    steps = [step for each in sheet.tries for step in each.steps]
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    proved = [step for each in one.attempts for step in each.steps]
    assert len(steps) == len(proved)
    for shown, step in zip(steps, proved, strict=True):
        device = circuit("EB-0066").device(step.device) if step.device else None
        assert (shown.part, shown.place) == ((device.words, device.place) if device else ("", ""))


def test_each_try_says_where_to_go_on_and_the_last_says_to_ring() -> None:
    overrides, one = instruction()
    ends = [plain(each.look[-1]) for each in words(overrides).sheet(one).tries]
    starts = [each.steps[0].number for each in words(overrides).sheet(one).tries]
    assert ends == [*(f"If not, go on to step {start}." for start in starts[1:]), "If not, ring us."]


def test_put_back_comes_last_step_first_and_names_its_part() -> None:
    overrides, one = instruction(slug="ground-cold")
    shown = words(overrides).sheet(one).put_back
    assert [plain(step.says) for step in shown] == [
        "Let this lever go back to its first end.",
        "Set this back to what it was.",
        "Set Ground floor on the timer back to its times.",
    ]
    assert [step.part for step in shown] == ["Ground valve", "Ground thermostat", ""]


@pytest.mark.parametrize("wait_s", [0.5, 1, 20, 59, 60, 61, 119, 121, 299, 301, 1799, 2701, 3600, 3601, 9000])
def test_a_wait_is_never_said_shorter_than_it_is(wait_s: float) -> None:
    overrides, one = instruction(slug="ground-cold")
    attempt = replace(one.attempts[1], wait_s=wait_s)
    sheet = words(overrides).sheet(replace(one, attempts=(attempt,)))
    text = plain(sheet.tries[0].look[0])
    spelled = {"one": 1, "two": 2, "three": 3, "five": 5, "ten": 10}
    number, unit = text.removeprefix("Wait ").split(".")[0].split()
    minutes = spelled.get(number) or int(number)
    said_s = minutes * (3600 if unit.startswith("hour") else 60)
    assert said_s >= wait_s
    assert said_s in {each * 60 for each in MINUTES} or unit == "hours"


def test_no_boiler_is_spoken_of_where_none_will_start() -> None:
    overrides, one = instruction(slug="ground-cold")
    sheet = words(overrides).sheet(replace(one, attempts=(replace(one.attempts[1], wait_s=0),)))
    assert "boiler" not in all_said(sheet)


def test_zones_are_named_only_where_there_are_several() -> None:
    overrides, one = instruction("EB-0058", "heating-cold")
    sheet = words(overrides, "EB-0058").sheet(one)
    assert plain(sheet.heading) == "The rooms are cold, but the hot water is fine"
    assert "Find the heating on the timer." in all_said(sheet)
    assert not any(run.own for run in sheet.heading)
    overrides, one = instruction("EB-0066", "ground-cold")
    assert plain(words(overrides).sheet(one).heading) == "Cold here: Ground floor"


def test_the_right_button_of_the_timer_is_drawn() -> None:
    overrides, one = instruction(slug="ground-cold")
    step = words(overrides).sheet(one).tries[1].steps[0]
    assert (step.picture.name, step.picture.of, step.picture.which) == ("timer", 3, 2)
    assert "It may be number 2." in [plain(each) for each in step.more]


@pytest.mark.parametrize("reason", list(Reason))
def test_without_steps_the_reason_is_said_and_what_still_works(reason: Reason) -> None:
    overrides, one = instruction(slug="ground-cold")
    sheet = words(overrides).sheet(replace(one, attempts=(), reasons=(reason, Reason.HAZARD), put_back=()))
    assert sheet.tries == ()
    assert len(sheet.why) == 1
    assert "hot water still works" in all_said(sheet)


def test_nothing_is_said_to_work_that_was_not_proved() -> None:
    overrides, one = instruction(slug="ground-cold")
    assert "still work" not in all_said(words(overrides).sheet(replace(one, still_works=())))


def test_scald_and_frost_are_said_before_the_first_step() -> None:
    overrides, one = instruction(slug="hot-water-cold")
    assert "It can burn." in plain(words(overrides).sheet(one).first[1])
    overrides, one = instruction(slug="rooms-never-stop")
    assert "pipes may freeze" in plain(words(overrides).sheet(one).first[1])
    overrides, one = instruction(slug="water-never-stops")
    assert "It can burn." in plain(words(overrides).sheet(one).first[1]), "whatever was proved"


@pytest.mark.parametrize(
    ("hours", "said"), [(12.0, "12 hours"), (12.9, "12 hours"), (1.0, "one hour"), (0.6, "30 minutes")]
)
def test_the_firms_limit_is_rounded_down(hours: float, said: str) -> None:
    overrides, one = instruction(slug="ground-cold")
    sheet = words(replace(overrides, hours=hours)).sheet(one)
    assert [plain(each) for each in sheet.put_back_by] == [f"Put the lever back after {said} at the latest."]


@pytest.mark.parametrize("caution", list(Caution))
def test_every_caution_is_said(caution: Caution) -> None:
    overrides, one = instruction(slug="ground-cold")
    bare = replace(one, attempts=tuple(replace(each, cautions=()) for each in one.attempts))
    first = replace(one.attempts[1], cautions=(caution,), also_heats=("hot-water",))
    told = all_said(words(overrides).sheet(replace(bare, attempts=(bare.attempts[0], first))))
    assert len(told) > len(all_said(words(overrides).sheet(replace(bare, attempts=bare.attempts[:2]))))


@pytest.mark.parametrize("sign", list(Sign))
@pytest.mark.parametrize("reference", ["EB-0019", "EB-0058", "EB-0066"])
def test_every_sign_has_a_heading(sign: Sign, reference: str) -> None:
    overrides, one = instruction(reference)
    cold = tuple(service.name for service in overrides.services[:1])
    symptom = Symptom(slug="x", sign=sign, cold=cold, never_stops=cold)
    assert plain(words(overrides, reference).sheet(replace(one, symptom=symptom)).heading)


@pytest.mark.parametrize("move", list(Move))
def test_every_move_has_a_picture_and_a_way_back(move: Move) -> None:
    overrides, one = instruction(slug="ground-cold")
    step = Step(move=move, device="ground-valve", control="lever", input="ground-valve.lever", zone="ground")
    attempt = Attempt(steps=(step,), wanted=("ground",), wait_s=10, helps=())
    sheet = words(overrides).sheet(replace(one, attempts=(attempt,), put_back=(replace(step, to=False),)))
    assert plain(sheet.tries[0].steps[0].picture.says)
    assert plain(sheet.put_back[0].says)


@pytest.mark.parametrize("move", [Move.SWITCH_ON, Move.SWITCH_OFF])
def test_each_switch_has_its_hint(move: Move) -> None:
    """Somebody may have locked off the second one only. Common practice, no source."""
    steps = [
        Step(
            move=move, device=device, control="switch", input=f"{device}.isolator", to=move is Move.SWITCH_ON
        )
        for device in ("spur", "immersion-spur")
    ]
    attempts = tuple(Attempt(steps=(step,), wanted=("heating",), wait_s=0, helps=("x",)) for step in steps)
    overrides = hand_made(circuit("EB-0012"))
    instruction = replace(overrides.instructions[0], attempts=attempts)
    sheet = words(overrides, "EB-0012").sheet(instruction)
    hints = [[plain(phrase) for phrase in step.more] for each in sheet.tries for step in each.steps]
    assert hints[0]
    assert hints[0] == hints[1]
