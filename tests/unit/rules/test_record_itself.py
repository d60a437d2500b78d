"""The record itself: what was assumed long ago, dates, numbers and files, each judged by hand."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from generator.rules.example_house import HOUSE, change, without
from tests.unit.rules.looking import found, rule_of, subject_of

OLD = "sure: { how: assumed, on: 2024-01-01, by: surveyor }"
NEW = "sure: { how: assumed, on: 2026-01-01, by: surveyor }"
CALL = "{ to: boiler.call, core: BK }"
LIVE = "{ to: boiler.L, core: BN }"


def with_sure(line: str, sure: str) -> tuple[str, str]:
    return line, line.replace(" }", f", {sure} }}")


def test_one_conductor_and_several() -> None:
    (one,) = found("assumed-over-a-year", change(HOUSE, with_sure(CALL, OLD)))
    assert one.message == (
        "the black core (BK) of cable `boiler` has been assumed since 2024-01-01, and nobody has looked"
    )
    assert one.related == ()
    (two,) = found("assumed-over-a-year", change(HOUSE, with_sure(CALL, OLD), with_sure(LIVE, OLD)))
    assert two.message == "2 conductors have been assumed since 2024-01-01, and nobody has looked"
    assert [words for _, words in two.related] == ["another of them"]


def test_each_date_by_itself_and_only_the_old_ones() -> None:
    other = OLD.replace("2024-01-01", "2023-01-01")
    record = change(
        HOUSE, with_sure(CALL, OLD), with_sure(LIVE, other), with_sure("{ to: pump.L, core: BN }", NEW)
    )
    assert {each.message.partition("since ")[2][:10] for each in found("assumed-over-a-year", record)} == {
        "2024-01-01",
        "2023-01-01",
    }


def test_a_whole_record_is_told_at_its_top() -> None:
    record = change(HOUSE, ("how: tested, on: 2026-03-14", "how: assumed, on: 2024-03-14"))
    (only,) = found("assumed-over-a-year", record)
    (line,) = (number for number, row in enumerate(record.splitlines(), 1) if "how: assumed" in row)
    assert only.span.line == line
    assert only.related == ()


@pytest.mark.parametrize(
    ("uprn", "told"),
    [
        ("1", False),
        ("123456789012", False),
        ("1234567890123", True),
        ("0", True),
        ("000", True),
        ("12a", True),
    ],
)
def test_a_uprn_is_one_to_twelve_digits(uprn: str, told: bool) -> None:
    """Unique Property Reference Number: up to 12 digits (from memory)."""
    record = change(HOUSE, ("  reference: EX-0001\n", f"  reference: EX-0001\n  uprn: '{uprn}'\n"))
    assert bool(found("uprn-malformed", record)) is told


def test_photos_are_looked_for_where_the_record_lies(tmp_path: Path) -> None:
    record = HOUSE + (
        "\nphotos:\n  - { file: one.svg, caption: One }\n  - { file: two.svg, caption: Two, shows: centre }\n"
    )
    (tmp_path / "one.svg").write_text("<svg/>", encoding="utf-8")
    subject = replace(subject_of(record), folder=tmp_path)
    told = list(rule_of("photo-missing").check(subject))
    assert [(each.subject, each.message) for each in told] == [("centre", "there is no file `two.svg`")]
    assert found("photo-missing", record) == []


def test_today_is_no_future_and_tomorrow_is() -> None:
    subject = subject_of(HOUSE)
    look = rule_of("date-in-future").look
    assert list(look(replace(subject, today=date(2026, 3, 14)))) == []
    (only, *_) = look(replace(subject, today=date(2026, 3, 13)))
    assert only.message == "2026-03-14 is in the future"


@pytest.mark.parametrize(
    ("path", "text", "told"),
    [
        ("notes", "Key safe beside the back door, 4821", True),
        ("notes", "Take the stairs", False),
    ],
)
def test_secrets_are_looked_for_in_prose(path: str, text: str, told: bool) -> None:
    """A text in order does not hide the next."""
    record = f"{HOUSE}\n{path}: {text}\n"
    told_ = found("secret-in-record", record)
    assert bool(told_) is told
    assert all(each.subject == "" for each in told_)


def test_a_secret_at_a_device_names_it() -> None:
    record = change(
        HOUSE, ("pump: { kind: pump }", "pump: { kind: pump, place: 'by the key safe, code 4821' }")
    )
    assert [each.subject for each in found("secret-in-record", record)] == ["pump"]


def test_what_is_not_recorded_at_all() -> None:
    assert found("nothing-recorded", HOUSE) == []
    boilerless = without(
        HOUSE,
        "boiler: { kind: boiler }",
        "- { to: boiler.call, core: BK }",
        "- { to: boiler.L, core: BN }",
        "- { to: boiler.N, core: BU }",
        "- { to: boiler.E, core: GNYE }",
    )
    (only,) = found("nothing-recorded", boilerless)
    assert only.message == "the record has nothing that gives heat: what depends on that was not looked for"
