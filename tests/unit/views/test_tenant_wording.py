"""The sentences of tenants' pages: English is whole and plain, and another language needs a file and nothing else."""

from pathlib import Path

import pytest

from generator.overrides.model import Caution, Move, Reason, Sign
from generator.views.tenant_wording import (
    ENGLISH,
    WORDING,
    Own,
    Run,
    english_file,
    load_wordings,
    placeholders,
)
from tests.tools.plain_words import HARDEST_GRADE, grade, long_sentences, prose


def english() -> dict[str, str]:
    wordings, findings = load_wordings()
    assert findings == ()
    return dict(wordings[ENGLISH].sentences)


def written(tmp_path: Path, name: str, text: str) -> Path:
    folder = tmp_path / WORDING
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("group", "members"),
    [("reason", Reason), ("caution", Caution)],
)
def test_all_that_a_search_can_answer_has_its_sentence(
    group: str, members: type[Reason] | type[Caution]
) -> None:
    said = english()
    missing = [m.name for m in members if f"{group}.{m.name.lower().replace('_', '-')}" not in said]
    assert missing == []


def test_every_move_and_every_sign_has_its_sentence() -> None:
    said = english()
    for move in Move:
        assert f"move.{move.name.lower().replace('_', '-')}" in said
    for sign in Sign:
        assert f"sign.{sign.name.lower().replace('_', '-')}" in said


@pytest.mark.parametrize("key", sorted(english()))
def test_no_sentence_is_too_long(key: str) -> None:
    read = prose(f"<p>{english()[key].replace('{', '').replace('}', '')}</p>")
    assert long_sentences(read.sentences) == []


def test_all_sentences_together_are_plain() -> None:
    """Flesch-Kincaid grade 5 or lower, by a library that is not ours."""
    said = [f"<p>{text.replace('{', '').replace('}', '')}</p>" for text in english().values()]
    assert grade(prose("".join(said)).sentences) <= HARDEST_GRADE


def test_a_sentence_marks_what_is_the_records_own() -> None:
    wording = load_wordings()[0][ENGLISH]
    assert wording.say("works.zone", zone=Own("Annexe")) == (
        Run("The heating still works here: "),
        Run("Annexe", own=True),
        Run("."),
    )
    assert wording.text("look.go-on-to", number="4") == "If not, go on to step 4."
    with pytest.raises(KeyError):
        wording.say("works.zone")


def test_a_file_of_another_language_is_enough(tmp_path: Path) -> None:
    records = written(tmp_path, "xx.yaml", english_file().read_text(encoding="utf-8"))
    wordings, findings = load_wordings(records)
    assert findings == ()
    assert sorted(wordings) == ["en", "xx"]
    assert wordings["xx"].sentences == wordings["en"].sentences


def test_what_is_missing_is_said_in_english_and_told(tmp_path: Path) -> None:
    records = written(tmp_path, "cy.yaml", "direction: ltr\nstop: {heading: Stopiwch}\n")
    wordings, (finding,) = load_wordings(records)
    assert wordings["cy"].text("stop.heading") == "Stopiwch"
    assert wordings["cy"].text("never.wire") == "Never touch a wire."
    assert finding.rule == "wording-missing"
    assert f"{len(english()) - 2} sentences are missing" in finding.message
    assert str(finding.span).endswith("wording/cy.yaml:1:1")


@pytest.mark.parametrize(
    ("text", "rule", "place", "words"),
    [
        ("stop: {headin: Halt}\n", "wording-unknown", "1:8", "there is no sentence `stop.headin`"),
        ("works: {zone: It works.}\n", "wording-shape", "1:15", "has to have {zone} in braces"),
        ("works: {rooms: 'It {zone} works.'}\n", "wording-shape", "1:16", "has to have nothing in braces"),
        ("stop: {heading: 'Halt {'}\n", "wording-shape", "1:17", "has a brace without its other half"),
        (
            "stop: {heading: 7}\n",
            "wording-shape",
            "1:17",
            "has to be a sentence, and is the whole number `7`",
        ),
        ("direction: up\n", "wording-shape", "1:12", "`direction` has to be `ltr` or `rtl`"),
        ("- stop\n", "wording-shape", "1:1", "has to be a sentence, and is a list"),
    ],
)
def test_faults_of_a_file_have_their_place(
    tmp_path: Path, text: str, rule: str, place: str, words: str
) -> None:
    _, findings = load_wordings(written(tmp_path, "en.yaml", text))
    (finding,) = findings
    assert finding.rule == rule
    assert str(finding.span).endswith(f"en.yaml:{place}")
    assert words in finding.message


def test_the_firm_may_say_single_sentences_its_own_way(tmp_path: Path) -> None:
    records = written(tmp_path, "en.yaml", "page: {ring-us: Ring the office.}\n")
    wordings, findings = load_wordings(records)
    assert findings == ()
    assert wordings["en"].text("page.ring-us") == "Ring the office."
    assert wordings["en"].text("never.wire") == "Never touch a wire."


def test_a_file_with_another_name_is_told(tmp_path: Path) -> None:
    _, (finding,) = load_wordings(written(tmp_path, "Welsh.yaml", ""))
    assert "is not named by a language tag" in finding.message


@pytest.mark.parametrize("text", ["{", "}", "{}", "{0}", "{a.b}", "{a!r}", "{a:>4}", "{a[0]}"])
def test_only_names_stand_in_braces(text: str) -> None:
    with pytest.raises(ValueError):
        placeholders(text)
