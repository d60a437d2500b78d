"""The description of a model: JSON Schema that editors can use, and a reference good enough to write a record from."""

import json
import re
from typing import Any

import jsonschema
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from generator.record.field_pages import field_reference_markdown
from generator.record.model import HouseType, Record
from generator.record.schema import ONE_OF, FieldEntry, field_reference, json_schema, sections, write
from generator.record.yaml12 import load
from tests.unit.record.sample_model import GOOD, Centre, House


def _entry(path: str) -> FieldEntry:
    (entry,) = [each for each in field_reference(House) if each.path == path]
    return entry


def _data(source: str) -> Any:
    document, findings = load(source.encode(), "a.yaml")
    assert findings == []
    assert document is not None
    return document.data


@pytest.mark.parametrize("model", [House, Record, HouseType])
def test_the_json_schema_is_one(model: type) -> None:
    schema = json_schema(model)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    jsonschema.Draft202012Validator.check_schema(schema)
    assert json.loads(json.dumps(schema)) == schema


def test_the_json_schema_takes_a_good_record_and_refuses_a_bad_one() -> None:
    validator = jsonschema.Draft202012Validator(json_schema(House))
    validator.validate(_data(GOOD))
    for old, new in (
        ("storeys: 2", "storey: 2"),
        ("bnwh", "whbn"),
        ("EB-0012", "eb"),
        ("  hall:", "  Hall:"),
    ):
        assert not validator.is_valid(_data(GOOD.replace(old, new))), new


def test_the_json_schema_has_descriptions_and_no_made_up_titles() -> None:
    schema = json_schema(House)
    assert (schema["title"], schema["description"]) == ("House", "A house.")
    assert schema["properties"]["storeys"] == {
        "description": "How many storeys it has.",
        "minimum": 1,
        "maximum": 50,
        "type": "integer",
    }
    assert schema["$defs"]["Centre"]["properties"]["place"]["examples"] == ["loft"]


def test_an_entry_says_all_there_is_to_know() -> None:
    assert _entry("centres.<name>.place") == FieldEntry(
        path="centres.<name>.place",
        key="place",
        type_words="one line of text",
        required=True,
        default="",
        meaning="Where it is.",
        allowed="at most 20 characters",
        example="loft",
    )


@pytest.mark.parametrize(
    ("path", "type_words", "allowed", "default", "required"),
    [
        ("storeys", "a whole number", "1 to 50", "", True),
        ("area_m2", "a number", "more than 0", "", False),
        ("new", "true or false", "", "`false`", False),
        ("nation", ONE_OF, "`england`, `wales`", "`england`", False),
        ("reach", ONE_OF, "`tenant`, `engineer`", "`engineer`", False),
        ("phases", ONE_OF, "`1`, `3`", "", False),
        ("fitted", "a date", "", "", False),
        ("names", "a list, each a name", "", "empty", False),
        ("lines", "a list, each one line of text", "1 to 2 items", "`[x]`", False),
        ("bypass", f"a name, or {ONE_OF}", "`none`, `not seen`", "`none`", False),
        ("valve", "[Spring], or [Motor]", "", "", False),
        ("plant", "[Spring], or [Motor], or one line of text", "", "", False),
        ("springs", "a list, each [Spring]", "", "empty", False),
        ("centres", "a mapping: each key a name, each value [Centre]", "", "empty", False),
        (
            "centres.<name>.terminals",
            "a mapping: each key a terminal, each value a list, each an end, `device.terminal`",
            "",
            "",
            True,
        ),
        ("settings", "a mapping: each key text, each value anything", "", "", False),
        ("reference", "text", "as the pattern `^[A-Z]+-[0-9]+$`", "", True),
    ],
)
def test_entries(path: str, type_words: str, allowed: str, default: str, required: bool) -> None:
    entry = _entry(path)
    assert (entry.type_words, entry.allowed, entry.default, entry.required) == (
        type_words,
        allowed,
        default,
        required,
    )


def test_a_model_in_several_places_comes_once_with_all_its_places() -> None:
    spring = next(section for section in sections(House) if section.title == "Spring")
    assert spring.paths == ("valve", "plant", "springs[]")
    assert spring.about == "A valve closed by a spring."
    assert [entry.path for entry in spring.entries] == ["valve.kind", "valve.turns"]


def test_titles_are_words() -> None:
    assert next(section.title for section in sections(HouseType)) == "House type"


def test_every_field_of_a_record_has_a_meaning() -> None:
    missing = [
        entry.path for entry in [*field_reference(Record), *field_reference(HouseType)] if not entry.meaning
    ]
    assert missing == []
    assert [section.title for section in sections(Record, HouseType) if not section.about] == []


def test_examples_can_be_written_as_they_stand() -> None:
    examples = [entry for entry in field_reference(Record) if entry.example]
    assert len(examples) > 10
    for entry in examples:
        assert list(_data(f"{entry.key}: {entry.example}")) == [entry.key]


def test_markdown_has_a_heading_and_a_row_for_everything() -> None:
    page = field_reference_markdown(Record)
    for section in sections(Record):
        assert f"\n## {section.title}\n" in f"\n{page}"
        assert section.about.replace("``", "`") in page
    for entry in field_reference(Record):
        assert f"| `{entry.key}` |" in page
    rows = [line for line in page.splitlines() if line.startswith("|")]
    assert all(len(re.findall(r"(?<!\\)\|", row)) == 7 for row in rows)


def test_links_in_the_markdown_lead_somewhere() -> None:
    page = field_reference_markdown(Record)
    anchors = {
        re.sub(r"[^a-z0-9]+", "-", line[3:].lower()) for line in page.splitlines() if line.startswith("## ")
    }
    links = set(re.findall(r"\]\(#([^)]+)\)", page))
    assert links
    assert links <= anchors


def test_the_markdown_of_a_small_model() -> None:
    assert field_reference_markdown(Centre, level=3) == (
        "### Centre\n"
        "\n"
        "A wiring centre.\n"
        "\n"
        "Stands at the top of the file.\n"
        "\n"
        "| Key | What it takes | Needed | If left out | Meaning | Example |\n"
        "| --- | --- | --- | --- | --- | --- |\n"
        "| `terminals` | a mapping: each key a terminal, each value a list, each an end, `device.terminal` | yes |  |"
        " What lands in each of its terminals. |  |\n"
        "| `place` | one line of text (at most 20 characters) | yes |  | Where it is. | `place: loft` |\n"
        "| `core` | a colour code | no | `BN` |  | `core: BN` |\n"
    )


_VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.text(st.characters(min_codepoint=32, max_codepoint=126), max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.text("abc -:#,'\"", min_size=1, max_size=4), inner, max_size=3)
    ),
    max_leaves=6,
)


@given(_VALUES)
def test_values_are_written_so_that_they_are_read_back(value: Any) -> None:
    text = f"x: {write(value)}\n"
    assert _data(text) == {"x": value}


def test_words_that_yaml_1_1_would_take_for_something_else_are_still_read_back() -> None:
    for text in ("NO", "12:30", "2023-05-17", "0012", "1e3", "null", "- a", "a: b", "a #b", "it's"):
        assert _data(f"x: {write(text)}") == {"x": text}
    assert yaml.safe_load(write({"a": [True, None, 1.5]})) == {"a": [True, None, 1.5]}
