"""House types: what one may leave to the short way, and what is told of one by itself."""

from pathlib import Path

import pytest

from generator.command.files import Listed, Sort
from generator.command.stock import check_file
from generator.pipeline import today
from generator.record.load import load_house_type
from generator.rules.example_house import HOUSE

HEAD = "format: 1\nhouse_type: terrace\nabout: A row.\n"
SHORT = "arrangement: { name: two-port, boiler: overrun, cylinder: vented, zones: { hall: { serves: heating }, water: { serves: hot water } } }\n"


def _type(folder: Path, body: str) -> Path:
    file = folder / "house-types" / "terrace.yaml"
    file.parent.mkdir()
    file.write_text(HEAD + body, encoding="utf-8")
    return file


def _rules(file: Path) -> list[str]:
    return [each.rule for each in check_file(Listed(file, Sort.HOUSE_TYPE), today()).findings]


def test_the_short_way_gives_the_kind(tmp_path: Path) -> None:
    _, findings = load_house_type(_type(tmp_path, SHORT + "devices:\n  spur: { place: kitchen }\n"))
    assert "missing-key" not in {each.rule for each in findings}


def test_without_the_short_way_the_kind_is_wanted(tmp_path: Path) -> None:
    _, findings = load_house_type(_type(tmp_path, "devices:\n  spur: { place: kitchen }\n"))
    assert [each.rule for each in findings] == ["missing-key"]


@pytest.mark.parametrize(
    ("body", "rule"),
    [
        ("devices:\n  q: { kind: nosuch }\n", "unknown-kind"),
        ("devices:\n  q: { kind: pump, settings: { watts: -3 } }\n", "out-of-range"),
        ("wiring:\n  links:\n    - { ends: [a.b, a.c] }\n", "unknown-device"),
        ("zones:\n  hall: { serves: heating, valve: nosuch }\n", "unknown-device"),
    ],
)
def test_one_that_no_record_uses_is_gone_through_by_itself(body: str, rule: str, tmp_path: Path) -> None:
    assert set(_rules(_type(tmp_path, body))) == {rule}


def test_one_that_a_record_uses_is_gone_through_with_it(tmp_path: Path) -> None:
    file = _type(tmp_path, "wiring:\n  links:\n    - { ends: [a.b, a.c] }\n")
    record = HOUSE.replace("\ndevices:", "\nhouse_type: 'terrace' # as built\n\ndevices:", 1)
    (tmp_path / "EX-0001.yaml").write_text(record, encoding="utf-8")
    assert _rules(file) == []


STATED = """\
house_type: teracce
devices:
  valve: { place: landing }
  bypass: null
wiring:
  centres:
    centre:
      A: [{ to: valve.motor, core: BN }]
  removed:
    - { link: [centre.B, centre.C] }
zones:
  hall: { channel: null, valve: valve }
"""
"""What a record states over a house type whose name is misspelt: hardly anything of it is whole by itself."""


@pytest.mark.parametrize("broken", ["", "devices: ["])
def test_one_that_cannot_be_read_is_told_alone(broken: str, tmp_path: Path) -> None:
    """A street shares a house type: what its records have from it is not told as missing in each of them."""
    _type(tmp_path, broken)
    head = HOUSE[: HOUSE.index("\ndevices:")]
    stated = STATED.replace("teracce", "terrace") if broken else STATED
    file = tmp_path / "EX-0001.yaml"
    file.write_text(f"{head}\n{stated}", encoding="utf-8")
    told = [each.rule for each in check_file(Listed(file, Sort.RECORD), today()).findings]
    assert told == ["yaml-syntax" if broken else "unknown-house-type"]


def test_what_is_wrong_besides_is_told(tmp_path: Path) -> None:
    head = HOUSE[: HOUSE.index("\ndevices:")].replace("nation: england", "nation: cornwall")
    stated = STATED.replace("core: BN", "core: BN, slieve: BN")
    file = tmp_path / "EX-0001.yaml"
    file.write_text(f"{head}\n{stated}", encoding="utf-8")
    told = {each.rule for each in check_file(Listed(file, Sort.RECORD), today()).findings}
    assert told == {"unknown-house-type", "not-allowed-value", "unknown-key"}


def test_an_end_that_is_no_list(tmp_path: Path) -> None:
    _type(tmp_path, "wiring:\n  links:\n    - { ends: 5 }\n")
    file = tmp_path / "EX-0001.yaml"
    file.write_text(HOUSE.replace("\ndevices:", "\nhouse_type: terrace\n\ndevices:", 1), encoding="utf-8")
    told = [(each.rule, each.span.line) for each in check_file(Listed(file, Sort.RECORD), today()).findings]
    assert told == [("wrong-type", 6)]
