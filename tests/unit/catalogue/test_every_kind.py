"""What holds for every kind of device: it stands alone, its settings at random build, its facts name a source."""

import re
from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given, reject, settings, strategies
from hypothesis.strategies import DataObject, SearchStrategy
from pydantic import TypeAdapter, ValidationError

from generator.catalogue.kind import Duty, Kind
from generator.catalogue.kinds import KINDS
from generator.catalogue.logic import Back, Fed, Is, Joined, Live, Unsure, atoms
from generator.catalogue.parts import COMMON_PRACTICE, FROM_MEMORY, DeviceParts
from generator.record.fields import TerminalName
from generator.record.schema import json_schema
from generator.states.solve import solve
from tests.circuits import house

_AS_WRITTEN = TypeAdapter(TerminalName)
"""A terminal that a record could not name could not be wired."""
each_kind = pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)


def _shown(kind: Kind) -> DeviceParts:
    return kind.parts(kind.settings.model_validate(dict(kind.example)))


def _holds_together(parts: DeviceParts) -> None:
    """Every name used inside a device exists in it, and none twice."""
    terminals = [item.name for item in parts.terminals]
    points = [*terminals, *parts.inner]
    assert len(set(points)) == len(points)
    for name in terminals:
        assert _AS_WRITTEN.validate_python(name) == name
    moved = [item.name for item in parts.inputs] + [item.name for item in parts.driven]
    assert len(set(moved)) == len(moved)
    for names in (
        [item.name for item in parts.contacts],
        [item.name for item in parts.loads],
        [item.name for item in parts.senses],
        [item.name for item in parts.controls],
    ):
        assert len(set(names)) == len(names)
    ends = [(item.a, item.b) for item in parts.contacts]
    ends += [(item.a, item.b) for item in parts.loads]
    ends += [(item.a, item.b) for item in parts.senses]
    ends += [(item.a, item.b) for item in parts.buses]
    for a, b in ends:
        assert {a, b} <= set(points)
        assert a != b
    loads = {item.name for item in parts.loads}
    moves = [item.when for item in parts.contacts] + [item.when for item in parts.driven]
    for expr in moves + [item.when for item in parts.diodes]:
        for leaf in atoms(expr):
            match leaf:
                case Is(name):
                    assert name in moved
                case Fed(load):
                    assert load in loads
                case Live(point) | Back(point):
                    assert point in points
                case Joined(a, b):
                    assert {a, b} <= set(points)
                case Unsure():
                    pass
    for contact in parts.contacts:
        assert all(isinstance(leaf, Is | Unsure) for leaf in atoms(contact.when))
    assert {item.input for item in parts.controls} <= {item.name for item in parts.inputs}
    assert {item.hears for item in parts.buses} - {""} <= {item.name for item in parts.driven}


@each_kind
def test_alone(kind: Kind) -> None:
    """A device that is joined to nothing settles in every state, and nothing in it is fed unless it is a supply."""
    solution = solve(house(devices={"it": (kind.name, kind.example)}))
    assert solution.hunting == 0
    if not _shown(kind).supplies:
        assert not any(solution.settled.line.values())
        assert not any(solution.settled.fed.values())


@each_kind
def test_holds_together(kind: Kind) -> None:
    _holds_together(_shown(kind))


@each_kind
def test_words(kind: Kind) -> None:
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", kind.name)
    assert kind.about.endswith(".")
    for fact in _shown(kind).facts:
        assert fact.words
        assert fact.value
        assert fact.source in (COMMON_PRACTICE, FROM_MEMORY) or re.search(r"\d|^worked out from", fact.source)


def _values(schema: Mapping[str, Any]) -> SearchStrategy[Any]:
    """Values that a field may have by its JSON Schema."""
    if "enum" in schema:
        return strategies.sampled_from(schema["enum"])
    if "const" in schema:
        return strategies.just(schema["const"])
    if "anyOf" in schema:
        return strategies.one_of([_values(each) for each in schema["anyOf"]])
    low = schema.get("minimum", schema.get("exclusiveMinimum", 0))
    high = schema.get("maximum", schema.get("exclusiveMaximum", low + 100))
    match schema.get("type"):
        case "null":
            return strategies.none()
        case "boolean":
            return strategies.booleans()
        case "integer":
            return strategies.integers(int(low), min(int(high), int(low) + 12))
        case "number":
            return strategies.floats(low, high, exclude_min="exclusiveMinimum" in schema)
        case "array":
            return strategies.lists(_values(schema["items"]), max_size=4).map(tuple)
        case _:
            return strategies.sampled_from(["A", "B", "C3", "4"])


def _at_random(kind: Kind) -> SearchStrategy[dict[str, Any]]:
    schema = json_schema(kind.settings)
    needed = set(schema.get("required", ()))
    fields = {name: _values(each) for name, each in schema.get("properties", {}).items()}
    return strategies.fixed_dictionaries(
        {name: each for name, each in fields.items() if name in needed},
        optional={name: each for name, each in fields.items() if name not in needed},
    )


@each_kind
@given(data=strategies.data())
@settings(max_examples=20, deadline=None)
def test_settings_at_random(kind: Kind, data: DataObject) -> None:
    """Whatever settings are accepted give parts that hold together and settle."""
    given_settings = data.draw(_at_random(kind))
    try:
        checked = kind.settings.model_validate(given_settings)
    except ValidationError:
        reject()
    _holds_together(kind.parts(checked))
    assert solve(house(devices={"it": (kind.name, given_settings)})).hunting == 0


@each_kind
def test_every_supply_has_a_rating(kind: Kind) -> None:
    """Rules hold loads and cords against it; a firm's own kinds cannot be supplies."""
    settings_ = kind.settings.model_validate(dict(kind.example))
    if kind.parts(settings_).supplies or kind.duty is Duty.SUPPLY:
        ratings = [getattr(settings_, name, None) for name in ("fuse_a", "breaker_a")]
        assert sum(isinstance(each, int) for each in ratings) == 1
