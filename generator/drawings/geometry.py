"""Where everything of a terminal drawing stands, in px from its top left corner.

It knows positions and the words at them, not how they are written as SVG.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from generator.drawings.terminal_model import Box, Cell, Core, Link, Pin, Strip

Side = Literal["left", "right"]


class Point(NamedTuple):
    x: float
    y: float


class Rect(NamedTuple):
    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.x + self.width

    @property
    def bottom(self) -> float:
        return self.y + self.height

    @property
    def middle(self) -> Point:
        return Point(self.x + self.width / 2, self.y + self.height / 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """The name over a device or a wiring centre, and its place; `y` is the baseline of the first line."""

    name: tuple[str, ...]
    place: tuple[str, ...]
    x: float
    y: float
    anchor: Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPin:
    pin: Pin
    rect: Rect
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedBox:
    """One device; `side` is the column it stands in, `gaps` the middles of its marks for left-out terminals."""

    box: Box
    side: Side
    rect: Rect
    heading: Heading
    pins: tuple[PlacedPin, ...]
    gaps: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedCell:
    cell: Cell
    rect: Rect
    label: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedLink:
    link: Link
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedStrip:
    strip: Strip
    heading: Heading
    cells: tuple[PlacedCell, ...]
    links: tuple[PlacedLink, ...]
    gaps: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """The pill at one end of a core: the letters of its colour, and which terminal its other end is in."""

    rect: Rect
    code: str
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """One end of a core. `towards` is +1 if the core leaves to the right, -1 if to the left.

    A `loose` one is in no terminal: the core hangs beside a device.
    """

    owner: str
    point: str
    at: Point
    towards: int
    label: Label
    sleeve: tuple[float, float] | None
    loose: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """One core: the corners of its line, from its first landing to its last. A spare core has one landing."""

    core: Core
    points: tuple[Point, ...]
    landings: tuple[Landing, ...]

    def segments(self) -> Iterator[tuple[Point, Point]]:
        yield from zip(self.points, self.points[1:], strict=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """A whole drawing. `crossings` counts how often two cores cross; words of a cell start `label_px` inside it."""

    width: float
    height: float
    label_px: float
    boxes: tuple[PlacedBox, ...]
    strips: tuple[PlacedStrip, ...]
    routes: tuple[Route, ...]
    crossings: int
