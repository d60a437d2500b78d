"""One pydantic error as a problem in our own words.

Must not know files or positions. No wording of pydantic's leaves this module.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, get_args

from pydantic_core import ErrorDetails
from pydantic_core.core_schema import ErrorType

from generator.record.error_places import ErrorPlace
from generator.record.places import Path
from generator.record.wording import as_text, closest, found, listed, quote


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong at one place of the data.

    Attributes:
        rule: Slug of the finding.
        message: What is wrong, without saying where.
        fix: What to do; may be empty.
        wanted: What was wanted, for telling several sorts of value in one sentence.
        path: Path of the value, or of the key where ``is_key``.
        is_key: It is about the key.
        meant: For an unknown key, the key that was probably meant.
    """

    rule: str
    message: str
    path: Path
    fix: str = ""
    wanted: str = ""
    is_key: bool = False
    meant: str = ""


_WANTED: Mapping[str, str] = {
    **dict.fromkeys(("int_type", "int_parsing", "int_parsing_size", "int_from_float"), "a whole number"),
    **dict.fromkeys(("float_type", "float_parsing", "finite_number", "decimal_type"), "a number"),
    **dict.fromkeys(("string_type", "string_sub_type"), "text"),
    **dict.fromkeys(("bool_type", "bool_parsing"), "true or false"),
    **dict.fromkeys(
        ("dict_type", "mapping_type", "model_type", "model_attributes_type", "dataclass_type"), "a mapping"
    ),
    **dict.fromkeys(("list_type", "tuple_type", "set_type", "frozen_set_type", "iterable_type"), "a list"),
    **dict.fromkeys(("date_type", "date_parsing", "date_from_datetime_parsing"), "a date"),
    "none_required": "nothing",
}
_OF_LITERALS = {"literal_error", "enum", "is_instance_of"}
_OF_RANGES = {"greater_than", "greater_than_equal", "less_than", "less_than_equal"}
_TRUTHS = {"yes": "true", "on": "true", "y": "true", "no": "false", "off": "false", "n": "false"}
_OWN_TO_PYDANTIC = frozenset(get_args(ErrorType))


def problem_of(error: ErrorDetails, place: ErrorPlace, siblings: Mapping[str, Any]) -> Problem:
    """Put an error in our own words.

    Args:
        error: As pydantic gives it.
        place: Where it is.
        siblings: The mapping of the data around it; empty where it is not in one.
    """
    kind = error["type"]
    if kind not in _OWN_TO_PYDANTIC:
        return _own(error, place)
    if kind in _OF_LITERALS and place.allowed():
        return _not_allowed(error["input"], place.allowed(), place.path, is_key=place.is_key)
    if kind in _WANTED:
        return _wrong_type(_WANTED[kind], error["input"], place)
    if kind in _OF_RANGES:
        return _out_of_range(error, place)
    make = _OTHERS.get(kind)
    if make is not None:
        return make(error, place, siblings)
    if kind in ("value_error", "assertion_error"):
        message = str(error.get("ctx", {}).get("error", "")) or "this cannot be right"
        return Problem("wrong-value", message, place.path, is_key=place.is_key)
    message = f"{found(error['input'])} cannot stand here"
    return Problem("wrong-value", message, place.path, _from_field(place), is_key=place.is_key)


# ---------------------------------------------------------------------- sorts of problem


def _own(error: ErrorDetails, place: ErrorPlace) -> Problem:
    """What a validator of ours raised; see ``fields.unfit``."""
    context = error.get("ctx", {})
    return Problem(
        rule=error["type"],
        message=context.get("message", error["msg"]),
        fix=context.get("fix", ""),
        wanted=context.get("wanted", ""),
        path=(*place.path, *context.get("at", ())),
        is_key=place.is_key,
    )


def _wrong_type(wanted: str, value: object, place: ErrorPlace) -> Problem:
    text = as_text(value)
    fix = ""
    if wanted == "text" and value is not None and not isinstance(value, dict | list):
        fix = "put it in quotes"
    elif wanted == "true or false" and text is not None:
        truth = _TRUTHS.get(text.lower(), text.lower())
        fix = f"write {truth}" if truth in ("true", "false") else ""
    elif wanted == "a whole number" and isinstance(value, float) and value.is_integer():
        fix = f"write {int(value)}"
    elif wanted in ("a whole number", "a number") and isinstance(value, str) and _is_number(value):
        fix = "take the quotes away"
    elif wanted == "a list" and value is not None:
        fix = "begin each item with a hyphen and a blank"
    elif wanted == "a mapping":
        required = [quote(key) for key, is_required in place.keys_within() if is_required]
        fix = f"give at least {listed(required, 'and')}" if required else ""
    return Problem(
        "wrong-type", f"wanted {wanted}, found {found(value)}", place.path, fix, wanted, is_key=place.is_key
    )


def _is_number(text: str) -> bool:
    return text.replace(".", "", 1).removeprefix("-").isdecimal()


def _not_allowed(value: object, allowed: tuple[Any, ...], path: Path, *, is_key: bool = False) -> Problem:
    words = [_value_word(each) for each in allowed]
    quoted = [quote(word) for word in words]
    wanted = listed(quoted)
    text = as_text(value)
    if text is None:
        message = f"wanted {wanted}, found {found(value)}"
        return Problem("wrong-type", message, path, "", wanted, is_key=is_key)
    if text in words:
        fix = "take the quotes away" if isinstance(value, str) else "put it in quotes"
        return Problem(
            "wrong-type", f"wanted {wanted}, found {found(value)}", path, fix, wanted, is_key=is_key
        )
    # Digits that look alike do not mean alike.
    near = closest(text, words) if isinstance(value, str) else None
    fix = f"write {quote(near)}" if near is not None else ""
    return Problem(
        "not-allowed-value",
        f"{quote(text)} is not allowed; wanted {wanted}",
        path,
        fix,
        wanted,
        is_key=is_key,
    )


def _value_word(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value)


def _out_of_range(error: ErrorDetails, place: ErrorPlace) -> Problem:
    limits = {**(place.schema or {}), **error.get("ctx", {})}
    low, high = limits.get("ge", limits.get("gt")), limits.get("le", limits.get("lt"))
    if "ge" in limits and "le" in limits:
        wanted = f"{_figure(low)} to {_figure(high)}"
    else:
        parts = []
        if low is not None:
            parts.append(f"{'at least' if 'ge' in limits else 'more than'} {_figure(low)}")
        if high is not None:
            parts.append(f"{'at most' if 'le' in limits else 'less than'} {_figure(high)}")
        wanted = " and ".join(parts)
    message = f"wanted {wanted}, found {_figure(error['input'])}"
    return Problem("out-of-range", message, place.path, "check the figure", wanted, is_key=place.is_key)


def _figure(number: object) -> str:
    if isinstance(number, float) and number.is_integer():
        return str(int(number))
    return as_text(number) or str(number)


def _unknown_key(_error: ErrorDetails, place: ErrorPlace, siblings: Mapping[str, Any]) -> Problem:
    key = str(place.path[-1])
    free = [each for each in place.keys_around() if each not in siblings]
    meant = closest(key, free) or ""
    if meant:
        fix = f"did you mean `{meant}`?"
    elif free:
        fix = f"keys that can stand here: {listed([quote(each) for each in free], 'and')}"
    else:
        fix = "take it out"
    if siblings.get(key, "") is None and (" " in key or not meant):
        # `{place: hall, by the door}` is a mapping of two keys, the second of them empty
        fix = "text with a comma inside braces or brackets needs quotes around it"
        meant = ""
    return Problem("unknown-key", f"unknown key {quote(key)}", place.path, fix, is_key=True, meant=meant)


def _missing_key(_error: ErrorDetails, place: ErrorPlace, _siblings: Mapping[str, Any]) -> Problem:
    key = str(place.path[-1])
    examples = place.meta.get("examples", ())
    example = (
        f": {_value_word(examples[0])}" if examples and isinstance(examples[0], str | int | float) else ":"
    )
    about = place.meta.get("description", "")
    fix = f"add `{key}{example}`" + (f" ({about.rstrip('.')})" if about else "")
    return Problem("missing-key", f"the key `{key}` is missing", place.path, fix)


def _unknown_tag(error: ErrorDetails, place: ErrorPlace, _siblings: Mapping[str, Any]) -> Problem:
    tag = _tag_key(place)
    choices = tuple(getattr(each, "value", each) for each in (place.schema or {}).get("choices", ()))
    value = error["input"]
    if tag is None or not isinstance(value, dict):
        return Problem("wrong-value", f"{found(value)} is of no sort that can stand here", place.path)
    return _not_allowed(value.get(tag), choices, (*place.path, tag))


def _missing_tag(error: ErrorDetails, place: ErrorPlace, _siblings: Mapping[str, Any]) -> Problem:
    tag = _tag_key(place)
    if not isinstance(error["input"], dict):
        return _wrong_type("a mapping", error["input"], place)
    if tag is None:
        return Problem(
            "wrong-value", f"{found(error['input'])} is of no sort that can stand here", place.path
        )
    choices = [quote(str(getattr(each, "value", each))) for each in (place.schema or {}).get("choices", ())]
    message, fix = f"the key `{tag}` is missing", f"add `{tag}:` with {listed(choices)}"
    return Problem("missing-key", message, (*place.path, tag), fix)


def _tag_key(place: ErrorPlace) -> str | None:
    discriminator = (place.schema or {}).get("discriminator")
    return discriminator if isinstance(discriminator, str) else None


def _count(error: ErrorDetails, place: ErrorPlace, _siblings: Mapping[str, Any]) -> Problem:
    """Too few or too many items, or characters."""
    value, context = error["input"], error.get("ctx", {})
    least, most = context.get("min_length"), context.get("max_length")
    bound = f"at least {least} {_be(least)} wanted" if least is not None else f"{most} {_be(most)} allowed"
    text = as_text(value)
    if text is not None:
        rule = "text-too-short" if least is not None else "text-too-long"
        fix = "say more" if least is not None else "shorten it"
        message = f"the text has {_number_of(len(text), 'character')}; {bound}"
        return Problem(rule, message, place.path, fix, "text", is_key=place.is_key)
    if isinstance(value, dict):
        message = f"the mapping has {_number_of(len(value), 'key')}; {bound}"
    else:
        length = len(value) if isinstance(value, list | tuple) else 0
        message = f"the list has {_number_of(length, 'item')}; {bound}"
    return Problem("out-of-range", message, place.path, _from_field(place))


def _be(number: object) -> str:
    return "is" if number == 1 else "are"


def _number_of(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _pattern(error: ErrorDetails, place: ErrorPlace, _siblings: Mapping[str, Any]) -> Problem:
    text = as_text(error["input"]) or ""
    message = f"{quote(text)} is not written as it must be here"
    return Problem("bad-form", message, place.path, _from_field(place), "text", is_key=place.is_key)


def _multiple(error: ErrorDetails, place: ErrorPlace, _siblings: Mapping[str, Any]) -> Problem:
    wanted = f"a multiple of {_figure(error.get('ctx', {}).get('multiple_of'))}"
    message = f"wanted {wanted}, found {_figure(error['input'])}"
    return Problem("out-of-range", message, place.path, "check the figure", wanted)


def _from_field(place: ErrorPlace) -> str:
    """A fix made of what the model says of the field."""
    examples, about = place.meta.get("examples", ()), place.meta.get("description", "").rstrip(".")
    example = next((quote(as_text(each) or "") for each in examples if isinstance(each, str)), "")
    if about and example:
        return f"{about}; for example {example}"
    return about or (f"write it as {example}" if example else "")


_OTHERS: Mapping[str, Callable[[ErrorDetails, ErrorPlace, Mapping[str, Any]], Problem]] = {
    "extra_forbidden": _unknown_key,
    "missing": _missing_key,
    "union_tag_invalid": _unknown_tag,
    "union_tag_not_found": _missing_tag,
    "string_too_short": _count,
    "string_too_long": _count,
    "too_short": _count,
    "too_long": _count,
    "string_pattern_mismatch": _pattern,
    "multiple_of": _multiple,
}
