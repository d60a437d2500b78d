"""Writes a placed terminal drawing as SVG: ids, classes and titles, for style sheets to colour and to light.

It knows nothing electrical: what is live in a state came with the input and becomes a class.
"""

from dataclasses import dataclass

from generator.drawings.core_colours import split_code
from generator.drawings.geometry import (
    Heading,
    Landing,
    PlacedBox,
    PlacedCell,
    PlacedPin,
    PlacedStrip,
    Point,
    Rect,
    Route,
)
from generator.drawings.names import core_class, css_token, element_id, is_prefix, live_class, state_class
from generator.drawings.part import take_zone
from generator.drawings.paths import write_paths
from generator.drawings.sizes import (
    LABEL_PAD_PX,
    NAME_LINE_PX,
    PIN_PAD_PX,
    PLACE_LINE_PX,
    WORDS_LINE_PX,
    Form,
)
from generator.drawings.svg_templates import fill, number
from generator.drawings.terminal_layout import layout_part
from generator.drawings.terminal_model import DrawingInputError, TerminalDrawing, check_drawing
from generator.drawings.text_measure import is_cut

# From the middle of a line of text to its baseline, for the font sizes in use.
_BASELINE_PX = 3.8

# A pin with one core is this high; a higher one gets an edge, so that it shows which cores share it.
_ROW_PX = 16

_Values = dict[str, object]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Names:
    """`ids` begins the ids of this form of the drawing, `classes` the classes shared by all its forms."""

    ids: str
    classes: str


def draw_terminal_drawing(
    drawing: TerminalDrawing,
    *,
    form: Form,
    group: str | None = None,
    part: tuple[str, TerminalDrawing] | None = None,
    state: str | None = None,
    focusable: bool = True,
) -> str:
    """Return the drawing as an `<svg>` element, its colours left to `drawing_css` and `state_css`.

    Args:
        form: `desktop`: devices on both sides; `phone`: the strip at the left, devices at the right.
        group: a zone, to draw it alone; empty for the devices of no zone; None for all.
        part: instead of a zone any part of it, with the name that its ids begin with.
        state: the state shown until something around the drawing chooses another; None for none.
        focusable: let the keyboard reach every core. Such a drawing is a group of named parts; without, one image.

    Raises:
        DrawingInputError: the drawing contradicts itself.
    """
    faults = []
    if not is_prefix(drawing.prefix):
        faults.append("the prefix must be a letter, then letters, digits or hyphens")
    if state is not None and state not in drawing.states:
        faults.append(f"it has no state {state!r}")
    if faults:
        raise DrawingInputError(drawing.prefix, tuple(faults))
    check_drawing(drawing)
    name, shown = part or (group, drawing if group is None else take_zone(drawing, group))
    layout = layout_part(drawing, shown, form=form)
    tail = "" if name is None else f"-{css_token(name)}"
    names = _Names(ids=f"{drawing.prefix}-{form}{tail}", classes=drawing.prefix)
    headings = [box.heading for box in layout.boxes] + [strip.heading for strip in layout.strips]
    return fill(
        "terminal.svg.j2",
        id=names.ids,
        css=drawing.prefix + (f" {state_class(state)}" if state is not None else ""),
        focusable=focusable,
        title=drawing.title,
        description=drawing.description,
        width=number(layout.width),
        height=number(layout.height),
        strips=[_strip(names, strip, layout.label_px) for strip in layout.strips],
        boxes=[_box(names, box) for box in layout.boxes],
        cores=[_core(names, route) for route in layout.routes],
        headings=[_heading(head) for head in headings],
    )


def _rect(rect: Rect) -> _Values:
    return {
        "x": number(rect.x),
        "y": number(rect.y),
        "width": number(rect.width),
        "height": number(rect.height),
    }


def _marks(points: tuple[Point, ...]) -> list[_Values]:
    return [{"x": number(point.x), "y": number(point.y)} for point in points]


def _heading(head: Heading) -> _Values:
    lines = [
        {"css": "hb-name", "text": text, "y": number(head.y + NAME_LINE_PX * line)}
        for line, text in enumerate(head.name)
    ]
    below = NAME_LINE_PX * max(len(head.name) - 1, 0)
    lines += [
        {"css": "hb-place", "text": text, "y": number(head.y + below + PLACE_LINE_PX * line)}
        for line, text in enumerate(head.place, 1)
    ]
    return {"x": number(head.x), "anchor": head.anchor, "lines": lines}


def _strip(names: _Names, placed: PlacedStrip, label_px: float) -> _Values:
    strip = placed.strip
    return {
        "id": element_id(names.ids, "strip", strip.id),
        "title": _full_name(strip.name, strip.place),
        "cells": [_cell(names, strip.id, cell, label_px) for cell in placed.cells],
        "links": [
            {
                "id": element_id(names.ids, "link", strip.id, link.link.id),
                "name": link.link.id,
                "live": " ".join(
                    [
                        *(["hb-assumed"] if link.link.assumed else []),
                        live_class(names.classes, link.link.live_in),
                    ]
                ).strip(),
                "title": link.link.title,
                "x": number(link.points[0].x),
                "top": number(link.points[0].y),
                "bottom": number(link.points[-1].y),
                "dots": [number(point.y) for point in link.points],
            }
            for link in placed.links
        ],
        "gaps": _marks(placed.gaps),
    }


def _full_name(name: str, place: str) -> str:
    return ", ".join(part for part in (name, place) if part)


def _cell(names: _Names, strip: str, placed: PlacedCell, label_px: float) -> _Values:
    cell, rect = placed.cell, placed.rect
    first = rect.middle.y + _BASELINE_PX - WORDS_LINE_PX * (len(placed.words) - 1) / 2
    cut = placed.label != cell.label or is_cut(placed.words, cell.words)
    return _rect(rect) | {
        "id": element_id(names.ids, "cell", strip, cell.id),
        "live": live_class(names.classes, cell.live_in),
        "ref": cell.ref,
        "title": f"{cell.label} {cell.words}".strip() if cut else "",
        "label": placed.label,
        "label_x": number(rect.x + LABEL_PAD_PX),
        "label_y": number(rect.middle.y + _BASELINE_PX + 0.4),
        "words_x": number(rect.x + label_px),
        "lines": [
            {"text": text, "y": number(first + WORDS_LINE_PX * line)}
            for line, text in enumerate(placed.words)
        ],
    }


def _box(names: _Names, placed: PlacedBox) -> _Values:
    box, left = placed.box, placed.side == "left"
    pins = [
        _rect(pin.rect)
        | {
            "id": element_id(names.ids, "pin", box.id, pin.pin.id),
            "live": _pin_classes(names, pin),
            "ref": pin.pin.ref,
            "title": pin.pin.label if pin.label != pin.pin.label else "",
            "label": pin.label,
            "label_x": number(pin.rect.right - PIN_PAD_PX if left else pin.rect.x + PIN_PAD_PX),
            "label_y": number(pin.rect.middle.y + _BASELINE_PX),
            "anchor": "end" if left else "start",
        }
        for pin in placed.pins
    ]
    return _rect(placed.rect) | {
        "id": element_id(names.ids, "box", box.id),
        "role": box.role.value,
        "title": _full_name(box.name, box.place),
        "pins": pins,
        "gaps": _marks(placed.gaps),
    }


def _pin_classes(names: _Names, placed: PlacedPin) -> str:
    classes = ["hb-loose"] if placed.pin.loose else []
    classes += ["hb-tall"] if placed.rect.height > _ROW_PX else []
    return " ".join([*classes, live_class(names.classes, placed.pin.live_in)]).strip()


def _colour_classes(code: str) -> tuple[str, bool]:
    first, second = split_code(code)
    classes = f"hb-1-{first}" + (f" hb-2-{second}" if second else "")
    return classes, second is not None


def _core(names: _Names, route: Route) -> _Values:
    core = route.core
    colours, two = _colour_classes(core.code)
    sleeve, sleeve_two = _colour_classes(core.sleeve or "")
    classes = [f"core-{css_token(core.code.upper()) or 'unknown'}", colours]
    classes += ["hb-assumed"] if core.assumed else []
    classes += ["hb-spare"] if core.to is None else []
    classes += [core_class(names.classes, core.id)]
    paths = write_paths(route.points)
    stop = ""
    if core.to is None:
        tip = route.points[-1]
        stop = f"M{number(tip.x)} {number(tip.y - 4)}v8"
        if route.landings[0].loose:
            stop = f"M{number(route.points[0].x)} {number(tip.y - 4)}v8{stop}"
    return {
        "id": element_id(names.ids, "core", core.id),
        "name": core.id,
        "css": " ".join([*classes, live_class(names.classes, core.live_in)]).strip(),
        "title": core.title,
        "whole": paths.whole,
        "upright": paths.upright,
        "level": paths.level,
        "second": two,
        "stop": stop,
        "sleeve_css": sleeve,
        "sleeve_second": sleeve_two,
        "ends": [_landing(landing) for landing in route.landings],
    }


def _landing(landing: Landing) -> _Values:
    sleeve = ""
    if landing.sleeve is not None:
        begin, end = landing.sleeve
        sleeve = f"M{number(begin)} {number(landing.at.y)}H{number(end)}"
    return _rect(landing.label.rect) | {
        "text_x": number(landing.label.rect.middle.x),
        "text_y": number(landing.at.y + _BASELINE_PX - 0.2),
        "code": landing.label.code,
        "where": landing.label.where,
        "dot": not landing.loose,
        "dot_x": number(landing.at.x),
        "dot_y": number(landing.at.y),
        "sleeve": sleeve,
    }
