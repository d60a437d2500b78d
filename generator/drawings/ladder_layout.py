"""Where everything of a ladder stands, in px from its top left corner.

It knows rungs and shapes, not what they mean, and not how they are written as SVG.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from generator.drawings.ladder_fold import TURN_PX, fold_series
from generator.drawings.ladder_model import (
    Blade,
    Block,
    EndLoad,
    Joint,
    Ladder,
    Parallel,
    Rails,
    Rung,
    Series,
)
from generator.drawings.ladder_sizes import (
    END_PX,
    FORK_PX,
    LINE_PX,
    ROW_GAP_PX,
    element_extent,
    load_extent,
    pill_width,
    series_extent,
    way_offsets,
)
from generator.drawings.sizes import WORDS_PX
from generator.drawings.text_measure import wrap

LEAST_WIDTH_PX = 390.0
LEFT_PX = 18.0
_TOP_PX = 30.0
_STEP_PX = 9.0
BLOCK_LEFT_PX, BLOCK_RIGHT_PX = 100.0, 50.0
"""A block's edges, measured from the right edge of the drawing."""
LOAD_PX = 72.0
_FORK_AT_PX = 112.0

Lit = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Lead:
    """A straight wire, and in which states it is live."""

    x1: float
    y1: float
    x2: float
    y2: float
    live_in: Lit


@dataclass(frozen=True, slots=True)
class Tap:
    """A dot where wires join."""

    x: float
    y: float
    live_in: Lit


@dataclass(frozen=True, slots=True)
class PlacedJoint:
    x: float
    y: float
    text: str
    live_in: Lit


@dataclass(frozen=True, slots=True)
class PlacedBlade:
    x: float
    y: float
    blade: Blade


@dataclass(frozen=True, slots=True)
class PlacedLoad:
    x: float
    y: float
    load: EndLoad
    first: bool


@dataclass(frozen=True, slots=True)
class PlacedBlock:
    """A block's box; `pins` are the labels and heights of its pins."""

    block: Block
    name: tuple[str, ...]
    x: float
    top: float
    width: float
    height: float
    pins: tuple[tuple[str, float, Lit], ...]


@dataclass(frozen=True, slots=True)
class Rail:
    """An upright, its letters at its top, and in which states it is live."""

    x: float
    top: float
    bottom: float
    text: str
    live_in: Lit


@dataclass(slots=True)
class LadderLayout:
    """A whole ladder, placed. `words` are headings: text, x, y."""

    width: float
    height: float = 0.0
    rails: list[Rail] = field(default_factory=list)
    leads: list[Lead] = field(default_factory=list)
    taps: list[Tap] = field(default_factory=list)
    joints: list[PlacedJoint] = field(default_factory=list)
    blades: list[PlacedBlade] = field(default_factory=list)
    loads: list[PlacedLoad] = field(default_factory=list)
    blocks: list[PlacedBlock] = field(default_factory=list)
    words: list[tuple[str, float, float]] = field(default_factory=list)


def place_ladder(ladder: Ladder, *, folded: bool = False) -> LadderLayout:
    """Place a ladder: as wide as its longest rung, at least 390 px.

    With `folded` a longer rung goes on in a second line, as far as that makes the ladder narrower.
    """
    rungs = [
        rung
        for rails in ladder.rails
        for item in rails.items
        for rung in ((item,) if isinstance(item, Rung) else item.rungs)
    ]
    widest = max((_width(rung.series, folded=folded) for rung in rungs), default=0.0)
    steps = max(
        (len(item.rungs) for r in ladder.rails for item in r.items if isinstance(item, Block)), default=0
    )
    width = max(LEAST_WIDTH_PX, math.ceil(LEFT_PX + widest + END_PX + _STEP_PX * max(0, steps - 1)))
    placing = _Placing(LadderLayout(width=width), folded=folded)
    y = 0.0
    for rails in ladder.rails:
        y = placing.rails(rails, y)
    placing.out.height = math.ceil(y)
    return placing.out


def _width(series: Series, *, folded: bool) -> float:
    """The room that a rung's contacts need beside the loads."""
    if not folded:
        return series_extent(series).width
    return max(
        series_extent(line).width
        + (TURN_PX if number else 0.0)
        - (0.0 if last else END_PX - LEFT_PX - 2 * TURN_PX)
        for number, (line, last) in enumerate(_lines(series))
    )


def _lines(series: Series) -> list[tuple[Series, bool]]:
    """The lines of a folded rung, each with whether it is the last."""
    room = LEAST_WIDTH_PX - LEFT_PX
    lines = fold_series(series, room - LEFT_PX - 2 * TURN_PX, room - END_PX)
    return [(line, number == len(lines)) for number, line in enumerate(lines, 1)]


class _Placing:
    def __init__(self, out: LadderLayout, *, folded: bool) -> None:
        self.out = out
        self.folded = folded
        self.right = out.width - LEFT_PX

    def rails(self, rails: Rails, y: float) -> float:
        for line in wrap(rails.words, self.out.width - 36, WORDS_PX, lines=3) if rails.words else ():
            y += LINE_PX + 2
            self.out.words.append((line, LEFT_PX, y))
        top = y + _TOP_PX - 6
        y += _TOP_PX
        for item in rails.items:
            y = (
                self.rung(item, y, rails.live_in)
                if isinstance(item, Rung)
                else self.block(item, y, rails.live_in)
            )
        self.out.rails += [
            Rail(LEFT_PX, top, y, rails.left, rails.live_in),
            Rail(self.right, top, y, rails.right, ()),
        ]
        return y + 10

    def rung(self, rung: Rung, top: float, rail_live: Lit) -> float:
        sizes = [load_extent(load, first=not n) for n, load in enumerate(rung.loads)]
        lines = _lines(rung.series) if self.folded else [(rung.series, True)]
        extents = [series_extent(line) for line, _ in lines]
        above = [
            max(e.above, sizes[0].above if sizes and last else 0.0)
            for e, (_, last) in zip(extents, lines, strict=True)
        ]
        y = top + above[0]
        self.out.taps.append(Tap(LEFT_PX, y, rail_live))
        x, live = self.series(lines[0][0], LEFT_PX, y, rung.first_live_in)
        for number, (line, _) in enumerate(lines[1:], 1):
            between = y + extents[number - 1].below + ROW_GAP_PX
            following = between + above[number]
            x, y = self.turn(x, y, between, following, live), following
            x, live = self.series(line, x, y, live)
        bottom = y + extents[-1].below
        fork = self.out.width - _FORK_AT_PX
        here = y
        for number, load in enumerate(rung.loads):
            if number:
                step = sizes[number - 1].below + sizes[number].above + ROW_GAP_PX
                following = here + step
                self.out.leads.append(Lead(fork, here, fork, following, live))
                self.out.taps.append(Tap(fork, here, live))
                here = following
                x = fork
            self.load(load, x, here, live, first=not number)
            bottom = max(bottom, here + sizes[number].below)
        return bottom + ROW_GAP_PX

    def turn(self, x: float, y: float, between: float, following: float, live: Lit) -> float:
        """The wire from the end of one line of a rung to the start of the next; where that is."""
        right, left = x + TURN_PX, LEFT_PX + TURN_PX
        self.out.leads += [
            Lead(x, y, right, y, live),
            Lead(right, y, right, between, live),
            Lead(right, between, left, between, live),
            Lead(left, between, left, following, live),
        ]
        return left

    def load(self, load: EndLoad, x: float, y: float, live: Lit, *, first: bool) -> None:
        at = self.out.width - LOAD_PX
        self.out.leads += [Lead(x, y, at, y, live), Lead(at, y, self.right, y, ())]
        self.out.loads.append(PlacedLoad(at, y, load, first))
        self.out.taps.append(Tap(self.right, y, ()))
        if load.back:
            self.out.joints.append(PlacedJoint(self.right - 4 - pill_width(load.back) / 2, y, load.back, ()))

    def series(self, series: Series, x: float, y: float, live: Lit) -> tuple[float, Lit]:
        """Place a series from x on; where it ends, and in which states the wire is live there."""
        for part in series:
            width = element_extent(part).width
            if isinstance(part, Joint):
                self.out.leads.append(Lead(x, y, x + width, y, part.live_in))
                self.out.joints.append(PlacedJoint(x + width / 2, y, part.text, part.live_in))
                live = part.live_in
            elif isinstance(part, Blade):
                self.out.leads += [Lead(x, y, x + 32, y, live), Lead(x + 52, y, x + width, y, part.live_in)]
                self.out.blades.append(PlacedBlade(x, y, part))
                live = part.live_in
            else:
                self.parallel(part, x, y, width, live)
                live = part.live_in
            x += width
        return x, live

    def parallel(self, part: Parallel, x: float, y: float, width: float, live: Lit) -> None:
        start, end = x + FORK_PX - 6, x + width - FORK_PX + 6
        self.out.leads += [Lead(x, y, start, y, live), Lead(end, y, x + width, y, part.live_in)]
        lines = [y + offset for offset in way_offsets(part.ways)]
        for way, line in zip(part.ways, lines, strict=True):
            reached, after = self.series(way, start, line, live)
            self.out.leads.append(Lead(reached, line, end, line, after))
        self.out.leads += [
            Lead(start, y, start, lines[-1], live),
            Lead(end, y, end, lines[-1], part.live_in),
        ]
        for line in lines[:-1]:
            self.out.taps += [Tap(start, line, live), Tap(end, line, part.live_in)]

    def block(self, block: Block, top: float, rail_live: Lit) -> float:
        edge = self.out.width - BLOCK_LEFT_PX
        name = wrap(block.name, 128.0, WORDS_PX, lines=3)
        pins: list[tuple[str, float, Lit]] = []
        forks: list[tuple[Rung, float, float]] = []
        y = top
        for rung in block.rungs:
            extent = series_extent(rung.series)
            above = max(extent.above, LINE_PX * len(name) + 16 if not pins else 14.0)
            y += above
            x = edge - 8
            if rung.series:
                self.out.taps.append(Tap(LEFT_PX, y, rail_live))
                x, _ = self.series(rung.series, LEFT_PX, y, rung.first_live_in)
            elif rung.loads:
                x = edge - 12
            self.out.leads.append(Lead(x, y, edge, y, rung.end_live_in))
            pins.append((rung.pin, y, rung.end_live_in))
            if rung.loads:
                forks.append((rung, edge - 12 - _STEP_PX * len(forks), y))
            y += max(extent.below, 12.0) + ROW_GAP_PX
        self.box(block, name, pins)
        y = max(y, pins[-1][1] + 20)
        for rung, fork, start in forks:
            y = self.hanging(rung.loads, fork, start, y, rung.end_live_in)
        return y + ROW_GAP_PX

    def hanging(self, loads: Sequence[EndLoad], fork: float, start: float, y: float, live: Lit) -> float:
        """Loads below a block, on a wire that leads down from one of its pins."""
        self.out.taps.append(Tap(fork, start, live))
        here = start
        for load in loads:
            size = load_extent(load, first=False)
            line = max(y, here) + size.above
            self.out.leads.append(Lead(fork, here, fork, line, live))
            if here != start:
                self.out.taps.append(Tap(fork, here, live))
            self.load(load, fork, line, live, first=False)
            here, y = line, line + size.below
        return y

    def box(self, block: Block, name: tuple[str, ...], pins: list[tuple[str, float, Lit]]) -> None:
        top, bottom = pins[0][1] - 12, pins[-1][1] + 12
        left = self.out.width - BLOCK_LEFT_PX
        width = BLOCK_LEFT_PX - BLOCK_RIGHT_PX
        self.out.blocks.append(PlacedBlock(block, name, left, top, width, bottom - top, tuple(pins)))
        middle = (top + bottom) / 2
        self.out.leads.append(Lead(left + width, middle, self.right, middle, ()))
        self.out.taps.append(Tap(self.right, middle, ()))
        if block.back:
            self.out.joints.append(
                PlacedJoint(self.right - 4 - pill_width(block.back) / 2, middle, block.back, ())
            )
