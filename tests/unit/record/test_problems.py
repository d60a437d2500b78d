"""Every fault that a model finds comes once, in our own words, at the place where it is written."""

from collections.abc import Iterable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.findings.finding import Finding
from generator.record.model import Device, Record
from generator.record.places import Path
from generator.record.problems import validate
from generator.record.yaml12 import load
from tests.unit.record.sample_model import GOOD, House, Spring, changed, findings_of


def test_a_good_document_gives_the_model_and_nothing_else() -> None:
    document, findings = load(GOOD.encode(), "a.yaml")
    assert document is not None
    house, problems = validate(House, document.data, document.places)
    assert findings == problems == []
    assert house is not None
    assert house.names == ("a", "0012")
    assert list(house.centres["hall"].terminals) == ["A", "010"]
    assert house.centres["hall"].core == "BNWH"
    assert house.centres["loft"].place == "12"


@pytest.mark.parametrize(
    ("source", "found"), [("", "nothing"), ("- a", "a list"), ("text", "the text `text`")]
)
def test_a_file_that_is_no_mapping(source: str, found: str) -> None:
    (finding,) = findings_of(source)
    assert finding.message == f"wanted a mapping, found {found}"
    assert finding.fix == "Give at least `reference` and `storeys`."


def test_all_faults_come_at_once_in_the_order_of_the_file() -> None:
    source = (
        changed("storeys: 2", "storeys: two").replace("core: bnwh", "core: xx").replace("turns: 1", "turn: 1")
    )
    assert [(finding.rule, finding.span.line) for finding in findings_of(source)] == [
        ("wrong-type", 2),
        ("unknown-key", 16),
        ("bad-core", 24),
    ]


def test_a_misspelt_required_key_is_not_told_twice() -> None:
    (finding,) = findings_of(changed("reference:", "refrence:"))
    assert finding.message == "unknown key `refrence` at the top of the file; did you mean `reference`?"


def test_keys_that_are_there_already_are_not_suggested() -> None:
    findings = findings_of(changed("storeys: 2", "storeys: 2\nstorey: 2"))
    assert [finding.rule for finding in findings] == ["unknown-key"]
    assert "did you mean" not in findings[0].message


def test_what_was_refused_on_reading_is_not_told_again() -> None:
    source = (
        changed("storeys: 2", "storeys: *x").replace("place: loft", "place: .nan").replace("bnwh", "!x y")
    )
    assert [finding.rule for finding in findings_of(source)] == ["yaml-alias", "not-a-number", "yaml-tag"]


def test_part_of_a_document_is_checked_where_it_stands() -> None:
    document, _ = load(b"devices:\n  a:\n    settings: {kind: spring, turns: x, more: 1}\n", "a.yaml")
    assert document is not None
    path: Path = ("devices", "a", "settings")
    model, findings = validate(
        Spring, document.data["devices"]["a"]["settings"], document.places, root_path=path
    )
    assert model is None
    assert [(finding.rule, str(finding.span), finding.message) for finding in findings] == [
        (
            "wrong-type",
            "a.yaml:3:37",
            "`devices.a.settings.turns`: wanted a whole number, found the text `x`",
        ),
        ("unknown-key", "a.yaml:3:40", "unknown key `more` in `devices.a.settings`"),
    ]


def test_settings_that_are_not_written_are_missed_at_their_device() -> None:
    document, _ = load(b"devices:\n  a: {kind: x}\n", "a.yaml")
    assert document is not None
    _, findings = validate(Spring, {}, document.places, root_path=("devices", "a", "settings"))
    assert {str(finding.span) for finding in findings} == {"a.yaml:2:3"}
    assert [finding.rule for finding in findings] == ["missing-key", "missing-key"]


# ---------------------------------------------------------------------- whatever is written

_VALUES = st.sampled_from(
    ["", "x", "'x y'", "12", "0012", "-1.5", "true", "null", "[]", "{}", "[x, 1]", "{kind: spring}", "{a: {b: [c]}}",
     "NO", "2023-02-30", "BNWH", "pump.L", ".nan", "'{message}'", "'{0}%s'", "\"\\u202e\"", "99999999999999999999"]
)  # fmt: skip
_FOREIGN = (
    "input should",
    "field required",
    "extra inputs",
    "pydantic",
    "valid ",
    "union",
    "dict",
    "str",
    "python",
    "__",
)


def _assert_own_words(findings: Iterable[Finding]) -> None:
    for finding in findings:
        words = (
            f"{finding.message} {finding.fix}".lower()
            .replace("string", "")
            .replace("street", "")
            .replace("straight", "")
        )
        assert not [word for word in _FOREIGN if f" {word}" in f" {words}"], words
        assert finding.message
        assert finding.rule == finding.rule.lower().replace("_", "-").replace(" ", "-")


@given(st.sampled_from(GOOD.splitlines()), _VALUES)
def test_any_value_anywhere_gives_at_most_one_finding_there(line: str, value: str) -> None:
    key = line.split(":", maxsplit=1)[0]
    lines = GOOD.splitlines()
    start = lines.index(line)
    end = start + 1
    indentation = len(line) - len(line.lstrip())
    while end < len(lines) and len(lines[end]) - len(lines[end].lstrip()) > indentation:
        end += 1
    if key.lstrip().startswith("-"):
        replaced = [f"{key[: key.index('-')]}- {value}"]
        end = start + (2 if line.endswith("kind: spring") else 1)
    else:
        replaced = [f"{key}: {value}"]
    source = "\n".join([*lines[:start], *replaced, *lines[end:]])
    findings = findings_of(source)
    _assert_own_words(findings)
    here = [finding for finding in findings if finding.rule != "missing-key"]
    several = value in ("[x, 1]", "{a: {b: [c]}}", "{kind: spring}")  # these have several values
    assert len(here) <= (2 if several else 1), [finding.message for finding in here]


_JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=5),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from([*House.model_fields, *Record.model_fields, "kind", "x"]), inner, max_size=5
        )
    ),
    max_leaves=20,
)


@given(st.dictionaries(st.sampled_from([*House.model_fields, *Record.model_fields, "x"]), _JUNK, max_size=8))
def test_whatever_the_data_there_are_findings_in_our_own_words(data: dict[str, Any]) -> None:
    document, _ = load(b"", "a.yaml")
    assert document is not None
    for model in (House, Record):
        checked, findings = validate(model, data, document.places)
        assert checked is not None or findings
        _assert_own_words(findings)


def test_a_comma_inside_braces_is_told_from_a_misspelt_key() -> None:
    document, _ = load(b"{kind: pump, place: hall, by the door}", "record.yaml")
    assert document is not None
    (finding,) = validate(Device, document.data, document.places)[1]
    assert finding.rule == "unknown-key"
    assert "comma" in finding.fix
