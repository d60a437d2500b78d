"""Where in the data a pydantic error is, and what the model would have had there.

pydantic puts labels of unions, tags and ``[key]`` among the steps of an error's location. They can only be told
from real keys by walking the model's core schema beside the location, which is what this module does.
Must not know any wording.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from generator.record.places import Path

Loc = tuple[int | str, ...]
Schema = Mapping[str, Any]

_WRAPPERS = {
    "default",
    "nullable",
    "function-before",
    "function-after",
    "function-wrap",
    "custom-error",
    "model-field",
    "typed-dict-field",
}
_LISTS = {"list", "tuple", "set", "frozenset", "generator"}
_NAMES_OF_TYPE: Mapping[str, tuple[str, ...]] = {
    "str": ("str", "constrained-str"),
    "int": ("int", "constrained-int"),
}


@dataclass(frozen=True, slots=True)
class ErrorPlace:
    """Where an error is.

    Attributes:
        path: Path of the value it is about, relative to what was validated. For a missing key, the path the key
            would have.
        is_key: It is about the key that the path ends with, not about its value.
        unions: For each union on the way, outermost first: the path of the union's value, and the label of the
            member that the error comes from.
        schema: Core schema at the path; None where the model has nothing there.
        around: Core schema of the mapping that the path's last key is in; None where there is none.
        meta: Description and examples of the field the error is in, by JSON Schema keyword.
    """

    path: Path
    is_key: bool
    unions: tuple[tuple[Path, str], ...]
    schema: Schema | None
    around: Schema | None
    meta: Mapping[str, Any]

    def keys_around(self) -> tuple[str, ...]:
        """Keys that the mapping around the path may have, in the order of the model."""
        return tuple(_fields(self.around))

    def keys_within(self) -> tuple[tuple[str, bool], ...]:
        """Keys that the mapping at the path may have, each with whether it is required."""
        return tuple(
            (key, field.get("required", True) and field["schema"]["type"] != "default")
            for key, field in _fields(self.schema).items()
        )

    def allowed(self) -> tuple[Any, ...]:
        """Values that a literal or an enum at the path may have; empty where it is neither."""
        return allowed_values(self.schema)


def allowed_values(schema: Schema | None) -> tuple[Any, ...]:
    """Values of a literal or an enum; empty for any other schema."""
    if schema is None:
        return ()
    if schema["type"] == "literal":
        return tuple(schema["expected"])
    if schema["type"] == "enum":
        return tuple(member.value for member in schema["members"])
    return ()


def _fields(schema: Schema | None) -> Mapping[str, Schema]:
    """Fields of a model's schema by the key they are written as."""
    fields = schema.get("fields") if schema is not None else None
    if not isinstance(fields, dict):
        return {}
    return {
        alias if isinstance(alias := field.get("validation_alias"), str) else name: field
        for name, field in fields.items()
    }


class ErrorPlaces:
    """Finds the places of a model's errors."""

    def __init__(self, model: type[BaseModel]) -> None:
        self._definitions: dict[str, Schema] = {}
        self._top: Schema = self._bare(model.__pydantic_core_schema__)

    def find(self, loc: Loc, data: Any) -> ErrorPlace:
        """Walk one error's location.

        Args:
            loc: As pydantic gives it.
            data: What was validated.
        """
        walk = _Walk(self, self._top, data)
        for step in loc:
            walk.take(step)
        return walk.place()

    def _bare(self, schema: Schema) -> Schema:
        """A schema without what does not show in locations or in data."""
        while True:
            kind = schema["type"]
            if kind == "definitions":
                self._definitions |= {each["ref"]: each for each in schema["definitions"]}
                schema = schema["schema"]
            elif kind == "definition-ref":
                schema = self._definitions[schema["schema_ref"]]
            elif kind in _WRAPPERS or kind in ("model", "dataclass"):
                schema = schema["schema"]
            elif kind == "lax-or-strict":
                schema = schema["strict_schema"]
            elif kind == "json-or-python":
                schema = schema["python_schema"]
            elif kind == "chain":
                schema = schema["steps"][0]
            else:
                return schema

    def bare(self, schema: Schema | None) -> Schema | None:
        """The same for a schema that may not be there."""
        return None if schema is None else self._bare(schema)

    def member(self, union: Schema, label: str) -> Schema | None:
        """The member of a union that a label in a location stands for."""
        choices = union["choices"]
        if union["type"] == "tagged-union":
            for tag, choice in choices.items():
                if str(getattr(tag, "value", tag)) == label:
                    return self._member(choice)
            return None
        for choice in choices:
            if label in (name := self._label(choice)) or any(label.startswith(f"{each}[") for each in name):
                return self._member(choice)
        return None

    def _member(self, choice: Any) -> Schema:
        return self._bare(choice[0] if isinstance(choice, tuple) else choice)

    def _label(self, choice: Any) -> tuple[str, ...]:
        if isinstance(choice, tuple):
            return (str(choice[1]),)
        while choice["type"] in ("definition-ref", "definitions"):
            choice = (
                self._definitions[choice["schema_ref"]]
                if choice["type"] == "definition-ref"
                else choice["schema"]
            )
        kind = choice["type"]
        if kind in ("model", "dataclass", "enum"):
            return (choice["cls"].__name__, kind)
        return _NAMES_OF_TYPE.get(kind, (kind,))


class _Walk:
    """One walk along a location, the data and the schema side by side."""

    def __init__(self, places: ErrorPlaces, schema: Schema, data: Any) -> None:
        self._places = places
        self._schema: Schema | None = schema
        self._around: Schema | None = None
        self._data = data
        self._path: list[int | str] = []
        self._unions: list[tuple[Path, str]] = []
        self._meta: Mapping[str, Any] = {}
        self._is_key = False

    def take(self, step: int | str) -> None:
        schema = self._schema
        if schema is not None and schema["type"] in ("union", "tagged-union"):
            self._unions.append((tuple(self._path), str(step)))
            self._schema = self._places.member(schema, str(step))
        elif step == "[key]" and self._around is not None and self._around["type"] == "dict":
            self._is_key = True
            self._schema = self._places.bare(self._around.get("keys_schema"))
        else:
            self._descend(step, schema, self._inside(schema, step))

    def _inside(self, schema: Schema | None, step: int | str) -> Schema | None:
        if schema is None:
            return None
        if fields := _fields(schema):
            field = fields.get(str(step))
            self._meta = field.get("metadata", {}).get("pydantic_js_updates", {}) if field else {}
            return field["schema"] if field else None
        if schema["type"] == "dict":
            return schema.get("values_schema")
        if schema["type"] in _LISTS:
            items = schema.get("items_schema")
            if isinstance(items, list):
                return items[min(step, len(items) - 1)] if items and isinstance(step, int) else None
            return items
        return None

    def _descend(self, step: int | str, around: Schema | None, schema: Schema | None) -> None:
        self._around = around
        self._schema = self._places.bare(schema)
        self._path.append(step)

    def place(self) -> ErrorPlace:
        return ErrorPlace(
            tuple(self._path), self._is_key, tuple(self._unions), self._schema, self._around, self._meta
        )
