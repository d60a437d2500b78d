"""The schema for editors takes what the reader takes, for every record of the demo stock."""

from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from generator.catalogue.kinds import KINDS
from generator.record.own_kinds import kinds_of_own
from generator.record.record_schema import record_schema
from generator.record.yaml12 import load

RECORDS = sorted((Path(__file__).parents[3] / "properties").glob("*.yaml"))


@pytest.fixture(scope="module")
def validator() -> Draft202012Validator:
    schema = record_schema((*KINDS, *kinds_of_own(RECORDS[0].parent)))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


@pytest.mark.parametrize("file", RECORDS, ids=[file.stem for file in RECORDS])
def test_every_demo_record_fits(file: Path, validator: Draft202012Validator) -> None:
    document, _ = load(file.read_bytes(), file.name)
    assert document is not None
    assert [(list(error.path), error.message) for error in validator.iter_errors(document.data)] == []


@pytest.mark.parametrize(
    "device",
    [
        {"kind": "two-port-vale"},
        {"kind": "two-port-valve", "settings": {"levr": "makes"}},
        {"kind": "two-port-valve", "settings": {"lever": "sometimes"}},
        {"kind": "programmer", "settings": {"channels": 9}},
    ],
)
def test_a_wrong_device_does_not_fit(device: dict[str, Any], validator: Draft202012Validator) -> None:
    document, _ = load(RECORDS[0].read_bytes(), "record.yaml")
    assert document is not None
    data = {**document.data, "devices": {**document.data["devices"], "odd-one": device}}
    assert list(validator.iter_errors(data))
