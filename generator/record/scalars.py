"""What a plain scalar of a record means: YAML 1.2 core schema and nothing else.

Must not know files, positions, or what any value is used for.

A YAML 1.1 reader turns ``NO``, ``off``, ``12:30`` and ``010`` into False, False, 750 and 8. Here the first three
are text and the last is ten (YAML 1.2.2, clause 10.3.2, "Tag Resolution" of the core schema).
"""

import re
from typing import Self

Scalar = str | int | float | bool | None

MAX_NUMBER_LENGTH = 100
"""Longest number read as one, in characters; nothing in a home needs more than 15 digits."""


class IntAsWritten(int):
    """A whole number that remembers how it was written, so that a text field can take ``0012`` as it stands."""

    text: str

    def __new__(cls, value: int, text: str) -> Self:
        number = super().__new__(cls, value)
        number.text = text
        return number

    def __getnewargs__(self) -> tuple[int, str]:  # type: ignore[override]  # int's own takes no text
        return int(self), self.text


class FloatAsWritten(float):
    """A number with a point or an exponent that remembers how it was written."""

    text: str

    def __new__(cls, value: float, text: str) -> Self:
        number = super().__new__(cls, value)
        number.text = text
        return number

    def __getnewargs__(self) -> tuple[float, str]:  # type: ignore[override]  # float's own takes no text
        return float(self), self.text


class NotANumber(ValueError):
    """The scalar is a number by the core schema, but none that a record can hold."""


# YAML 1.2.2, clause 10.3.2.
_WORDS: dict[str, bool | None] = {
    "": None,
    "~": None,
    "null": None,
    "Null": None,
    "NULL": None,
    "true": True,
    "True": True,
    "TRUE": True,
    "false": False,
    "False": False,
    "FALSE": False,
}
_DECIMAL = re.compile(r"[-+]?[0-9]+", re.ASCII)
_OCTAL = re.compile(r"0o[0-7]+", re.ASCII)
_HEXADECIMAL = re.compile(r"0x[0-9a-fA-F]+", re.ASCII)
_FLOAT = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?", re.ASCII)
_NOT_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")

_MAY_BE_A_NUMBER = frozenset("-+.0123456789")


def resolve_plain(text: str) -> Scalar:
    """Read a plain (unquoted) scalar.

    Args:
        text: The scalar as written, without surrounding blanks.

    Returns:
        None, a bool, an ``IntAsWritten``, a ``FloatAsWritten``, or the text itself when it is none of these.

    Raises:
        NotANumber: For infinity, not-a-number, and numbers too large or too long to hold.
    """
    if text in _WORDS:
        return _WORDS[text]
    if text[0] not in _MAY_BE_A_NUMBER:
        return text
    return _resolve_number(text)


def _resolve_number(text: str) -> Scalar:
    if _DECIMAL.fullmatch(text):
        return IntAsWritten(_whole(text, 10), text)
    if _FLOAT.fullmatch(text):
        return FloatAsWritten(_finite(text), text)
    if _OCTAL.fullmatch(text):
        return IntAsWritten(_whole(text[2:], 8), text)
    if _HEXADECIMAL.fullmatch(text):
        return IntAsWritten(_whole(text[2:], 16), text)
    if _NOT_FINITE.fullmatch(text):
        raise NotANumber(f"`{text}` is not a number a record can hold")
    return text


def _whole(digits: str, base: int) -> int:
    if len(digits) > MAX_NUMBER_LENGTH:
        raise NotANumber(f"a number of {len(digits)} digits is too long")
    return int(digits, base)


def _finite(text: str) -> float:
    if len(text) > MAX_NUMBER_LENGTH:
        raise NotANumber(f"a number of {len(text)} characters is too long")
    number = float(text)
    if number in (float("inf"), float("-inf")):
        raise NotANumber(f"`{text}` is too large a number")
    return number
