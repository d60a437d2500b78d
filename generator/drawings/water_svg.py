"""Writes a placed water-side drawing as SVG. It knows shapes and classes, nothing of what moves the water."""

from generator.drawings.drawing_css import on_css
from generator.drawings.names import element_id, is_prefix, on_class, state_class
from generator.drawings.sizes import NAME_PX, PLACE_PX
from generator.drawings.svg_templates import fill, number
from generator.drawings.terminal_model import DrawingInputError
from generator.drawings.text_measure import shorten
from generator.drawings.water_layout import (
    FLOW_PX,
    LINE_PX,
    RETURN_PX,
    WIDTH_PX,
    WORDS_LEFT_PX,
    Arrow,
    Pipe,
    PlacedBox,
    PlacedPump,
    PlacedRow,
    PlacedValve,
    place_water,
    words_of,
)
from generator.drawings.water_model import WaterDrawing

_HEADS = {
    "right": "l-7 -4.5v9z",
    "left": "l7 -4.5v9z",
    "down": "l-4.5 -7h9z",
    "up": "l-4.5 7h9z",
}
_TURNS = {"right": 0, "down": 90, "up": 270}
_ABOVE_CIRCUIT_PX = 120.0
"""How wide the name of a circuit's own pump may be."""
_BESIDE_RISER_PX = RETURN_PX - FLOW_PX - 30
"""And that of a pump on the flow or the return of all circuits."""


def draw_water(drawing: WaterDrawing, *, state: str | None = None) -> str:
    """Return the water side as an `<svg>` element, 390 px wide.

    Raises:
        DrawingInputError: the prefix is no prefix, or a state is named that the drawing does not list.
    """
    _check(drawing, state)
    layout = place_water(drawing)
    prefix = drawing.prefix
    return fill(
        "water.svg.j2",
        id=f"{prefix}-water",
        css=prefix + (f" {state_class(state)}" if state is not None else ""),
        title=drawing.title,
        description=drawing.description,
        width=number(WIDTH_PX),
        height=number(layout.height),
        pipes=[_pipe(prefix, pipe) for pipe in layout.pipes],
        arrows=[_arrow(prefix, arrow) for arrow in layout.arrows if arrow.on_in],
        dots=[{"x": number(x), "y": number(y)} for x, y in layout.dots],
        pumps=[_pump(prefix, pump) for pump in layout.pumps],
        valves=[_valve(prefix, valve) for valve in layout.valves],
        rows=[_row(prefix, row) for row in layout.rows],
        boxes=[_box(prefix, box) for box in layout.boxes],
    )


def water_css(drawing: WaterDrawing) -> str:
    """Return the rules of one drawing: the class `state-<id>`, on it or around it, shows where water moves."""
    layout = place_water(drawing)
    every = [pipe.on_in for pipe in layout.pipes] + [arrow.on_in for arrow in layout.arrows]
    return on_css(drawing.prefix, drawing.states, [*drawing.every_on_in(), *every])


def _check(drawing: WaterDrawing, state: str | None) -> None:
    faults = []
    if not is_prefix(drawing.prefix):
        faults.append("the prefix must be a letter, then letters, digits or hyphens")
    named = {name for found in drawing.every_on_in() for name in found}
    faults += [
        f"something is on in state {name!r}, which the drawing does not list"
        for name in sorted(named - set(drawing.states))
    ]
    if state is not None and state not in drawing.states:
        faults.append(f"it has no state {state!r}")
    if faults:
        raise DrawingInputError(drawing.prefix, tuple(faults))


def _pipe(prefix: str, pipe: Pipe) -> dict[str, object]:
    corners = [f"{number(x)} {number(y)}" for x, y in pipe.corners]
    return {"d": f"M{'L'.join(corners)}", "back": pipe.back, "on": on_class(prefix, pipe.on_in)}


def _arrow(prefix: str, arrow: Arrow) -> dict[str, object]:
    return {
        "d": f"M{number(arrow.x)} {number(arrow.y)}{_HEADS[arrow.way]}",
        "on": on_class(prefix, arrow.on_in),
    }


def _pump(prefix: str, placed: PlacedPump) -> dict[str, object]:
    # On a riser nothing else stands at its height between the two.
    room = _BESIDE_RISER_PX if placed.way in ("down", "up") else _ABOVE_CIRCUIT_PX
    return {
        "id": element_id(prefix, "pump", placed.id),
        "on": on_class(prefix, placed.pump.on_in),
        "title": placed.pump.name,
        "name": shorten(placed.pump.name, room, PLACE_PX),
        "x": number(placed.x),
        "y": number(placed.y),
        "turn": _TURNS[placed.way],
        "words_x": number(placed.words_x),
        "words_y": number(placed.words_y),
        "anchor": placed.anchor,
    }


def _valve(prefix: str, placed: PlacedValve) -> dict[str, object]:
    return {
        "id": element_id(prefix, "valve", placed.id),
        "title": placed.name,
        "on": on_class(prefix, placed.on_in),
        "three": placed.below_in is not None,
        "below": on_class(prefix, placed.below_in or ()),
        "x": number(placed.x),
        "y": number(placed.y),
    }


def _row(prefix: str, placed: PlacedRow) -> dict[str, object]:
    row = placed.row
    name, beside, below = words_of(row)
    return {
        "id": element_id(prefix, "row", placed.loop, row.id),
        "on": on_class(prefix, row.moves_in),
        "title": f"{row.name}, {row.detail}",
        "name": name,
        "detail": beside,
        "below": [
            {"words": words, "y": number(placed.y - 31 - LINE_PX * (len(below) - 1 - at))}
            for at, words in enumerate(below)
        ],
        "feeds": row.feeds.value,
        "x": number(placed.x),
        "y": number(placed.y),
        "words_x": number(WORDS_LEFT_PX),
        "words_y": number(placed.y - 31 - LINE_PX * len(below) + (1 if below else 0)),
        "gravity": row.gravity,
        "check": row.check_valve,
        "blending": row.blending,
        "note": row.note,
        "note_on": on_class(prefix, row.note_in),
        "note_y": number(placed.y + 31),
        "end": number(WIDTH_PX - 36),
    }


def _box(prefix: str, placed: PlacedBox) -> dict[str, object]:
    room = placed.width - 8 if placed.kind != "bypass" else 180.0
    return {
        "id": element_id(prefix, placed.kind, placed.id),
        "kind": placed.kind,
        "heats": placed.heats,
        "on": on_class(prefix, placed.on_in),
        "title": placed.words,
        "words": shorten(placed.words, room, NAME_PX if placed.kind == "source" else PLACE_PX, bold=True),
        "x": number(placed.x),
        "y": number(placed.y),
        "width": number(placed.width),
        "height": number(placed.height),
        "middle": number(placed.x + placed.width / 2),
        "centre": number(placed.y + placed.height / 2),
    }
