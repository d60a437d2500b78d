"""The parts of a stock that a van carries, counted by what they are, how old they are and the firm's own reference.

Made from the stock's rows alone; no larger for a larger stock but by the number of sorts of part.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from generator.views.stock_model import PartGroup, StockRow

AGES = ("under 5 years", "5 to 9 years", "10 to 14 years", "15 years and over", "not recorded")
"""How long ago a part was fitted, in whole years; the last where no day is recorded."""

_YEARS_A_BAND = 5
_NOT_RECORDED = len(AGES) - 1


def age_band(fitted: date | None, day: date) -> int:
    """The place in `AGES` of a part fitted on a day; one fitted after ``day`` counts as new."""
    if fitted is None:
        return _NOT_RECORDED
    years = day.year - fitted.year - ((day.month, day.day) < (fitted.month, fitted.day))
    return min(max(years, 0) // _YEARS_A_BAND, _NOT_RECORDED - 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartCount:
    """One sort of part: what it is, how many there are in how many properties, and how old.

    ``kind`` is the kind of the device that it is, or sits on. ``ages`` has one number for each of `AGES`.
    ``own`` has the firm's own references with how many parts have each, commonest first; parts without one are left out.
    """

    group: PartGroup
    kind: str
    words: str
    detail: str
    count: int
    properties: int
    ages: tuple[int, ...]
    own: tuple[tuple[str, int], ...]


def part_counts(rows: Iterable[StockRow], *, day: date) -> tuple[PartCount, ...]:
    """Every sort of part in a stock: by group in the order of `PartGroup`, commonest first, then by words."""
    counted: dict[tuple[PartGroup, str, str, str], _Tally] = {}
    # Houses built alike have the same parts: each set of parts is gone through once, however many houses have it.
    for parts, houses in Counter(row.parts for row in rows).items():
        seen = set()
        for part in parts:
            key = (part.group, part.kind, part.words, part.detail)
            tally = counted.get(key)
            if tally is None:
                tally = counted[key] = _Tally()
            tally.ages[age_band(part.fitted, day)] += houses
            if part.part:
                tally.own[part.part] += houses
            if key not in seen:
                seen.add(key)
                tally.properties += houses
    groups = list(PartGroup)
    found = [
        PartCount(
            group=group,
            kind=kind,
            words=words,
            detail=detail,
            count=tally.ages.total(),
            properties=tally.properties,
            ages=tuple(tally.ages[band] for band in range(len(AGES))),
            own=tuple(sorted(tally.own.items(), key=lambda each: (-each[1], each[0]))),
        )
        for (group, kind, words, detail), tally in counted.items()
    ]
    return tuple(
        sorted(found, key=lambda each: (groups.index(each.group), -each.count, each.words, each.detail))
    )


class _Tally:
    """What is counted of one sort of part while the rows go by."""

    __slots__ = ("ages", "own", "properties")

    def __init__(self) -> None:
        self.ages: Counter[int] = Counter()
        self.own: Counter[str] = Counter()
        self.properties = 0
