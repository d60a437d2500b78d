"""Writes a placed ladder as SVG. It knows shapes and classes, nothing electrical."""

from generator.drawings.drawing_css import on_css, state_css
from generator.drawings.ladder_layout import (
    Lead,
    PlacedBlade,
    PlacedBlock,
    PlacedJoint,
    PlacedLoad,
    Tap,
    place_ladder,
)
from generator.drawings.ladder_model import Ladder, Shape
from generator.drawings.ladder_sizes import LINE_PX, LOAD_RADIUS_PX, blade_words, load_words, pill_width
from generator.drawings.names import element_id, is_prefix, live_class, on_class, state_class
from generator.drawings.svg_templates import fill, number
from generator.drawings.terminal_model import DrawingInputError

# A drawing that is no wider than this is shrunk a little by a phone, and its words can still be read.
_SHRUNK_PX = 410


def needs_folding(ladder: Ladder) -> bool:
    """Tell whether a phone can show a ladder only if it is folded."""
    wide = place_ladder(ladder).width
    return wide > _SHRUNK_PX and place_ladder(ladder, folded=True).width < wide


def draw_ladder(ladder: Ladder, *, state: str | None = None, folded: bool = False) -> str:
    """Return the ladder as an `<svg>` element of its natural width, 390 px unless a rung needs more.

    With `folded` long rungs go on in a second line, for a phone; its ids are others, so that both can share a page.

    Raises:
        DrawingInputError: the prefix is no prefix, or a state is named that the ladder does not list.
    """
    _check(ladder, state)
    layout = place_ladder(ladder, folded=folded)
    prefix = ladder.prefix
    ids = f"{prefix}-folded" if folded else prefix
    return fill(
        "ladder.svg.j2",
        id=f"{ids}-ladder",
        css=prefix + (f" {state_class(state)}" if state is not None else ""),
        title=ladder.title,
        description=ladder.description,
        width=number(layout.width),
        height=number(layout.height),
        words=[{"text": text, "x": number(x), "y": number(y)} for text, x, y in layout.words],
        rails=[
            {
                "x": number(rail.x),
                "top": number(rail.top),
                "bottom": number(rail.bottom),
                "text": rail.text,
                "anchor": "middle" if len(rail.text) < 3 else "start" if left else "end",
                "text_x": number(rail.x if len(rail.text) < 3 else 8 if left else layout.width - 8),
                "live": live_class(prefix, rail.live_in),
            }
            for rail in layout.rails
            for left in (rail.x < layout.width / 2,)
        ],
        leads=[_lead(prefix, lead) for lead in layout.leads],
        taps=[_tap(prefix, tap) for tap in layout.taps],
        joints=[_joint(prefix, joint) for joint in layout.joints],
        blades=[_blade(ids, prefix, placed) for placed in layout.blades],
        loads=[_load(ids, prefix, placed) for placed in layout.loads],
        blocks=[_block(ids, prefix, placed) for placed in layout.blocks],
        radius=number(LOAD_RADIUS_PX),
    )


def ladder_css(ladder: Ladder) -> str:
    """Return the rules of one ladder: the class `state-<id>`, on it or around it, lights what is live and moves the contacts."""
    return state_css(ladder) + on_css(ladder.prefix, ladder.states, ladder.every_on_in())


def _check(ladder: Ladder, state: str | None) -> None:
    faults = []
    if not is_prefix(ladder.prefix):
        faults.append("the prefix must be a letter, then letters, digits or hyphens")
    named = {name for found in (*ladder.every_live_in(), *ladder.every_on_in()) for name in found}
    faults += [
        f"something is on in state {name!r}, which the ladder does not list"
        for name in sorted(named - set(ladder.states))
    ]
    if state is not None and state not in ladder.states:
        faults.append(f"it has no state {state!r}")
    if faults:
        raise DrawingInputError(ladder.prefix, tuple(faults))


def _lead(prefix: str, lead: Lead) -> dict[str, object]:
    across = lead.y1 == lead.y2
    d = f"M{number(lead.x1)} {number(lead.y1)}" + (f"H{number(lead.x2)}" if across else f"V{number(lead.y2)}")
    return {"d": d, "live": live_class(prefix, lead.live_in)}


def _tap(prefix: str, tap: Tap) -> dict[str, object]:
    return {"x": number(tap.x), "y": number(tap.y), "live": live_class(prefix, tap.live_in)}


def _joint(prefix: str, joint: PlacedJoint) -> dict[str, object]:
    width = pill_width(joint.text)
    return {
        "x": number(joint.x - width / 2),
        "y": number(joint.y - 8.5),
        "width": number(width),
        "text": joint.text,
        "middle": number(joint.x),
        "base": number(joint.y + 3.6),
        "live": live_class(prefix, joint.live_in),
    }


def _lines(lines: tuple[str, ...], first: float) -> list[dict[str, str]]:
    return [{"text": text, "y": number(first + LINE_PX * line)} for line, text in enumerate(lines)]


def _blade(ids: str, prefix: str, placed: PlacedBlade) -> dict[str, object]:
    blade = placed.blade
    x, y = placed.x, placed.y
    name, detail = blade_words(blade)
    middle = x + 42
    what = f"{blade.name}, {blade.detail}" if blade.detail else blade.name
    return {
        "id": element_id(ids, "blade", blade.id),
        "on": on_class(prefix, blade.on_in),
        "live": live_class(prefix, blade.lit_in),
        "title": what + (" (made at rest)" if blade.breaks else ""),
        "made": f"M{number(x + 32)} {number(y)}L{number(x + 53)} {number(y - 5 if blade.breaks else y)}",
        "parted": f"M{number(x + 32)} {number(y)}L{number(x + 50)} {number(y + (8 if blade.breaks else -10))}",
        "stop": f"M{number(x + 52)} {number(y)}v-9" if blade.breaks else "",
        "sign": blade.sign.value,
        "middle": number(middle),
        "left": number(x + 32),
        "right": number(x + 52),
        "y": number(y),
        "sign_y": number(y - 26),
        "names": _lines(name, y + 19),
        "details": _lines(detail, y + 19 + LINE_PX * len(name)),
    }


def _load(ids: str, prefix: str, placed: PlacedLoad) -> dict[str, object]:
    load = placed.load
    name, detail = load_words(load, first=placed.first)
    lines = len(name) + len(detail)
    top = placed.y - LOAD_RADIUS_PX - 6 - LINE_PX * (lines - 1)
    return {
        "id": element_id(ids, "load", load.id),
        "live": live_class(prefix, load.live_in),
        "title": f"{load.name}, {load.detail}" if load.detail else load.name,
        "shape": load.shape.value,
        "round": load.shape in (Shape.MOTOR, Shape.LAMP),
        "x": number(placed.x),
        "y": number(placed.y),
        "base": number(placed.y + 4.3),
        "names": _lines(name, top),
        "details": _lines(detail, top + LINE_PX * len(name)),
    }


def _block(ids: str, prefix: str, placed: PlacedBlock) -> dict[str, object]:
    middle = placed.top + placed.height / 2
    return {
        "id": element_id(ids, "block", placed.block.id),
        "live": live_class(prefix, placed.block.live_in),
        "title": placed.block.name,
        "x": number(placed.x),
        "y": number(placed.top),
        "width": number(placed.width),
        "height": number(placed.height),
        "name_x": number(placed.x + placed.width / 2),
        "names": _lines(placed.name, placed.top - 6 - LINE_PX * (len(placed.name) - 1)),
        "motor_x": number(placed.x + placed.width - 17),
        "motor_y": number(middle),
        "motor_base": number(middle + 4.3),
        "pins": [
            {
                "text": text,
                "x": number(placed.x + 4),
                "y": number(y + 3.6),
                "live": live_class(prefix, live_in),
            }
            for text, y, live_in in placed.pins
        ],
    }
