"""Places a terminal drawing: devices beside the wiring centre, one line a core, nothing on top of anything else.

It knows names and px only, nothing electrical. The steps: take the part that the form shows, measure its words, number
it, search for the order of the devices, order the tracks of both channels, and turn rows and tracks into px.
"""

from dataclasses import dataclass
from typing import NamedTuple

from generator.drawings.channel import assign_tracks, count_crossings, order_tracks
from generator.drawings.geometry import (
    Heading,
    Label,
    Landing,
    Layout,
    PlacedBox,
    PlacedCell,
    PlacedPin,
    PlacedStrip,
    Point,
    Rect,
    Route,
    Side,
)
from generator.drawings.links import assign_lanes, place_links
from generator.drawings.numbering import GAP_ROWS, Numbered, number_drawing
from generator.drawings.part import take_zone
from generator.drawings.placement import place_devices
from generator.drawings.rows import LEFT, NOWHERE, RIGHT, Rows
from generator.drawings.sizes import (
    DOT_ROOM_PX,
    MARGIN_PX,
    MOST_LABEL_PX,
    NAME_LINE_PX,
    NAME_PX,
    PILL_HEIGHT_PX,
    PIN_PAD_PX,
    ROW_PX,
    SLEEVE_ROOM_PX,
    SPARE_TAIL_PX,
    WORDS_LINE_PX,
    WORDS_PX,
    EndText,
    Form,
    HeadText,
    Sizes,
    fit_phone,
    fit_sizes,
    write_ends,
    write_head,
)
from generator.drawings.terminal_model import Core, Strip, TerminalDrawing, check_drawing
from generator.drawings.text_measure import shorten, wrap

# Between two wiring centres that stand above each other.
_STRIP_LEAD_PX = 20
_HEAD_LEAD_PX = 6


class _Columns(NamedTuple):
    """The x of everything; `near` and `far` are per side the edges that devices and strips turn to the channel."""

    near: tuple[float, float]
    far: tuple[float, float]
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """All that was decided before px: `tracks` gives per side the track of each core that has one there."""

    drawing: TerminalDrawing
    sizes: Sizes
    box_heads: tuple[HeadText, ...]
    strip_heads: tuple[HeadText, ...]
    numbered: Numbered
    rows: Rows
    tracks: tuple[dict[int, int], dict[int, int]]
    columns: _Columns


def layout_terminal_drawing(drawing: TerminalDrawing, *, form: Form, group: str | None = None) -> Layout:
    """Place a drawing, or with `group` the part of it that belongs to one zone (empty: to no zone).

    Raises:
        DrawingInputError: the drawing contradicts itself.
    """
    check_drawing(drawing)
    shown = drawing if group is None else take_zone(drawing, group)
    lanes = assign_lanes(shown.strips)
    sizes = fit_sizes(shown, form, max((lane + 1 for lane in lanes.values()), default=0))
    box_heads = tuple(
        write_head(box.name, box.place, sizes.box_px + sizes.near_stub_px - 4, lead_px=_HEAD_LEAD_PX)
        for box in shown.boxes
    )
    strip_heads = tuple(
        write_head(
            strip.name,
            strip.place,
            sizes.strip_px + sizes.far_stub_px,
            lead_px=_STRIP_LEAD_PX if number else 4,
        )
        for number, strip in enumerate(shown.strips)
    )
    numbered = number_drawing(
        shown,
        tuple(head.rows for head in box_heads),
        tuple(head.rows for head in strip_heads),
        one_sided=form == "phone",
    )
    rows = place_devices(numbered.wiring, numbered.hints)
    tracks: list[dict[int, int]] = []
    crossings = 0
    for nets, cores in zip(rows.nets, rows.net_core, strict=True):
        order = order_tracks(nets)
        crossings += count_crossings(nets, order)
        tracks.append(dict(zip(cores, assign_tracks(nets, order), strict=True)))
    counts = [max(side.values(), default=-1) + 1 for side in tracks]
    if form == "phone":
        sizes = fit_phone(sizes, counts[RIGHT])
    plan = _Plan(
        drawing=shown,
        sizes=sizes,
        box_heads=box_heads,
        strip_heads=strip_heads,
        numbered=numbered,
        rows=rows,
        tracks=(tracks[LEFT], tracks[RIGHT]),
        columns=_place_columns(sizes, rows, counts),
    )
    texts = write_ends(drawing)
    strips = _place_strips(plan, lanes)
    return Layout(
        width=plan.columns.width,
        height=rows.height * ROW_PX + 2 * MARGIN_PX,
        label_px=sizes.label_px,
        boxes=tuple(_place_box(plan, number) for number in range(len(shown.boxes))),
        strips=strips,
        routes=tuple(_route(plan, number, texts) for number in range(len(shown.cores))),
        crossings=crossings,
    )


def _place_columns(sizes: Sizes, rows: Rows, counts: list[int]) -> _Columns:
    """Turn the numbers of tracks into the x of every column; a side without anything takes no room."""
    x = float(MARGIN_PX)
    ends = set(zip(rows.end_side, (row != NOWHERE for row in rows.end_row), strict=True))
    near_left = x
    if rows.order[LEFT] or (LEFT, True) in ends:
        near_left = x + (sizes.box_px if rows.order[LEFT] else 0)
        x = near_left + _channel_width(sizes, counts[LEFT], boxes=bool(rows.order[LEFT]))
    far_left = x
    far_right = x = x + sizes.strip_px
    near_right = x
    if rows.order[RIGHT] or (RIGHT, True) in ends:
        near_right = x + _channel_width(sizes, counts[RIGHT], boxes=bool(rows.order[RIGHT]))
        x = near_right + (sizes.box_px if rows.order[RIGHT] else 0)
    return _Columns(near=(near_left, near_right), far=(far_left, far_right), width=x + MARGIN_PX)


def _channel_width(sizes: Sizes, tracks: int, *, boxes: bool) -> float:
    near = sizes.near_stub_px if boxes else sizes.pitch_px
    return near + sizes.pitch_px * max(tracks - 1, 0) + sizes.far_stub_px


def _y(row: float) -> float:
    return MARGIN_PX + row * ROW_PX


def _place_box(plan: _Plan, number: int) -> PlacedBox:
    box, head, sizes = plan.drawing.boxes[number], plan.box_heads[number], plan.sizes
    left = number in plan.rows.order[LEFT]
    top = plan.rows.box_top[number]
    x = plan.columns.near[LEFT] - sizes.box_px if left else plan.columns.near[RIGHT]
    rect = Rect(x, _y(top), sizes.box_px, plan.numbered.wiring.box_rows[number] * ROW_PX)
    pins = tuple(
        PlacedPin(
            pin=placed.pin,
            rect=Rect(x, _y(top + placed.first), sizes.box_px, placed.height * ROW_PX),
            label=shorten(placed.pin.label, sizes.box_px - 2 * PIN_PAD_PX, WORDS_PX),
        )
        for placed in plan.numbered.pins[number]
    )
    gaps = tuple(Point(rect.middle.x, _y(top + first + GAP_ROWS / 2)) for first in plan.numbered.gaps[number])
    side: Side = "left" if left else "right"
    heading = _head_over(head, rect, side)
    return PlacedBox(box=box, side=side, rect=rect, heading=heading, pins=pins, gaps=gaps)


def _head_over(head: HeadText, rect: Rect, side: Side) -> Heading:
    """Put a device's name above it, at its outer edge; the name may reach over the stubs, where no core runs."""
    lines = len(head.name)
    place_px = 12 if head.place else 0
    return Heading(
        name=head.name,
        place=head.place,
        x=rect.x if side == "left" else rect.right,
        y=rect.y - 5 - place_px - NAME_LINE_PX * (lines - 1),
        anchor="start" if side == "left" else "end",
    )


def _place_strips(plan: _Plan, lanes: dict[tuple[str, str], int]) -> tuple[PlacedStrip, ...]:
    found = []
    number = 0
    for strip, head in zip(plan.drawing.strips, plan.strip_heads, strict=True):
        cells = tuple(_place_cell(plan, strip, index, number + index) for index in range(len(strip.cells)))
        number += len(strip.cells)
        if not cells:
            continue
        middle = plan.columns.far[LEFT] + plan.sizes.strip_px / 2
        gaps = [Point(middle, cell.rect.y - GAP_ROWS * ROW_PX / 2) for cell in cells if cell.cell.gap_before]
        if strip.gap_after:
            gaps.append(Point(middle, cells[-1].rect.bottom + GAP_ROWS * ROW_PX / 2))
        top = cells[0].rect.y - (GAP_ROWS * ROW_PX if cells[0].cell.gap_before else 0)
        place_px = 12 if head.place else 0
        heading = Heading(
            name=head.name,
            place=head.place,
            x=middle,
            y=top - 5 - place_px - NAME_LINE_PX * (len(head.name) - 1),
            anchor="middle",
        )
        found.append(
            PlacedStrip(
                strip=strip,
                heading=heading,
                cells=cells,
                links=place_links(strip, cells, lanes),
                gaps=tuple(gaps),
            )
        )
    return tuple(found)


def _place_cell(plan: _Plan, strip: Strip, index: int, number: int) -> PlacedCell:
    cell = strip.cells[index]
    height = plan.rows.cell_height[number] * ROW_PX
    rect = Rect(plan.columns.far[LEFT], _y(plan.rows.cell_top[number]), plan.sizes.strip_px, height)
    lines = max(1, (height - 2) // WORDS_LINE_PX)
    words = wrap(cell.words, plan.sizes.words_px, WORDS_PX, lines=lines) if cell.words else ()
    return PlacedCell(
        cell=cell, rect=rect, label=shorten(cell.label, MOST_LABEL_PX, NAME_PX, bold=True), words=words
    )


def _route(plan: _Plan, number: int, texts: dict[tuple[str, int], EndText]) -> Route:
    core = plan.drawing.cores[number]
    landings = tuple(
        _landing(plan, core, 2 * number + which, texts[core.id, which])
        for which, end in enumerate((core.from_pin, core.to))
        if end is not None
    )
    first = landings[0]
    if core.to is None:
        tip = (
            first.label.rect.right if first.towards > 0 else first.label.rect.x
        ) + SPARE_TAIL_PX * first.towards
        return Route(core=core, points=(first.at, Point(tip, first.at.y)), landings=landings)
    last = landings[1]
    sides = (plan.rows.end_side[2 * number], plan.rows.end_side[2 * number + 1])
    first_x = _track_x(plan, sides[0], plan.tracks[sides[0]][number])
    corners = [first.at, Point(first_x, first.at.y)]
    if sides[0] != sides[1]:
        across = _y(plan.rows.passage_row[number])
        last_x = _track_x(plan, sides[1], plan.tracks[sides[1]][number])
        corners += [Point(first_x, across), Point(last_x, across), Point(last_x, last.at.y)]
    else:
        corners.append(Point(first_x, last.at.y))
    return Route(core=core, points=(*corners, last.at), landings=landings)


def _track_x(plan: _Plan, side: int, track: int) -> float:
    boxes = bool(plan.rows.order[side])
    away = (plan.sizes.near_stub_px if boxes else plan.sizes.pitch_px) + plan.sizes.pitch_px * track
    return plan.columns.near[side] + (away if side == LEFT else -away)


def _landing(plan: _Plan, core: Core, end: int, text: EndText) -> Landing:
    side = plan.rows.end_side[end]
    at_box = plan.numbered.wiring.box_of[end] != NOWHERE
    towards = 1 if (side == LEFT) == at_box else -1
    x = (plan.columns.near if at_box else plan.columns.far)[side]
    y = _y(plan.rows.end_row[end])
    owner, point = core.from_pin if end % 2 == 0 else core.to or core.from_pin
    start = x + towards * plan.sizes.end_room_px
    left = start if towards > 0 else start - text.width_px
    sleeve = None
    if core.sleeve:
        begin = x + towards * DOT_ROOM_PX
        sleeve = (begin, begin + towards * (SLEEVE_ROOM_PX - 1))
    return Landing(
        owner=owner,
        point=point,
        at=Point(x, y),
        towards=towards,
        label=Label(
            rect=Rect(left, y - PILL_HEIGHT_PX / 2, text.width_px, PILL_HEIGHT_PX),
            code=text.code,
            where=text.where,
        ),
        sleeve=sleeve,
    )
