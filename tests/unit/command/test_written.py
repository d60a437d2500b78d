"""Records written out, the JSON Schema for editors, the reference of fields."""

import json
from datetime import date
from pathlib import Path

import jsonschema
import pytest

from generator.catalogue.kinds import KINDS
from generator.command.findings_data import findings_schema
from generator.pipeline import examine
from generator.record.yaml12 import load
from tests.tools.paths import PROPERTIES
from tests.unit.command.conftest import DAY, NO_SUCH_DEVICE, Run, Stock, house

_SHORT = """
arrangement:
  name: two-port
  zones: {hall: {serves: heating}, hot-water: {serves: hot water}}
  cylinder: vented
"""


@pytest.fixture
def short(stock: Stock) -> Path:
    return stock({"EX-0001.yaml": house("EX-0001").split("\ndevices:")[0] + _SHORT})


@pytest.mark.usefixtures("short")
def test_expanded_record_gives_the_same_circuit_and_findings(run: Run, tmp_path: Path) -> None:
    done = run("expand", "EX-0001", "--out", "whole/../EX-0001.yaml")
    assert done.exit_code == 2, "the folder `whole` does not exist"
    assert run("expand", "EX-0001", "--out", "EX-0001.yaml").exit_code == 0
    today = date.fromisoformat(DAY)
    before = examine(Path("properties/EX-0001.yaml"), today=today)
    after = examine(tmp_path / "EX-0001.yaml", today=today)
    assert after.circuit == before.circuit
    assert [(one.rule, one.message) for one in after.findings] == [
        (one.rule, one.message) for one in before.findings
    ]
    assert Path("EX-0001.yaml").read_text(encoding="utf-8") == run("expand", "EX-0001").stdout


def test_record_with_errors_is_not_written_out(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001", ("fuel: gas", "fuel: gaz"))})
    done = run("expand", "EX-0001")
    assert done.exit_code == 1
    assert done.stdout == ""
    assert "(not-allowed-value)" in done.stderr


def test_names_that_do_not_exist_are_written_out_as_they_are(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001", NO_SUCH_DEVICE)})
    done = run("expand", "EX-0001")
    assert done.exit_code == 0
    assert "{to: pmp.L, core: BN}" in done.stdout


@pytest.mark.usefixtures("short")
def test_schema_passes_a_record_and_what_it_is_written_out_to(run: Run) -> None:
    schema = json.loads(run("schema").stdout)
    jsonschema.Draft202012Validator.check_schema(schema)
    for text in (
        Path("properties/EX-0001.yaml").read_text(encoding="utf-8"),
        run("expand", "EX-0001").stdout,
    ):
        document, _ = load(text.encode(), "x")
        assert document is not None
        jsonschema.validate(document.data, schema)


@pytest.mark.parametrize("what", ["record", "house-type", "kind", "settings", "findings"])
def test_each_schema_is_one(what: str, stock: Stock, run: Run) -> None:
    stock({})
    assert run("schema", "--of", what, "--out", "schema.json").output == ""
    schema = json.loads(Path("schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    assert (schema == findings_schema()) is (what == "findings")


def test_fields_has_a_heading_for_every_kind(run: Run) -> None:
    text = run("fields").stdout
    assert text.startswith("# Fields of a record\n")
    for kind in KINDS:
        assert f"`{kind.name}`" in text
    for key in ("format", "arrangement", "wiring", "how"):
        assert f"| `{key}` |" in text


def test_the_schema_of_the_settings_passes_the_demo_settings_and_refuses_what_the_program_refuses(
    run: Run,
) -> None:
    schema = json.loads(run("schema", "--of", "settings").stdout)
    validator = jsonschema.Draft202012Validator(schema)
    document, _ = load((PROPERTIES / "hearthbook.yml").read_bytes(), "hearthbook.yml")
    assert document is not None
    assert validator.is_valid(document.data)
    assert validator.is_valid(None)
    wrongs: list[object] = [
        {"base": "x"},
        {"outputs": {"engineer": "x"}},
        {"overrides": {"lever_hours": 0}},
        [],
    ]
    for wrong in wrongs:
        assert not validator.is_valid(wrong)
