"""Writes a document out as YAML 1.2 that reads back the same: block style, short leaves on one line.

For records with their house type and short way applied. Must not know circuits, files or the command line.
"""

import json
import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from generator.record.load import LoadedRecord
from generator.record.model import Record
from generator.record.scalars import FloatAsWritten, IntAsWritten, NotANumber, resolve_plain

_INHERITING = ("arrangement", "house_type")
"""Keys that bring in what is now written out."""

_WIDTH = 100
_SAFE = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 _./+()=;²°Ω×–-]*[A-Za-z0-9_./+()²°Ω-])?")
"""Text that needs no quotes inside ``[]`` and ``{}`` either: no marks that mean something in YAML."""

_OTHERWISE_ELSEWHERE = re.compile(r"y|n|yes|no|on|off", re.IGNORECASE)
"""Text here, but true or false to a reader of YAML 1.1: quoted, so that no editor shows it as something else."""


def written_out(loaded: LoadedRecord) -> str:
    """The record conductor by conductor, without the house type and the short way that it was written with.

    Reading the result gives the same circuit. Keys of the top are in the order of the model; everything below
    is in the order in which it was read.

    Args:
        loaded: A record that could be read; its findings do not matter.

    Returns:
        YAML 1.2, ending with a line feed.

    Raises:
        ValueError: the file could not be read, so there is nothing to write.
    """
    if loaded.document is None or not isinstance(loaded.document.data, dict):
        raise ValueError(f"{loaded.file} could not be read")
    return write_yaml(_by_itself(loaded.document.data))


def _by_itself(data: Mapping[str, Any]) -> dict[str, Any]:
    """The data without what only says how it differs from something else."""
    whole = {key: value for key, value in data.items() if key not in _INHERITING and value is not None}
    wiring = whole.get("wiring")
    if isinstance(wiring, dict):
        # What was removed is gone by now, and there is nothing left to remove it from.
        whole["wiring"] = {key: value for key, value in wiring.items() if key != "removed"}
    order = [key for key in _model_order() if key in whole]
    return {key: whole[key] for key in [*order, *(key for key in whole if key not in order)]}


def _model_order() -> Iterable[str]:
    """Which property it is, how sure we are, then the sections that can be inherited, then the rest."""
    first = ("format", "property", "sure")
    return (*first, *(name for name in Record.model_fields if name not in first))


def write_yaml(data: Mapping[str, Any]) -> str:
    """A mapping as a YAML 1.2 file.

    Args:
        data: Mappings, lists and scalars as the reader gives them; keys are text. A key with the value None is
            left out, which means the same.

    Returns:
        Text that the reader turns into the same data. Numbers keep the form that they were written in.
    """
    return "".join(f"{line}\n" for line in _mapping(data, ""))


def _mapping(data: Mapping[str, Any], indent: str) -> Iterator[str]:
    for key, value in data.items():
        if value is None:
            continue
        yield from _headed(f"{indent}{_key(key)}:", value, indent)


def _headed(head: str, value: Any, indent: str) -> Iterator[str]:
    """A value after its key."""
    if isinstance(value, str) and (block := _block(value, f"{indent}  ")):
        mark, lines = block
        yield f"{head} {mark}"
        yield from lines
        return
    short = _one_line(value, _WIDTH - len(head) - 1)
    if short is not None:
        yield f"{head} {short}"
        return
    yield head
    if isinstance(value, dict):
        yield from _mapping(value, f"{indent}  ")
    else:
        yield from _list(value, f"{indent}  ")


def _list(items: Iterable[Any], indent: str) -> Iterator[str]:
    for item in items:
        short = _one_line(item, _WIDTH - len(indent) - 2)
        if short is not None:
            yield f"{indent}- {short}"
        elif isinstance(item, list):
            yield f"{indent}-"
            yield from _list(item, f"{indent}  ")
        elif isinstance(item, dict):
            inner = _mapping(item, f"{indent}  ")
            yield f"{indent}- {next(inner).removeprefix(f'{indent}  ')}"
            yield from inner
        else:
            yield f"{indent}- {_scalar(item)}"


def _one_line(value: Any, width: int) -> str | None:
    """The value in one line; None where it is no leaf, or too long and can be laid out otherwise."""
    if not isinstance(value, dict | list):
        return _scalar(value)
    items = value.values() if isinstance(value, dict) else value
    if not all(_fits_in_a_line(item) for item in items):
        return None
    text = _flow(value)
    return text if not value or len(text) <= width else None


def _fits_in_a_line(value: Any) -> bool:
    if isinstance(value, list):
        return not any(isinstance(item, dict | list) for item in value)
    return not isinstance(value, dict) and not (isinstance(value, str) and "\n" in value)


def _flow(value: Any) -> str:
    if isinstance(value, dict):
        pairs = [(key, item) for key, item in value.items() if item is not None]
        return "{" + ", ".join(f"{_key(key)}: {_flow(item)}" for key, item in pairs) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_flow(item) for item in value) + "]"
    return _scalar(value)


def _key(key: str) -> str:
    """A key. Keys are always text to the reader, whatever they look like."""
    return key if _SAFE.fullmatch(key) else _quoted(key)


def _scalar(value: Any) -> str:
    match value:
        case None:
            return "null"
        case bool():
            return "true" if value else "false"
        case IntAsWritten() | FloatAsWritten():
            return value.text
        case int() | float():
            return repr(value)
        case str():
            return value if _reads_as_itself(value) else _quoted(value)
        case _:
            raise TypeError(f"a record holds no {type(value).__name__}")


def _reads_as_itself(text: str) -> bool:
    if not _SAFE.fullmatch(text) or _OTHERWISE_ELSEWHERE.fullmatch(text):
        return False
    try:
        return resolve_plain(text) is text
    except NotANumber:
        return False


def _quoted(text: str) -> str:
    """In double quotes. Every JSON text is one in YAML 1.2 (YAML 1.2.2, clause 1.2)."""
    return json.dumps(text, ensure_ascii=False)


def _block(text: str, indent: str) -> tuple[str, list[str]] | None:
    """Text of several lines as a literal block: its mark and its lines; None where quotes are safer."""
    body = text.removesuffix("\n")
    lines = body.split("\n")
    if len(lines) < 2 or lines[0][:1] in ("", " ") or not lines[-1]:
        return None
    if any(line != line.rstrip(" ") for line in lines):
        return None
    return "|" if text.endswith("\n") else "|-", [f"{indent}{line}" if line else "" for line in lines]
