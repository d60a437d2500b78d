"""Decides a terminal drawing before any px: how large things are, in what order they stand, which track each core takes.

It knows names, rows and tracks only, nothing electrical.
"""

from dataclasses import dataclass, replace
from typing import NamedTuple

from generator.drawings.channel import assign_tracks, count_crossings, order_tracks
from generator.drawings.links import assign_lanes
from generator.drawings.numbering import Numbered, number_drawing
from generator.drawings.placement import place_devices
from generator.drawings.rows import LEFT, NOWHERE, PITCH, RIGHT, Rows, lay_rows
from generator.drawings.sizes import (
    ROW_PX,
    WORDS_LINE_PX,
    WORDS_PX,
    EndText,
    Form,
    HeadText,
    Sizes,
    fit_phone,
    fit_sizes,
    strip_head_px,
    write_head,
)
from generator.drawings.terminal_model import Cell, TerminalDrawing
from generator.drawings.text_measure import is_cut, wrap

# Over a device; over the first wiring centre; between two wiring centres that stand above each other.
_BOX_LEAD_PX = 6
_FIRST_LEAD_PX = 4
_STRIP_LEAD_PX = 20

# A terminal is made no higher than this for the sake of its words.
_MOST_LINES = 8


class Columns(NamedTuple):
    """The x of everything; `near` and `far` are per side the edges that devices and strips turn to the channel."""

    near: tuple[float, float]
    far: tuple[float, float]
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """All that was decided; `tracks` gives per side the track of each core that has one there."""

    drawing: TerminalDrawing
    sizes: Sizes
    lanes: dict[tuple[str, str], int]
    box_heads: tuple[HeadText, ...]
    strip_heads: tuple[HeadText, ...]
    numbered: Numbered
    rows: Rows
    tracks: tuple[dict[int, int], dict[int, int]]
    columns: Columns
    crossings: int


def plan_drawing(drawing: TerminalDrawing, form: Form, texts: dict[tuple[str, int], EndText]) -> Plan:
    """Plan a drawing; where a terminal's words do not fit, plan it again with that terminal made higher."""
    lanes = assign_lanes(drawing.strips)
    sizes = fit_sizes(drawing, form, texts, lanes=max((lane + 1 for lane in lanes.values()), default=0))
    box_heads = tuple(
        write_head(box.name, box.place, sizes.box_px + sizes.near_stub_px - 4, lead_px=_BOX_LEAD_PX)
        for box in drawing.devices
    )
    strip_heads = tuple(
        write_head(
            strip.name,
            strip.place,
            strip_head_px(sizes, form),
            lead_px=_STRIP_LEAD_PX if number else _FIRST_LEAD_PX,
        )
        for number, strip in enumerate(drawing.strips)
    )
    numbered = number_drawing(
        drawing,
        tuple(head.rows for head in box_heads),
        tuple(head.rows for head in strip_heads),
        one_sided=form == "phone",
    )
    rows = place_devices(numbered.wiring, numbered.hints)
    plan = _route(drawing, form, sizes, lanes, box_heads, strip_heads, numbered, rows)
    # Higher terminals may need more tracks, and those take width from the words; heights only grow, so this ends.
    while (least := _rows_for_words(plan)) != numbered.wiring.cell_least:
        numbered = replace(numbered, wiring=replace(numbered.wiring, cell_least=least))
        # The order of the devices was searched for once; it stays.
        rows = lay_rows(numbered.wiring, *rows.order)
        plan = _route(drawing, form, sizes, lanes, box_heads, strip_heads, numbered, rows)
    return plan


def _route(
    drawing: TerminalDrawing,
    form: Form,
    sizes: Sizes,
    lanes: dict[tuple[str, str], int],
    box_heads: tuple[HeadText, ...],
    strip_heads: tuple[HeadText, ...],
    numbered: Numbered,
    rows: Rows,
) -> Plan:
    tracks: list[dict[int, int]] = []
    crossings = 0
    for nets, cores in zip(rows.nets, rows.net_core, strict=True):
        order = order_tracks(nets)
        crossings += count_crossings(nets, order)
        tracks.append(dict(zip(cores, assign_tracks(nets, order), strict=True)))
    counts = [max(side.values(), default=-1) + 1 for side in tracks]
    if form == "phone":
        sizes = fit_phone(sizes, counts[RIGHT])
    return Plan(
        drawing=drawing,
        sizes=sizes,
        lanes=lanes,
        box_heads=box_heads,
        strip_heads=strip_heads,
        numbered=numbered,
        rows=rows,
        tracks=(tracks[LEFT], tracks[RIGHT]),
        columns=_place_columns(sizes, rows, counts),
        crossings=crossings,
    )


def wrap_words(cell: Cell, height_px: float, width_px: float) -> tuple[str, ...]:
    """Return the lines of a terminal's words in a cell of this height; none if it has no words."""
    if not cell.words:
        return ()
    lines = max(1, int(height_px - 2) // WORDS_LINE_PX)
    return wrap(cell.words, width_px, WORDS_PX, lines=lines)


def _rows_for_words(plan: Plan) -> tuple[int, ...]:
    """Return the least rows of each terminal at which its words are not cut, and the most where they are cut in any case."""
    cells = [cell for strip in plan.drawing.strips for cell in strip.cells]
    found = []
    for cell, height, before in zip(
        cells, plan.rows.cell_height, plan.numbered.wiring.cell_least, strict=True
    ):
        least = max(before, PITCH * _MOST_LINES)
        for rows in range(height, PITCH * _MOST_LINES + 1, PITCH):
            words = wrap_words(cell, rows * ROW_PX, plan.sizes.words_px)
            if not is_cut(words, cell.words):
                least = rows if rows > height else before
                break
        found.append(least)
    return tuple(found)


def _place_columns(sizes: Sizes, rows: Rows, counts: list[int]) -> Columns:
    """Turn the numbers of tracks into the x of every column; a side without anything takes no room."""
    x = float(sizes.side_px)
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
    return Columns(near=(near_left, near_right), far=(far_left, far_right), width=x + sizes.side_px)


def _channel_width(sizes: Sizes, tracks: int, *, boxes: bool) -> float:
    near = sizes.near_stub_px if boxes else sizes.pitch_px
    return near + sizes.pitch_px * max(tracks - 1, 0) + sizes.far_stub_px
