"""The drawings of one property as they stand on its pages: finished SVG, and the style sheet that shows their states.

It must not know where on a page a drawing stands.
"""

from markupsafe import Markup

from generator.drawings.call_map import draw_call_map, draw_call_parts
from generator.drawings.drawing_css import state_css
from generator.drawings.ladder_svg import draw_ladder, ladder_css, needs_folding
from generator.drawings.terminal_forms import draw_forms
from generator.drawings.timeline_svg import draw_timeline
from generator.drawings.water_svg import draw_water, water_css
from generator.views.solved import Solved
from generator.views.timelines import ShownTimeline


def drawings_of(solved: Solved) -> dict[str, object]:
    """All drawings of a house, by the names that templates have for them."""
    return _terminal_drawings(solved) | _call_drawings(solved)


def css_of(solved: Solved, *, wiring: bool, calls: bool) -> str:
    """The style sheet of its wiring drawing, or of how it calls for heat, or of both."""
    css = []
    if wiring and solved.drawing is not None:
        css.append(state_css(solved.drawing))
    if calls:
        if solved.call_map is not None:
            css.append(state_css(solved.call_map))
        if solved.ladder is not None:
            css.append(ladder_css(solved.ladder))
        if solved.water is not None:
            css.append(water_css(solved.water))
    return "".join(css)


def _terminal_drawings(solved: Solved) -> dict[str, object]:
    if solved.drawing is None:
        return {"wiring": None}
    return {"wiring": draw_forms(solved.drawing, solved.groups, state=solved.states[0].id)}


def _call_drawings(solved: Solved) -> dict[str, object]:
    """The pictures of how the house calls for heat; each empty where there is nothing to draw."""
    first = solved.states[0].id
    return {
        "call_map": _svg(draw_call_map(solved.call_map, state=first)) if solved.call_map else "",
        "call_parts": [
            {"words": words, "svg": _svg(svg)}
            for words, svg in (draw_call_parts(solved.call_map, state=first) if solved.call_map else ())
        ],
        "ladder": _svg(draw_ladder(solved.ladder, state=first)) if solved.ladder else "",
        "folded_ladder": _svg(draw_ladder(solved.ladder, state=first, folded=True))
        if solved.ladder and needs_folding(solved.ladder)
        else "",
        "water": _svg(draw_water(solved.water, state=first)) if solved.water else "",
        "timelines": {shown.zone: _timeline(shown) for shown in solved.timelines},
        "change_overs": [_timeline(shown) for shown in solved.change_overs],
    }


def _timeline(shown: ShownTimeline) -> dict[str, object]:
    return {"shown": shown, "svg": _svg(draw_timeline(shown.drawing))}


def _svg(text: str) -> Markup:
    return Markup(text)  # noqa: S704  # from our templates, which escape
