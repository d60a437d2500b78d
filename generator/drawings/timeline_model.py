"""What a timeline is made from: rows of bars over seconds, and moments with words.

It holds words and seconds as plain data, and knows nothing of what they stand for.
"""

from dataclasses import dataclass
from enum import StrEnum


class BarKind(StrEnum):
    """How a bar is drawn: on the way there, there, or electrically live for a short time."""

    MOVING = "moving"
    ON = "on"
    LIVE = "live"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A stretch of time, in seconds from the beginning; `to_s` is infinite for what lasts beyond the end."""

    from_s: float
    to_s: float
    kind: BarKind


@dataclass(frozen=True, slots=True, kw_only=True)
class TimelineRow:
    """One part with its bars, in order of time."""

    id: str
    name: str
    detail: str
    bars: tuple[Bar, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A moment with words over it."""

    at_s: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TimelineDrawing:
    """A timeline up to `end_s`. `prefix` begins every id."""

    prefix: str
    title: str
    rows: tuple[TimelineRow, ...]
    marks: tuple[Mark, ...]
    end_s: float
    description: str = ""
