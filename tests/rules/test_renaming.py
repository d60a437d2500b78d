"""Names mean nothing to a rule: with everything renamed the same is found in the same places."""

from pathlib import Path as FolderPath
from typing import Any

import pytest

from generator.circuit.build import build_circuit
from generator.findings.finding import Finding
from generator.record.load import LoadedRecord, load_text
from generator.record.model import Record
from generator.record.places import Mark, Path, Places
from generator.rules.example_house import TODAY
from generator.rules.rule import Rule, Subject
from generator.rules.rules import ALL, check_rules
from generator.states.solve import solve
from tests.rules.examples import example_folder


class Renaming:
    """New names for the devices, cables, zones and water circuits of a record, in another order of the alphabet."""

    def __init__(self, data: dict[str, Any]) -> None:
        names = dict.fromkeys(
            [
                *data["devices"],
                *data.get("cables", {}),
                *data.get("zones", {}),
                *data.get("water", {}).get("circuits", {}),
            ]
        )
        self.names = {
            name: f"{'zqmaxkbw'[index % 8]}{9 - index // 8}-{index}" for index, name in enumerate(names)
        }

    def name(self, name: str) -> str:
        return self.names.get(name, name)

    def end(self, end: str) -> str:
        device, dot, terminal = end.partition(".")
        return self.name(device) + dot + terminal

    def keys(self, section: dict[str, Any]) -> dict[str, Any]:
        return {self.name(key): value for key, value in section.items()}

    def value(self, key: str, value: Any) -> Any:
        """A value of the record with the names in it changed; ``key`` says what it is."""
        if isinstance(value, dict):
            changed = {inner: self.value(inner, each) for inner, each in value.items()}
            return (
                self.keys(changed)
                if key in ("devices", "cables", "zones", "centres", "circuits")
                else changed
            )
        if isinstance(value, list):
            return [self.value(key, each) for each in value]
        if key in ("to", "ends", "channel"):
            return self.end(value)
        if key in ("cable", "thermostat", "valve", "shows", "bypass", "at"):
            return self.name(value)
        return value

    def path(self, path: Path) -> Path:
        at = {"devices": 1, "cables": 1, "zones": 1, "wiring": 2, "water": 2}.get(
            str(path[0]) if path else "", 0
        )
        if not at or len(path) <= at or (at == 2 and path[1] not in ("centres", "circuits")):
            return path
        return (*path[:at], self.name(str(path[at])), *path[at + 1 :])


def found(loaded: LoadedRecord, record: Record, renaming: Renaming, folder: FolderPath) -> list[Finding]:
    keys: dict[Path, Mark] = {}
    values: dict[Path, Mark] = {}
    for path in loaded.places.paths():
        value, key = loaded.places.value_mark(path), loaded.places.key_mark(path)
        if value is not None:
            values[renaming.path(path)] = value
        if key is not None:
            keys[renaming.path(path)] = key
    kinds = {renaming.name(name): kind for name, kind in loaded.kinds.items()}
    settings = {renaming.name(name): each for name, each in loaded.settings.items()}
    places = Places(keys, values)
    built = build_circuit(record, kinds, settings, places)
    assert built.findings == ()
    subject = Subject(
        record=record,
        circuit=built.circuit,
        places=places,
        solution=solve(built.circuit),
        today=TODAY,
        folder=folder,
    )
    return list(check_rules(subject))


@pytest.mark.parametrize("rule", ALL, ids=lambda rule: rule.name)
def test_same_findings(rule: Rule, tmp_path: FolderPath) -> None:
    loaded = load_text(rule.wrong.encode(), "example.yaml")
    assert loaded.document is not None
    assert loaded.record is not None
    renaming = Renaming(loaded.document.data)
    renamed = Record.model_validate(renaming.value("", loaded.document.data))
    assert set(renamed.devices).isdisjoint(loaded.record.devices)
    folder = example_folder(tmp_path)
    before = found(loaded, loaded.record, Renaming({"devices": {}}), folder)
    after = found(loaded, renamed, renaming, folder)
    assert before
    assert [(each.rule, each.severity, each.span) for each in before] == [
        (each.rule, each.severity, each.span) for each in after
    ]
