"""How much room each part of a ladder takes: along its wire, above it and below it, in px.

It knows words and px only, not where anything is placed.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from generator.drawings.ladder_model import Blade, Element, EndLoad, Joint, Series, Sign
from generator.drawings.sizes import CODE_PX, PLACE_PX, WORDS_PX
from generator.drawings.text_measure import measure, wrap

BLADE_PX = 84.0
LINE_PX = 13.0
_MOST_LINES = 4
ROW_GAP_PX = 6.0
FORK_PX = 14.0
"""From the start of a parallel to its ways, and from them to its end."""
LOAD_RADIUS_PX = 13.0
END_PX = 118.0
"""From the end of the contacts to the right rail: the load and its terminal."""
_ABOVE = {Sign.CLOCK: 36.0, Sign.HEAT: 36.0, Sign.COIL: 34.0, Sign.CAM: 18.0, Sign.NONE: 14.0}


class Extent(NamedTuple):
    """Room along the wire, above it and below it."""

    width: float
    above: float
    below: float


def pill_width(text: str) -> float:
    """The width of the ring around the letters of a terminal."""
    return max(17.0, measure(text, CODE_PX, bold=True) + 9.0)


def blade_words(blade: Blade) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The lines of a contact's name and of what tells it from others of its device."""
    name = wrap(blade.name, BLADE_PX - 2, WORDS_PX, lines=_MOST_LINES)
    return name, wrap(blade.detail, BLADE_PX - 2, PLACE_PX, lines=_MOST_LINES) if blade.detail else ()


def load_words(load: EndLoad, *, first: bool) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The lines over a load; those after the first leave room for the wire that leads down to them."""
    room = 104.0 if first else 72.0
    return wrap(load.name, room, WORDS_PX, lines=_MOST_LINES), wrap(
        load.detail, room, PLACE_PX, lines=_MOST_LINES
    ) if load.detail else ()


def element_extent(element: Element) -> Extent:
    """The room of one part of a series."""
    if isinstance(element, Joint):
        return Extent(pill_width(element.text) + 9.0, 10.0, 10.0)
    if isinstance(element, Blade):
        name, detail = blade_words(element)
        return Extent(BLADE_PX, _ABOVE[element.sign], 10.0 + LINE_PX * (len(name) + len(detail)))
    ways = [series_extent(way) for way in element.ways]
    width = max(way.width for way in ways) + 2 * FORK_PX
    offsets = way_offsets(element.ways)
    return Extent(width, ways[0].above, offsets[-1] + ways[-1].below)


def way_offsets(ways: Sequence[Series]) -> list[float]:
    """How far below the first of parallel ways each of them lies."""
    offsets = [0.0]
    extents = [series_extent(way) for way in ways]
    for before, here in pairwise(extents):
        offsets.append(offsets[-1] + before.below + here.above + ROW_GAP_PX)
    return offsets


def series_extent(series: Series) -> Extent:
    """The room of a series; of a plain wire where it is empty."""
    parts = [element_extent(part) for part in series]
    return Extent(
        sum(part.width for part in parts),
        max((part.above for part in parts), default=6.0),
        max((part.below for part in parts), default=10.0),
    )


def load_extent(load: EndLoad, *, first: bool) -> Extent:
    """The room of a load at the end of its wire."""
    name, detail = load_words(load, first=first)
    return Extent(END_PX, LOAD_RADIUS_PX + 6.0 + LINE_PX * (len(name) + len(detail)), LOAD_RADIUS_PX + 3.0)
