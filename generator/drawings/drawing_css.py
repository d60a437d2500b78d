"""The style sheets of the drawings: one for all of them, and the rules that light what is live in each state.

It knows classes and colours, nothing electrical.
"""

from generator.drawings.core_colours import DARK, LIGHT
from generator.drawings.names import live_class, state_class
from generator.drawings.sizes import CODE_PX, NAME_PX, PLACE_PX, WORDS_PX
from generator.drawings.svg_templates import fill
from generator.drawings.terminal_model import TerminalDrawing, every_live_in


def drawing_css() -> str:
    """Return the style sheet that every page with a drawing needs, for both themes and for print."""
    return fill(
        "drawing.css.j2",
        light=LIGHT,
        dark=DARK,
        codes=tuple(LIGHT.cores),
        sizes={"code": CODE_PX, "words": WORDS_PX, "name": NAME_PX, "place": PLACE_PX},
    )


def list_live_classes(drawing: TerminalDrawing, state: str) -> tuple[str, ...]:
    """Return the classes of all that is live in `state`, in the order of the drawing."""
    classes = (live_class(drawing.prefix, live_in) for live_in in every_live_in(drawing) if state in live_in)
    return tuple(dict.fromkeys(classes))


def state_css(drawing: TerminalDrawing) -> str:
    """Return the rules by which the class `state-<id>`, on the drawing or around it, lights what is live.

    The same rules serve every form of the drawing, since all forms share its prefix.
    """
    rules = [
        {
            "when": f".{state_class(state)}",
            "live": ", ".join(f".{css}" for css in list_live_classes(drawing, state)),
        }
        for state in drawing.states
    ]
    return fill("state.css.j2", css=drawing.prefix, rules=rules)
