"""A terminal drawing turned into numbers for placing and routing, and the way back.

It knows which end is at which terminal, and how high things are; not what they look like.
"""

from dataclasses import dataclass

from generator.drawings.placement import Hints
from generator.drawings.rows import NOWHERE, PITCH, Wiring
from generator.drawings.terminal_model import Box, End, Pin, Role, TerminalDrawing

# A mark for left-out terminals is as high as one terminal.
GAP_ROWS = PITCH


@dataclass(frozen=True, slots=True, kw_only=True)
class PinRows:
    """One pin: how far below the top of its box it begins, and how high it is, in rows."""

    pin: Pin
    first: int
    height: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """`pins` and `gaps` are per box; the gaps are the first rows of the marks for left-out terminals."""

    wiring: Wiring
    hints: Hints
    pins: tuple[tuple[PinRows, ...], ...]
    gaps: tuple[tuple[int, ...], ...]


def number_drawing(
    drawing: TerminalDrawing, box_heads: tuple[int, ...], strip_heads: tuple[int, ...], *, one_sided: bool
) -> Numbered:
    """Number everything. The heads are the heights of the names over devices and strips, in rows."""
    ends = _Ends(drawing)
    boxes = [_number_pins(box, ends) for box in drawing.devices]
    leads, tail = _leads(drawing, strip_heads)
    box_of = [NOWHERE] * (2 * len(drawing.cores))
    offset_of, cell_of = list(box_of), list(box_of)
    for number, cell in enumerate(ends.cells):
        for end in ends.at(cell):
            cell_of[end] = number
    for number, (box, (pins, _)) in enumerate(zip(drawing.devices, boxes, strict=True)):
        for placed in pins:
            for index, end in enumerate(ends.at((box.id, placed.pin.id))):
                box_of[end], offset_of[end] = number, placed.first + 1 + PITCH * index
    wiring = Wiring(
        box_head=box_heads,
        box_rows=tuple(
            _height(box, pins, gaps) for box, (pins, gaps) in zip(drawing.devices, boxes, strict=True)
        ),
        box_of=tuple(box_of),
        offset_of=tuple(offset_of),
        cell_of=tuple(cell_of),
        cell_lead=leads,
        cell_least=(0,) * len(leads),
        tail=tail,
        one_sided=one_sided,
    )
    # By number, so that houses which differ in names alone are placed once.
    zones = dict.fromkeys(box.group for box in drawing.devices if box.group)
    numbers = {"": ""} | {group: str(number) for number, group in enumerate(zones, 1)}
    hints = Hints(
        groups=tuple(numbers[box.group] for box in drawing.devices),
        controls=tuple(box.role == Role.CONTROL for box in drawing.devices),
    )
    return Numbered(
        wiring=wiring,
        hints=hints,
        pins=tuple(pins for pins, _ in boxes),
        gaps=tuple(gaps for _, gaps in boxes),
    )


class _Ends:
    """Which ends are at each terminal, in the order of the terminals that they come from."""

    def __init__(self, drawing: TerminalDrawing) -> None:
        self.cells = [(strip.id, cell.id) for strip in drawing.strips for cell in strip.cells]
        points = [*self.cells, *((box.id, pin.id) for box in drawing.devices for pin in box.pins)]
        self._rank = {point: rank for rank, point in enumerate(points)}
        self._at: dict[End, list[int]] = {}
        self._far: list[End | None] = []
        for core in drawing.cores:
            for end, far in ((core.from_pin, core.to), (core.to, core.from_pin)):
                if end is not None:
                    self._at.setdefault(end, []).append(len(self._far))
                self._far.append(far)
        for ends in self._at.values():
            ends.sort(key=self._far_rank)

    def _far_rank(self, end: int) -> int:
        far = self._far[end]
        return len(self._rank) if far is None else self._rank[far]

    def at(self, point: End) -> list[int]:
        return self._at.get(point, [])

    def first_rank(self, point: End) -> int:
        """Return the rank of the first terminal reached from here; more than any if there is none."""
        return min((self._far_rank(end) for end in self.at(point)), default=len(self._rank))


def _number_pins(box: Box, ends: _Ends) -> tuple[tuple[PinRows, ...], tuple[int, ...]]:
    pins = list(box.pins)
    if not box.ordered:
        pins.sort(key=lambda pin: ends.first_rank((box.id, pin.id)))
    placed: list[PinRows] = []
    gaps: list[int] = []
    row = 0
    for pin in pins:
        if pin.gap_before:
            gaps.append(row)
            row += GAP_ROWS
        placed.append(PinRows(pin=pin, first=row, height=PITCH * max(len(ends.at((box.id, pin.id))), 1)))
        row += placed[-1].height
    if box.gap_after:
        gaps.append(row)
    return tuple(placed), tuple(gaps)


def _height(box: Box, pins: tuple[PinRows, ...], gaps: tuple[int, ...]) -> int:
    if box.gap_after:
        return gaps[-1] + GAP_ROWS
    return pins[-1].first + pins[-1].height if pins else PITCH


def _leads(drawing: TerminalDrawing, strip_heads: tuple[int, ...]) -> tuple[tuple[int, ...], int]:
    """Return what stands above each terminal of all strips, and what stands below the last, in rows."""
    leads: list[int] = []
    waiting = 0
    for strip, head in zip(drawing.strips, strip_heads, strict=True):
        waiting += head
        for cell in strip.cells:
            leads.append(waiting + GAP_ROWS * cell.gap_before)
            waiting = 0
        waiting += GAP_ROWS * strip.gap_after
    return tuple(leads), waiting
