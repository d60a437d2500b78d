"""Plain scalars mean what YAML 1.2.2 says in clause 10.3.2 (core schema), never what YAML 1.1 made of them."""

import copy
import pickle

import pytest
import yaml

from generator.record.scalars import FloatAsWritten, IntAsWritten, NotANumber, resolve_plain

# (as written, by YAML 1.2 core, by a YAML 1.1 reader)
DIFFERENT: list[tuple[str, object, object]] = [
    ("NO", "NO", False),
    ("no", "no", False),
    ("off", "off", False),
    ("Off", "Off", False),
    ("yes", "yes", True),
    ("on", "on", True),
    ("12:30", "12:30", 750),
    ("1:30:00", "1:30:00", 5400),
    ("010", 10, 8),
    ("0o10", 8, "0o10"),
    ("1_000", "1_000", 1000),
    ("0b11", "0b11", 3),
    ("1e3", 1000.0, "1e3"),
    ("08", 8, "08"),
]


@pytest.mark.parametrize(("text", "core", "old"), DIFFERENT)
def test_scalars_that_yaml_1_1_reads_otherwise(text: str, core: object, old: object) -> None:
    assert yaml.safe_load(text) == old, "the example does not show a difference"
    value = resolve_plain(text)
    assert value == core
    assert isinstance(value, type(core))
    assert not isinstance(value, bool)


def test_a_date_is_text() -> None:
    assert resolve_plain("2023-05-17") == "2023-05-17"
    assert resolve_plain("2023-05-17T12:00:00Z") == "2023-05-17T12:00:00Z"


@pytest.mark.parametrize("text", ["", "~", "null", "Null", "NULL"])
def test_nothing(text: str) -> None:
    assert resolve_plain(text) is None


@pytest.mark.parametrize(
    ("text", "value"), [("true", True), ("True", True), ("TRUE", True), ("false", False)]
)
def test_truths(text: str, value: bool) -> None:
    assert resolve_plain(text) is value


@pytest.mark.parametrize(
    "text", ["nUll", "tRue", "y", "N", "None", "-", "+", ".", "e3", "1e", "0x", "0o8", "1 2", "١٢"]
)
def test_what_only_looks_like_something_else_is_text(text: str) -> None:
    assert resolve_plain(text) == text
    assert type(resolve_plain(text)) is str


@pytest.mark.parametrize(
    ("text", "value"), [("0", 0), ("-12", -12), ("+3", 3), ("0012", 12), ("0xFf", 255), ("0o17", 15)]
)
def test_whole_numbers_keep_how_they_were_written(text: str, value: int) -> None:
    number = resolve_plain(text)
    assert isinstance(number, IntAsWritten)
    assert (number, number.text) == (value, text)


@pytest.mark.parametrize(
    ("text", "value"), [("1.50", 1.5), (".5", 0.5), ("1.", 1.0), ("-1.5E-2", -0.015), ("12.10", 12.1)]
)
def test_numbers_keep_how_they_were_written(text: str, value: float) -> None:
    number = resolve_plain(text)
    assert isinstance(number, FloatAsWritten)
    assert (number, number.text) == (value, text)


@pytest.mark.parametrize(
    "text", [".inf", "-.INF", "+.Inf", ".nan", ".NaN", "1e999", "-1e999", "9" * 101, "1." + "0" * 100]
)
def test_numbers_that_nothing_can_have_are_refused(text: str) -> None:
    with pytest.raises(NotANumber):
        resolve_plain(text)


def test_numbers_as_written_can_be_copied() -> None:
    for number in (IntAsWritten(12, "0012"), FloatAsWritten(1.5, "1.50")):
        for twin in (copy.deepcopy(number), pickle.loads(pickle.dumps(number))):  # noqa: S301  # our own object
            assert (twin, twin.text) == (number, number.text)
