"""Texts that do not belong in a record: codes, numbers and names by which somebody could be found or robbed.

Knows patterns of text only.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

EMERGENCY_NUMBERS = frozenset({"0800111999", "0800002001"})
"""Gas emergency, Great Britain and Northern Ireland: public, and may stand in a record."""


@dataclass(frozen=True, slots=True)
class Sort:
    """A sort of secret: what it is in words, and the text that shows it."""

    words: str
    pattern: re.Pattern[str]


SORTS: tuple[Sort, ...] = (
    Sort(
        "the number of a key safe",
        re.compile(r"\b(?:key[\s-]?safe|lock[\s-]?box|key[\s-]?box)\b[^\n]{0,40}?\d{3}", re.IGNORECASE),
    ),
    Sort(
        "an access or alarm code",
        re.compile(
            r"\b(?:alarm|door|gate|entry|access|entrance|burglar|concierge|main)\s+(?:door\s+)?"
            r"(?:code|pin|keypad|number)\b[^.\n]{0,25}?[0-9A-F#*]{4}"
            r"|\bPIN\b[^.\n]{0,12}?\d{4}"
            r"|\bcode\s+(?:for|of|to)\s+(?:the\s+)?(?:alarm|door|gate|entry|flat|house|building)\b[^.\n]{0,25}?\d{3}",
            re.IGNORECASE,
        ),
    ),
    Sort("a password", re.compile(r"\bpass(?:word|code)\b\s*(?:is\b|[:=])\s*\S", re.IGNORECASE)),
    Sort("an e-mail address", re.compile(r"(?<![\w.+-])[\w.+-]{1,64}@[\w-]{1,63}\.\w[\w.]{0,60}")),
    Sort("a telephone number", re.compile(r"(?<![\d./-])(?:\+44\s?\(?0?\)?|0)\d(?:[\s-]?\d){8,9}(?![\d/])")),
    Sort("a person's name", re.compile(r"\b(?:Mr|Mrs|Ms|Miss|Mx|Dr)\b\.?\s+(?:[A-Z]\.?\s+)?[A-Z][a-z'’-]+")),
)


def secrets_in(text: str) -> Iterator[str]:
    """What sorts of secret a text gives away, in words, each once."""
    for sort in SORTS:
        for match in sort.pattern.finditer(text):
            if re.sub(r"\D", "", match[0]) not in EMERGENCY_NUMBERS:
                yield sort.words
                break
