"""Puts what one record has of its own where its marks stand in finished text that many records share.

Knows marks only, not which page they are on.
"""

import re
from collections.abc import Mapping
from typing import Final

from markupsafe import escape

from generator.record.model import Record
from generator.record.own_parts import (
    ADDRESS,
    BY,
    FILE,
    LINE,
    ON,
    POSTCODE,
    REFERENCE,
    REVISION,
    SHEET,
    TOWN,
    UPRN,
)

_MARK: Final = re.compile(
    "|".join(
        re.escape(mark)
        for mark in (
            ADDRESS,
            REFERENCE,
            UPRN,
            LINE,
            TOWN,
            POSTCODE,
            REVISION,
            FILE,
            BY,
            SHEET,
            ON.isoformat(),
        )
    )
)


class Pattern:
    """Text around marks, taken apart once and filled for many records."""

    __slots__ = ("_marks", "_pieces")

    def __init__(self, text: str) -> None:
        self._pieces = _MARK.split(text)
        self._marks = _MARK.findall(text)

    def filled(self, words: Mapping[str, str]) -> str:
        """The text with words in the place of the marks.

        Args:
            words: By mark, all of them; from `own_words` or `own_html`.
        """
        if not self._marks:
            return self._pieces[0]
        text = [self._pieces[0]]
        for mark, piece in zip(self._marks, self._pieces[1:], strict=True):
            text += (words[mark], piece)
        return "".join(text)


def filled(text: str, words: Mapping[str, str]) -> str:
    """Text with words in the place of its marks, where it is filled once only."""
    return _MARK.sub(lambda found: words[found[0]], text)


def own_words(record: Record, *, address: str, revision: str, file: str) -> dict[str, str]:
    """What stands for each mark in plain text.

    Args:
        record: The whole record.
        address: Its address in one line.
        revision: Of the record.
        file: As it is shown.
    """
    about = record.property
    return {
        ADDRESS: address,
        REFERENCE: about.reference,
        UPRN: about.uprn or "",
        LINE: ", ".join(about.address.lines),
        TOWN: about.address.town,
        POSTCODE: about.address.postcode or "",
        REVISION: revision,
        FILE: file,
        ON.isoformat(): record.sure.on.isoformat(),
        BY: record.sure.by,
    }


def own_html(words: Mapping[str, str]) -> dict[str, str]:
    """What stands for each mark in HTML."""
    return {mark: str(escape(each)) for mark, each in words.items()}
