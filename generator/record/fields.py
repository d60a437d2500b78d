"""The sorts of value that a record is made of, as annotated types for strict pydantic models.

Each says in its own words what it wanted, and describes itself for JSON Schema and for the field reference.
Must not know any field of a record.
"""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from enum import Enum
from typing import Annotated, Any, TypeVar

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler, Strict, ValidationError
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, InitErrorDetails, PydanticCustomError, core_schema

from generator.record.core_codes import UnfitCore, core_pattern, read_core
from generator.record.places import Path
from generator.record.scalars import FloatAsWritten, IntAsWritten
from generator.record.wording import found, quote

TEXT_MAX = 2000
LINE_MAX = 200
NAME_MAX = 40
TERMINAL_MAX = 16

_NAME = re.compile(r"[a-z0-9][a-z0-9-]*", re.ASCII)
_TERMINAL = re.compile(r"[A-Za-z0-9+./-]+", re.ASCII)
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", re.ASCII)
_EARLIEST_YEAR = 1900

T = TypeVar("T")
E = TypeVar("E", bound=Enum)


def unfit(rule: str, message: str, fix: str = "", *, wanted: str = "", at: Path = ()) -> PydanticCustomError:
    """The error that a validator of a record's model raises to speak for itself.

    Args:
        rule: The slug of the finding.
        message: What is wrong.
        fix: What to do about it.
        wanted: What was wanted instead, ``a name``; used where a value may be of several sorts.
        at: Where below the validated value, as keys of mappings and places in lists.
    """
    context = {"message": message, "fix": fix, "wanted": wanted, "at": at}
    return PydanticCustomError(rule, "{message}", context)


def all_unfit(errors: Iterable[PydanticCustomError]) -> ValidationError:
    """Several errors of one validated value in one, each of which ``unfit`` made."""
    return ValidationError.from_exception_data(
        "value", [InitErrorDetails(type=each, input=None) for each in errors]
    )


@dataclass(frozen=True, slots=True, eq=False)
class Written:
    """Annotation for a value that is read from text as it was written, quoted or not.

    Attributes:
        words: What it is, for messages and the field reference: ``a name``.
        read: Makes the value, or raises what ``unfit`` gives.
        json_schema: What JSON Schema says of it, besides constraints that a model adds.
        value_type: Type of the value.
    """

    words: str
    read: Callable[[str], object]
    json_schema: JsonSchemaValue
    value_type: type = str

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        inner = core_schema.str_schema() if self.value_type is str else core_schema.any_schema()
        return core_schema.no_info_before_validator_function(self._validate, inner)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {**self.json_schema, **text_constraints(schema)}

    def _validate(self, value: object) -> object:
        if isinstance(value, self.value_type) and not isinstance(value, str):
            return value
        if isinstance(value, str):
            return self.read(value)
        if isinstance(value, IntAsWritten | FloatAsWritten):
            return self.read(value.text)
        fix = "put it in quotes" if isinstance(value, bool) else ""
        raise unfit("wrong-type", f"wanted {self.words}, found {found(value)}", fix, wanted=self.words)


@dataclass(frozen=True, slots=True)
class NumberWords:
    """Annotation that describes a number for JSON Schema and for the field reference."""

    words: str
    description: str

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {"description": self.description, **handler(schema)}


_KEYWORDS = {"min_length": "minLength", "max_length": "maxLength", "pattern": "pattern"}


def text_constraints(schema: Any) -> JsonSchemaValue:
    """Constraints on text that a model put around a type of this module, as JSON Schema.

    pydantic chains them behind the type's own function, where its JSON Schema does not see them.
    """
    if isinstance(schema, list):
        return {key: value for each in schema for key, value in text_constraints(each).items()}
    if not isinstance(schema, dict):
        return {}
    gathered = {
        keyword: schema[key] for key, keyword in _KEYWORDS.items() if isinstance(schema.get(key), str | int)
    }
    function = schema.get("function")
    if isinstance(function, dict):
        bound = getattr(function.get("function"), "keywords", {})
        gathered |= {_KEYWORDS[key]: value for key, value in bound.items() if key in _KEYWORDS}
    return {**text_constraints(schema.get("steps")), **text_constraints(schema.get("schema")), **gathered}


# ---------------------------------------------------------------------- reading


def _read_text(max_length: int, *, one_line: bool) -> Callable[[str], str]:
    words = "one line of text" if one_line else "text"

    def read(text: str) -> str:
        # A text block (`|` or `>`) ends with a line feed that its writer did not ask for.
        text = text.removesuffix("\n")
        if not text.strip():
            raise unfit("empty-text", f"wanted {words}, found nothing but blanks", "write it", wanted=words)
        if text != text.strip():
            end = "begins" if text[0].isspace() else "ends"
            raise unfit("blanks-around-text", f"the text {end} with a blank", "take it away", wanted=words)
        if one_line and "\n" in text:
            raise unfit("several-lines", "the text has several lines", "write it in one line", wanted=words)
        if len(text) > max_length:
            message = f"the text has {len(text)} characters; {max_length} are allowed"
            raise unfit("text-too-long", message, "shorten it", wanted=words)
        return text

    return read


def _read_name(text: str) -> str:
    if _NAME.fullmatch(text) and len(text) <= NAME_MAX:
        return text
    wanted = "a name of small letters, digits and hyphens"
    if _NAME.fullmatch(text):
        message = f"the name {quote(text)} has {len(text)} characters; {NAME_MAX} are allowed"
        raise unfit("bad-name", message, "shorten it", wanted="a name")
    better = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:NAME_MAX]
    fix = f"write `{better}`" if better else ""
    raise unfit("bad-name", f"wanted {wanted}, found {found(text)}", fix, wanted="a name")


def _read_terminal(text: str) -> str:
    if _TERMINAL.fullmatch(text) and len(text) <= TERMINAL_MAX:
        return text
    message = f"{quote(text)} cannot be a terminal" if text else "a terminal has no name"
    fix = f"use 1 to {TERMINAL_MAX} letters, digits, and + - . / without blanks"
    raise unfit("bad-terminal", message, fix, wanted="a terminal")


def _read_end(text: str) -> str:
    device, dot, terminal = text.partition(".")
    if not dot:
        message = f"wanted `device.terminal`, found {found(text)}"
        raise unfit("bad-end", message, "name the device, a full stop, and its terminal", wanted="an end")
    try:
        _read_name(device)
        _read_terminal(terminal)
    except PydanticCustomError as error:
        context = error.context or {}
        message = f"in {quote(text)}: {context['message']}"
        raise unfit("bad-end", message, context["fix"], wanted="an end") from None
    return text


def split_end(end: str) -> tuple[str, str]:
    """Device and terminal of an end, ``pump.L``; a terminal may have a full stop in it, a device never."""
    device, _, terminal = end.partition(".")
    return device, terminal


def _read_core(text: str) -> str:
    try:
        return str(read_core(text))
    except UnfitCore as error:
        raise unfit("bad-core", error.message, error.fix, wanted="a colour code") from None


def _read_day(text: str) -> date:
    wanted = "a date"
    if not _DAY.fullmatch(text):
        message = f"wanted a date, found {found(text)}"
        raise unfit("bad-date", message, _day_fix(text), wanted=wanted)
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise unfit(
            "bad-date", f"there is no day {quote(text)}", "look at the calendar", wanted=wanted
        ) from None
    if day.year < _EARLIEST_YEAR:
        message = f"the year of {quote(text)} is before {_EARLIEST_YEAR}"
        raise unfit("bad-date", message, "check the year", wanted=wanted)
    return day


def _day_fix(text: str) -> str:
    if re.fullmatch(r"[0-9]{8}", text):
        return f"write {text[:4]}-{text[4:6]}-{text[6:]}"
    if match := re.fullmatch(r"([0-9]{4})[-./]([0-9]{1,2})[-./]([0-9]{1,2})", text):
        return f"write {match[1]}-{match[2]:0>2}-{match[3]:0>2}"
    return "write it as year-month-day, such as 2023-05-17"


# ---------------------------------------------------------------------- types

_TEXT_OR_NUMBER = ["string", "number"]
"""An editor that goes by the schema must not complain of ``0012`` without quotes."""


def _text_type(words: str, max_length: int, description: str, *, one_line: bool) -> Written:
    schema = {
        "type": _TEXT_OR_NUMBER,
        "minLength": 1,
        "maxLength": max_length,
        "description": description,
        "pattern": r"^\S(.*\S)?$" if one_line else r"^\S([\s\S]*\S)?\n?$",
    }
    return Written(words, _read_text(max_length, one_line=one_line), schema)


Text = Annotated[
    str,
    _text_type("text", TEXT_MAX, "Text of one or more lines, without blanks at its ends.", one_line=False),
]
"""Text of one or more lines, up to 2000 characters. Numbers need no quotes and keep their zeros."""

Line = Annotated[
    str,
    _text_type("one line of text", LINE_MAX, "One line of text, without blanks at its ends.", one_line=True),
]
"""One line of text, up to 200 characters. Numbers need no quotes and keep their zeros."""

Name = Annotated[
    str,
    Written(
        "a name",
        _read_name,
        {
            "type": ["string", "integer"],
            "pattern": f"^{_NAME.pattern}$",
            "maxLength": NAME_MAX,
            "description": "A name of small letters, digits and hyphens.",
        },
    ),
]
"""A name by which one part of a record speaks of another, up to 40 characters."""

TerminalName = Annotated[
    str,
    Written(
        "a terminal",
        _read_terminal,
        {
            "type": _TEXT_OR_NUMBER,
            "pattern": f"^{_TERMINAL.pattern}$",
            "minLength": 1,
            "maxLength": TERMINAL_MAX,
            "description": "A terminal as it is marked: letters, digits, and + - . / without blanks.",
            "examples": ["A", "12", "on-1", "L2"],
        },
    ),
]
"""A terminal as it is marked, 1 to 16 characters."""

EndName = Annotated[
    str,
    Written(
        "an end, `device.terminal`",
        _read_end,
        {
            "type": _TEXT_OR_NUMBER,
            "pattern": rf"^{_NAME.pattern}\.{_TERMINAL.pattern}$",
            "maxLength": NAME_MAX + 1 + TERMINAL_MAX,
            "description": "Where a conductor ends: the device, a full stop, and its terminal.",
            "examples": ["hall-valve.motor"],
        },
    ),
]
"""Where a conductor ends: ``device.terminal``; see ``split_end``."""

CoreName = Annotated[
    str,
    Written(
        "a colour code",
        _read_core,
        {
            "type": "string",
            "pattern": core_pattern(),
            "description": "Colour of a core by IEC 60757 code; two colours in the order of its table; "
            "a digit tells apart cores that are alike.",
            "examples": ["BN", "GNYE", "BNWH", "BK2"],
        },
    ),
]
"""Colour of a core by IEC 60757 code, in capitals; see ``core_codes.read_core``."""

Day = Annotated[
    date,
    Written(
        "a date",
        _read_day,
        {
            "type": "string",
            "format": "date",
            "description": "A day as year-month-day.",
            "examples": ["2023-05-17"],
        },
        date,
    ),
]
"""A day, written year-month-day."""

WholeNumber = Annotated[int, Strict(), NumberWords("a whole number", "A whole number, without quotes.")]
"""A whole number; neither ``3.0`` nor ``'3'``."""

Number = Annotated[float, Strict(), NumberWords("a number", "A number, without quotes.")]
"""A number, with or without a decimal point."""

Items = Annotated[tuple[T, ...], Field(strict=False)]
"""A list of the file kept as a tuple, ``Items[Name]``: a strict model would take only a tuple."""

Choice = Annotated[E, Field(strict=False)]
"""A word of the file kept as a member of an enum, ``Choice[Duty]``: a strict model would take only a member."""
