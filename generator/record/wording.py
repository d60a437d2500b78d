"""Words for what was found in a record and what was wanted there.

Must not know models, files or positions.
"""

import difflib
from collections.abc import Iterable, Sequence

from generator.record.places import Path
from generator.record.scalars import FloatAsWritten, IntAsWritten

_LONGEST_QUOTE = 60
_MOST_LISTED = 12


def quote(text: str) -> str:
    """Text as code, one line and not too long."""
    first, *rest = text.split("\n")
    if rest or len(first) > _LONGEST_QUOTE:
        first = first[:_LONGEST_QUOTE].rstrip() + "…"
    return f"`{first}`"


def found(value: object) -> str:
    """What a value of a record is, in the words of its writer: ``the text `two```, ``a list``, ``nothing``."""
    match value:
        case None:
            return "nothing"
        case bool():
            return "true" if value else "false"
        case IntAsWritten():
            return f"the whole number {quote(value.text)}"
        case int():
            return f"the whole number {quote(str(value))}"
        case FloatAsWritten():
            return f"the number {quote(value.text)}"
        case float():
            return f"the number {quote(repr(value))}"
        case str():
            return f"the text {quote(value)}" if value else "an empty text"
        case dict():
            return "a mapping" if value else "an empty mapping"
        case list() | tuple():
            return "a list" if value else "an empty list"
        case _:
            return "something else"


def as_text(value: object) -> str | None:
    """The text of a scalar as it was written; None for anything that is not text or a number."""
    if isinstance(value, str):
        return value
    if isinstance(value, IntAsWritten | FloatAsWritten):
        return value.text
    return None


def listed(words: Sequence[str], joiner: str = "or") -> str:
    """``a``, ``a or b``, ``a, b or c``; cut short when there are very many."""
    if len(words) > _MOST_LISTED:
        return f"{', '.join(words[:_MOST_LISTED])} and {len(words) - _MOST_LISTED} more"
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joiner} {words[-1]}"


def sentence(words: str) -> str:
    """Words as a sentence: a capital and a full stop. Empty words stay empty."""
    if not words:
        return ""
    return words[0].upper() + words[1:] + ("" if words.endswith((".", "?", "!")) else ".")


def closest(word: str, candidates: Iterable[str]) -> str | None:
    """The candidate that the writer most likely meant.

    Args:
        word: What was written.
        candidates: What could have been meant; ties go to the first.

    Returns:
        None when nothing is near.
    """
    by_plain: dict[str, str] = {}
    for candidate in candidates:
        by_plain.setdefault(_plain(candidate), candidate)
    near = difflib.get_close_matches(_plain(word[:_LONGEST_QUOTE]), list(by_plain), n=1, cutoff=0.65)
    return by_plain[near[0]] if near else None


def _plain(word: str) -> str:
    return word.lower().replace("_", "-").replace(" ", "-")


def place_words(path: Path) -> str:
    """Where in the record: ``in `wiring.centres.main```, ``in item 2 of `visits```, ``at the top of the file``."""
    if not path:
        return "at the top of the file"
    return f"in {path_words(path)}"


def path_words(path: Path) -> str:
    """A path as its writer would name it; items of lists are counted from 1."""
    around = ""
    dotted: list[str] = []
    for step in path:
        if isinstance(step, int):
            inside = f" of `{'.'.join(dotted)}`" if dotted else ""
            around = f" of item {step + 1}{inside}{around}"
            dotted = []
        else:
            dotted.append(step)
    if dotted:
        return f"`{'.'.join(dotted)}`{around}"
    return around.removeprefix(" of ")
