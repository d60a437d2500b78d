"""Draws a timeline as SVG: a row of bars for each part, over an axis of seconds.

It knows words and seconds, nothing of what they stand for.
"""

import math

from generator.drawings.names import element_id, is_prefix
from generator.drawings.sizes import PLACE_PX, WORDS_PX
from generator.drawings.svg_templates import fill, number
from generator.drawings.terminal_model import DrawingInputError
from generator.drawings.text_measure import wrap
from generator.drawings.time_axis import TimeAxis, labelled, time_axis
from generator.drawings.timeline_model import Bar, Mark, TimelineDrawing, TimelineRow

WIDTH_PX = 390.0
_LEFT_PX, _RIGHT_PX = 126.0, 24.0
_TOP_PX = 30.0
_BAR_PX = 12.0
_LINE_PX = 12.0


def draw_timeline(drawing: TimelineDrawing) -> str:
    """Return the timeline as an `<svg>` element, 390 px wide.

    Raises:
        DrawingInputError: the prefix is no prefix, there are no rows, or a bar ends before it begins.
    """
    _check(drawing)
    moments = [drawing.end_s, *(mark.at_s for mark in drawing.marks)]
    moments += [
        time_s
        for row in drawing.rows
        for bar in row.bars
        for time_s in (bar.from_s, bar.to_s)
        if math.isfinite(time_s)
    ]
    axis = time_axis(moments, _LEFT_PX, WIDTH_PX - _LEFT_PX - _RIGHT_PX)
    rows, y = [], _TOP_PX
    for row in drawing.rows:
        placed, y = _row(drawing.prefix, row, axis, y)
        rows.append(placed)
    wanted = [*(mark.at_s for mark in drawing.marks), *sorted(set(moments))]
    return fill(
        "timeline.svg.j2",
        id=f"{drawing.prefix}-timeline",
        css=drawing.prefix,
        title=drawing.title,
        description=drawing.description,
        width=number(WIDTH_PX),
        height=number(y + 28),
        left=number(_LEFT_PX),
        end=number(WIDTH_PX - _RIGHT_PX),
        top=number(_TOP_PX - 4),
        base=number(y + 4),
        label_y=number(y + 18),
        rows=rows,
        breaks=[number(x) for x in axis.breaks],
        ticks=[{"x": number(x), "text": text} for x, text in labelled(axis, wanted, WIDTH_PX)],
        marks=[_mark(mark, axis) for mark in drawing.marks],
    )


def _check(drawing: TimelineDrawing) -> None:
    faults = []
    if not is_prefix(drawing.prefix):
        faults.append("the prefix must be a letter, then letters, digits or hyphens")
    if not drawing.rows:
        faults.append("it has no rows")
    faults += [
        f"a bar of {row.name!r} ends before it begins"
        for row in drawing.rows
        for bar in row.bars
        if bar.to_s < bar.from_s
    ]
    if faults:
        raise DrawingInputError(drawing.prefix, tuple(faults))


def _row(prefix: str, row: TimelineRow, axis: TimeAxis, y: float) -> tuple[dict[str, object], float]:
    name = wrap(row.name, _LEFT_PX - 16, WORDS_PX, lines=4)
    detail = wrap(row.detail, _LEFT_PX - 16, PLACE_PX, lines=4) if row.detail else ()
    height = max(_LINE_PX * (len(name) + len(detail)) + 8, _BAR_PX + 10)
    middle = y + height / 2
    first = middle - _LINE_PX * (len(name) + len(detail)) / 2 + 9.5
    lines = [
        {"text": text, "css": css, "y": number(first + _LINE_PX * index)}
        for index, (text, css) in enumerate(
            [*((text, "hb-words") for text in name), *((text, "hb-place") for text in detail)]
        )
    ]
    return {
        "id": element_id(prefix, "row", row.id),
        "title": f"{row.name}, {row.detail}" if row.detail else row.name,
        "lines": lines,
        "line_y": number(middle),
        "bars": [_bar(bar, axis, middle) for bar in row.bars],
    }, y + height


def _bar(bar: Bar, axis: TimeAxis, middle: float) -> dict[str, str]:
    left, right = axis.at(bar.from_s), axis.at(bar.to_s)
    return {
        "kind": bar.kind.value,
        "x": number(left),
        "y": number(middle - _BAR_PX / 2),
        "width": number(max(right - left, 1.5)),
        "height": number(_BAR_PX),
    }


def _mark(mark: Mark, axis: TimeAxis) -> dict[str, str]:
    x = axis.at(mark.at_s)
    late = x > (_LEFT_PX + WIDTH_PX) / 2 + 40
    return {
        "x": number(x),
        "words": mark.words,
        "anchor": "end" if late else "start",
        "shift": "4" if late else "-4",
    }
