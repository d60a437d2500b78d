"""The JSON Schema of a record for editors, with the settings of each kind of device."""

from typing import Any

from generator.catalogue.kind import Kind
from generator.catalogue.kinds import KINDS
from generator.record.model import Record
from generator.record.schema import json_schema


def record_schema(kinds: tuple[Kind, ...] = KINDS) -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of a record: `kind` is one of the catalogue's, `settings` those of that kind.

    A record that is laid over a house type or a short way may leave out what it inherits, so no key
    of a device, zone or circuit is required.
    """
    schema = json_schema(Record)
    device = schema["$defs"]["Device"]
    device["properties"]["kind"] = {
        **{key: value for key, value in device["properties"]["kind"].items() if key == "description"},
        "enum": [kind.name for kind in kinds],
    }
    device["properties"]["settings"] = {
        "type": ["object", "null"],
        "description": "Settings of its kind; see *Kinds of device*.",
    }
    for part in ("Device", "Zone", "Circuit", "Arrangement"):
        schema["$defs"][part].pop("required", None)
    device["allOf"] = [
        {
            "if": {"properties": {"kind": {"const": kind.name}}, "required": ["kind"]},
            "then": {"properties": {"settings": _settings(kind)}},
        }
        for kind in kinds
    ]
    for section in ("devices", "cables", "zones"):
        part = schema["properties"][section]
        part["additionalProperties"] = {"anyOf": [part["additionalProperties"], {"type": "null"}]}
    return schema


def _settings(kind: Kind) -> dict[str, Any]:
    schema = {key: value for key, value in json_schema(kind.settings).items() if key != "$schema"}
    schema.pop("required", None)
    return {"anyOf": [schema, {"type": "null"}]}
