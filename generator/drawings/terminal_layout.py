"""Places a terminal drawing: devices beside the wiring centre, one line a core, nothing on top of anything else.

It knows names and px only, nothing electrical: what stands in which order was decided in `terminal_plan`.
"""

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
from generator.drawings.links import place_links
from generator.drawings.numbering import GAP_ROWS
from generator.drawings.part import take_zone
from generator.drawings.rows import LEFT, NOWHERE, RIGHT
from generator.drawings.sizes import (
    DOT_ROOM_PX,
    LOOSE_ROOM_PX,
    MARGIN_PX,
    MOST_LABEL_PX,
    NAME_PX,
    PILL_HEIGHT_PX,
    PIN_PAD_PX,
    ROW_PX,
    SLEEVE_ROOM_PX,
    SPARE_TAIL_PX,
    WORDS_PX,
    EndText,
    Form,
    HeadText,
    write_ends,
)
from generator.drawings.terminal_model import Core, Strip, TerminalDrawing, check_drawing
from generator.drawings.terminal_plan import Plan, plan_drawing, wrap_words
from generator.drawings.text_measure import shorten


def layout_terminal_drawing(drawing: TerminalDrawing, *, form: Form, group: str | None = None) -> Layout:
    """Place a drawing, or with `group` the part of it that belongs to one zone (empty: to no zone).

    Raises:
        DrawingInputError: the drawing contradicts itself.
    """
    check_drawing(drawing)
    return layout_part(drawing, drawing if group is None else take_zone(drawing, group), form=form)


def layout_part(drawing: TerminalDrawing, shown: TerminalDrawing, *, form: Form) -> Layout:
    """Place a part of a checked drawing. Its labels are those of the whole, so that both say the same."""
    texts = write_ends(drawing, form)
    plan = plan_drawing(shown, form, texts)
    return Layout(
        width=plan.columns.width,
        height=plan.rows.height * ROW_PX + 2 * MARGIN_PX,
        label_px=plan.sizes.label_px,
        boxes=tuple(_place_box(plan, number) for number in range(len(shown.devices))),
        strips=_place_strips(plan),
        routes=tuple(_route(plan, number, texts) for number in range(len(shown.cores))),
        crossings=plan.crossings,
    )


# A core that is landed nowhere hangs this far off the device.
_LOOSE_PX = 4


def _y(row: float) -> float:
    return MARGIN_PX + row * ROW_PX


def _place_box(plan: Plan, number: int) -> PlacedBox:
    box, head, sizes = plan.drawing.devices[number], plan.box_heads[number], plan.sizes
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
    return Heading(
        name=head.name,
        place=head.place,
        x=rect.x if side == "left" else rect.right,
        y=rect.y - 5 - head.rise_px,
        anchor="start" if side == "left" else "end",
    )


def _place_strips(plan: Plan) -> tuple[PlacedStrip, ...]:
    found = []
    number = 0
    for strip, head in zip(plan.drawing.strips, plan.strip_heads, strict=True):
        cells = tuple(_place_cell(plan, strip, index, number + index) for index in range(len(strip.cells)))
        number += len(strip.cells)
        if not cells:
            continue
        # At the left edge of the sheet a name begins at the strip's edge; else it is centred.
        at_edge = plan.columns.far[LEFT] == plan.sizes.side_px
        middle = plan.columns.far[LEFT] + plan.sizes.strip_px / 2
        gaps = [Point(middle, cell.rect.y - GAP_ROWS * ROW_PX / 2) for cell in cells if cell.cell.gap_before]
        if strip.gap_after:
            gaps.append(Point(middle, cells[-1].rect.bottom + GAP_ROWS * ROW_PX / 2))
        top = cells[0].rect.y - (GAP_ROWS * ROW_PX if cells[0].cell.gap_before else 0)
        heading = Heading(
            name=head.name,
            place=head.place,
            x=plan.columns.far[LEFT] if at_edge else middle,
            y=top - 5 - head.rise_px,
            anchor="start" if at_edge else "middle",
        )
        found.append(
            PlacedStrip(
                strip=strip,
                heading=heading,
                cells=cells,
                links=place_links(strip, cells, plan.lanes),
                gaps=tuple(gaps),
            )
        )
    return tuple(found)


def _place_cell(plan: Plan, strip: Strip, index: int, number: int) -> PlacedCell:
    cell = strip.cells[index]
    height = plan.rows.cell_height[number] * ROW_PX
    rect = Rect(plan.columns.far[LEFT], _y(plan.rows.cell_top[number]), plan.sizes.strip_px, height)
    words = wrap_words(cell, height, plan.sizes.words_px)
    return PlacedCell(
        cell=cell,
        rect=rect,
        label=shorten(cell.label, MOST_LABEL_PX, NAME_PX, bold=True),
        words=words,
    )


def _route(plan: Plan, number: int, texts: dict[tuple[str, int], EndText]) -> Route:
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
        start = Point(first.at.x + _LOOSE_PX * first.towards, first.at.y) if first.loose else first.at
        return Route(core=core, points=(start, Point(tip, first.at.y)), landings=landings)
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


def _track_x(plan: Plan, side: int, track: int) -> float:
    boxes = bool(plan.rows.order[side])
    away = (plan.sizes.near_stub_px if boxes else plan.sizes.pitch_px) + plan.sizes.pitch_px * track
    return plan.columns.near[side] + (away if side == LEFT else -away)


def _landing(plan: Plan, core: Core, end: int, text: EndText) -> Landing:
    side = plan.rows.end_side[end]
    at_box = plan.numbered.wiring.box_of[end] != NOWHERE
    towards = 1 if (side == LEFT) == at_box else -1
    x = (plan.columns.near if at_box else plan.columns.far)[side]
    y = _y(plan.rows.end_row[end])
    owner, point = core.from_pin if end % 2 == 0 else core.to or core.from_pin
    loose = at_box and _is_loose(plan, plan.numbered.wiring.box_of[end], point)
    room = plan.sizes.end_room_px + (plan.sizes.sleeve_room_px if core.sleeve else 0)
    start = x + towards * (room + (LOOSE_ROOM_PX if loose else 0))
    left = start if towards > 0 else start - text.width_px
    sleeve = None
    if core.sleeve:
        begin = x + towards * DOT_ROOM_PX
        sleeve = (begin, begin + towards * (SLEEVE_ROOM_PX - 1))
    return Landing(
        owner=owner,
        point=point,
        loose=loose,
        at=Point(x, y),
        towards=towards,
        label=Label(
            rect=Rect(left, y - PILL_HEIGHT_PX / 2, text.width_px, PILL_HEIGHT_PX),
            code=text.code,
            where=text.where,
        ),
        sleeve=sleeve,
    )


def _is_loose(plan: Plan, box: int, point: str) -> bool:
    return any(placed.pin.loose for placed in plan.numbered.pins[box] if placed.pin.id == point)
