"""Describes a pydantic model: as JSON Schema, and as a list of its fields in words.

Must not know any particular model, nor how a page of the site is made.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from enum import Enum
from inspect import cleandoc
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import CoreSchema, PydanticUndefined, core_schema

from generator.record.fields import NumberWords, Written, text_constraints
from generator.record.scalars import resolve_plain

DIALECT = "https://json-schema.org/draft/2020-12/schema"

_PLAIN_WORDS: Mapping[Any, str] = {
    int: "a whole number",
    float: "a number",
    bool: "true or false",
    str: "text",
    date: "a date",
    Any: "anything",
    dict: "a mapping",
    list: "a list",
}
ONE_OF = "one of the values allowed"
"""Words for the type of a field that takes certain values only; ``FieldEntry.allowed`` begins with them."""

_LISTS = (list, tuple, set, frozenset)


class _JsonSchema(GenerateJsonSchema):
    """JSON Schema without the titles that pydantic makes of field names."""

    def field_title_should_be_set(self, schema: CoreSchema | Any) -> bool:  # noqa: ARG002  # not by the schema
        return False

    def chain_schema(self, schema: core_schema.ChainSchema) -> JsonSchemaValue:
        """With the constraints of all steps: pydantic gives those of the first only."""
        return {**super().chain_schema(schema), **text_constraints(schema)}

    def dict_schema(self, schema: core_schema.DictSchema) -> JsonSchemaValue:
        """Closed to keys that do not fit the pattern."""
        written = super().dict_schema(schema)
        return {**written, "additionalProperties": False} if "patternProperties" in written else written


def json_schema(model: type[BaseModel]) -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of what may be written for a model.

    Editors that know YAML can check a record against it while it is written. It says less than ``validate``.
    """
    return {"$schema": DIALECT, **model.model_json_schema(schema_generator=_JsonSchema)}


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldEntry:
    """One key of a record, in words.

    Attributes:
        path: Where it stands, ``wiring.centres.<name>.<terminal>[].to``; the first place, where there are several.
        key: The key itself.
        type_words: What it takes. A mapping with keys of its own is given by its title between square brackets.
        required: Whether it must be written.
        default: What holds when it is left out; empty for nothing.
        meaning: What it is for.
        allowed: Which values, figures or lengths are allowed; empty for no limit.
        example: As it may be written in the file; empty where there is none.
    """

    path: str
    key: str
    type_words: str
    required: bool
    default: str
    meaning: str
    allowed: str
    example: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One model of a record, in words.

    Attributes:
        title: Its name in words, ``House type``.
        about: What it is.
        paths: Where in the record it stands; empty text for the top of the file.
        entries: Its keys, in the order of the model.
    """

    title: str
    about: str
    paths: tuple[str, ...]
    entries: tuple[FieldEntry, ...]


def field_reference(model: type[BaseModel]) -> list[FieldEntry]:
    """Every key of a model and of the models in it, in the order of the models."""
    return [entry for section in sections(model) for entry in section.entries]


def sections(*models: type[BaseModel]) -> list[Section]:
    """The models, each followed by those in it; a model that is used in several places comes once."""
    paths: dict[type[BaseModel], list[str]] = {}
    for model in models:
        _gather(model, "", paths, ())
    return [
        Section(
            title=title_of(model),
            about=about_of(model),
            paths=tuple(dict.fromkeys(where)),
            entries=tuple(_entry(name, field, where[0]) for name, field in model.model_fields.items()),
        )
        for model, where in paths.items()
    ]


def title_of(model: type[BaseModel]) -> str:
    """The name of a model in words: ``HouseType`` is ``House type``."""
    title = model.model_config.get("title") or model.__name__
    if model.model_config.get("title"):
        return title
    return "".join(
        f" {letter.lower()}" if letter.isupper() and place else letter for place, letter in enumerate(title)
    )


def about_of(model: type[BaseModel]) -> str:
    """What a model's docstring says, in one paragraph; empty when it has none of its own."""
    return " ".join(cleandoc(model.__doc__ or "").split())


def _gather(
    model: type[BaseModel],
    path: str,
    paths: dict[type[BaseModel], list[str]],
    inside: tuple[type[BaseModel], ...],
) -> None:
    if model in inside:
        return
    paths.setdefault(model, []).append(path)
    for name, field in model.model_fields.items():
        for inner, suffix in _models_in(field.annotation):
            here = f"{path}.{_key(name, field)}" if path else _key(name, field)
            _gather(inner, here + suffix, paths, (*inside, model))


def _models_in(annotation: Any) -> Iterator[tuple[type[BaseModel], str]]:
    """Models in an annotation, each with how the path to it goes on."""
    kind, arguments, _ = _parts(annotation)
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        yield kind, ""
    elif kind is Union:
        for argument in arguments:
            yield from _models_in(argument)
    elif kind is dict and arguments:
        for model, suffix in _models_in(arguments[1]):
            yield model, f".<{_placeholder(arguments[0])}>{suffix}"
    elif kind in _LISTS and arguments:
        for model, suffix in _models_in(arguments[0]):
            yield model, f"[]{suffix}"


def _placeholder(annotation: Any) -> str:
    return type_words(annotation).removeprefix("a ").removeprefix("an ")


def _parts(annotation: Any) -> tuple[Any, tuple[Any, ...], tuple[Any, ...]]:
    """What an annotation is, what it is made of (without None), and what is annotated to it."""
    metadata: tuple[Any, ...] = ()
    while get_origin(annotation) is Annotated or hasattr(annotation, "__value__"):
        if hasattr(annotation, "__value__"):
            annotation = annotation.__value__
        else:
            metadata = (*annotation.__metadata__, *metadata)
            annotation = annotation.__origin__
    origin, arguments = get_origin(annotation), get_args(annotation)
    if origin in (Union, UnionType):
        members = tuple(argument for argument in arguments if argument is not NoneType)
        if len(members) == 1:
            kind, inner, more = _parts(members[0])
            return kind, inner, (*more, *metadata)
        return Union, members, metadata
    if origin is tuple:
        return tuple, tuple(argument for argument in arguments if argument is not Ellipsis), metadata
    if origin is None:
        return annotation, (), metadata
    return origin, arguments, metadata


# ---------------------------------------------------------------------- one field


def _key(name: str, field: FieldInfo) -> str:
    return field.validation_alias if isinstance(field.validation_alias, str) else name


def _entry(name: str, field: FieldInfo, path: str) -> FieldEntry:
    key = _key(name, field)
    annotation = Annotated[field.annotation, *field.metadata] if field.metadata else field.annotation
    return FieldEntry(
        path=f"{path}.{key}" if path else key,
        key=key,
        type_words=type_words(annotation),
        required=field.is_required(),
        default=_default_words(field),
        meaning=" ".join((field.description or "").split()),
        allowed="; ".join(_allowed(annotation)),
        example=_example(field, annotation),
    )


def type_words(annotation: Any) -> str:
    """What an annotation takes, in words: ``a list, each a name``."""
    kind, arguments, metadata = _parts(annotation)
    for each in metadata:
        if isinstance(each, Written | NumberWords):
            return each.words
    if kind is Literal or (isinstance(kind, type) and issubclass(kind, Enum)):
        return ONE_OF
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return f"[{title_of(kind)}]"
    if kind is Union:
        return ", or ".join(dict.fromkeys(type_words(argument) for argument in arguments))
    if kind is dict and arguments:
        return f"a mapping: each key {type_words(arguments[0])}, each value {type_words(arguments[1])}"
    if kind in _LISTS and arguments:
        return f"a list, each {type_words(arguments[0])}"
    return _PLAIN_WORDS.get(kind, "a value")


def _allowed(annotation: Any) -> list[str]:
    """Limits on a value, then those on what is in it."""
    kind, arguments, metadata = _parts(annotation)
    if kind is Literal:
        return [", ".join(f"`{write(each)}`" for each in arguments)]
    if isinstance(kind, type) and issubclass(kind, Enum):
        return [", ".join(f"`{write(each.value)}`" for each in kind)]
    words = _bounds(kind, metadata)
    for argument in arguments[1:] if kind is dict else arguments:
        words += [each for each in _allowed(argument) if each not in words]
    return words


def _bounds(kind: Any, metadata: tuple[Any, ...]) -> list[str]:
    limits: dict[str, Any] = {}
    for each in metadata:
        for name in ("ge", "gt", "le", "lt", "multiple_of", "min_length", "max_length", "pattern"):
            value = getattr(each, name, None)
            if value is not None and not isinstance(each, Written):
                limits[name] = value
    words = []
    if "ge" in limits and "le" in limits:
        words.append(f"{limits['ge']} to {limits['le']}")
    else:
        named = {"ge": "at least", "gt": "more than", "le": "at most", "lt": "less than"}
        words += [f"{word} {limits[name]}" for name, word in named.items() if name in limits]
    if "multiple_of" in limits:
        words.append(f"a multiple of {limits['multiple_of']}")
    noun = "items" if kind in _LISTS else "keys" if kind is dict else "characters"
    least, most = limits.get("min_length"), limits.get("max_length")
    if least is not None and most is not None:
        words.append(f"{least} {noun}" if least == most else f"{least} to {most} {noun}")
    elif least is not None or most is not None:
        words.append(f"at least {least} {noun}" if most is None else f"at most {most} {noun}")
    if "pattern" in limits:
        words.append(f"as the pattern `{getattr(limits['pattern'], 'pattern', limits['pattern'])}`")
    return words


def _default_words(field: FieldInfo) -> str:
    if field.is_required():
        return ""
    default = field.get_default(call_default_factory=True, validated_data={})
    if default is None or default is PydanticUndefined:
        return ""
    if isinstance(default, BaseModel) or default in ({}, [], ()):
        return "empty"
    return f"`{write(default)}`"


def _example(field: FieldInfo, annotation: Any) -> str:
    if field.examples:
        return write(field.examples[0])
    for each in _parts(annotation)[2]:
        if isinstance(each, Written) and each.json_schema.get("examples"):
            return write(each.json_schema["examples"][0])
    return ""


def write(value: Any) -> str:
    """A value as it may be written in a record, in one line."""
    match value:
        case Enum():
            return write(value.value)
        case None:
            return "null"
        case bool():
            return "true" if value else "false"
        case dict():
            return "{" + ", ".join(f"{write(key)}: {write(item)}" for key, item in value.items()) + "}"
        case list() | tuple():
            return "[" + ", ".join(write(item) for item in value) + "]"
        case str():
            return value if _needs_no_quotes(value) else "'" + value.replace("'", "''") + "'"
        case _:
            return str(value)


def _needs_no_quotes(text: str) -> bool:
    return (
        bool(text)
        and text == text.strip()
        and text[0].isalnum()
        and not any(mark in text for mark in (": ", " #", ",", "[", "]", "{", "}", "\n"))
        and not text.endswith(":")
        and resolve_plain(text) is text
    )
