"""The style sheets of the drawings: one for all of them, and the rules that light what is live in each state.

It knows classes and colours, nothing electrical.
"""

from collections.abc import Iterable

from generator.drawings.call_map_model import CallMap
from generator.drawings.core_colours import DARK, LIGHT
from generator.drawings.ladder_model import Ladder
from generator.drawings.names import core_class, live_class, on_class, state_class
from generator.drawings.sizes import CODE_PX, NAME_PX, PLACE_PX, WORDS_PX
from generator.drawings.svg_templates import fill
from generator.drawings.terminal_model import TerminalDrawing


def drawing_css() -> str:
    """Return the style sheet that every page with a drawing needs, for both themes and for print."""
    return fill(
        "drawing.css.j2",
        light=LIGHT,
        dark=DARK,
        codes=tuple(LIGHT.cores),
        sizes={"code": CODE_PX, "words": WORDS_PX, "name": NAME_PX, "place": PLACE_PX},
    )


def list_live_classes(drawing: TerminalDrawing | CallMap | Ladder, state: str) -> tuple[str, ...]:
    """Return the classes of all that is live in `state`, in the order of the drawing."""
    classes = (live_class(drawing.prefix, live_in) for live_in in drawing.every_live_in() if state in live_in)
    return tuple(dict.fromkeys(classes))


def state_css(drawing: TerminalDrawing | CallMap | Ladder) -> str:
    """Return the rules of one drawing: the class `state-<id>`, on it or around it, lights what is live.

    With them come the rules that keep all of the core that is pointed at. The same rules serve every form of the
    drawing, since all forms share its prefix.
    """
    rules = [
        {
            "when": f".{state_class(state)}",
            "live": ", ".join(f".{css}" for css in list_live_classes(drawing, state)),
        }
        for state in drawing.states
    ]
    cores = drawing.cores if isinstance(drawing, TerminalDrawing) else ()
    classes = [core_class(drawing.prefix, core.id) for core in cores if core.to is not None]
    return fill("cores.css.j2", css=drawing.prefix, rules=rules, cores=classes)


def on_css(prefix: str, states: Iterable[str], every_on_in: Iterable[tuple[str, ...]]) -> str:
    """Return the rules that show, in each state, which contacts are made or where water moves.

    Args:
        prefix: of the drawing.
        states: those that the page can choose.
        every_on_in: the states of each part of the drawing.
    """
    found = list(every_on_in)
    rules = [
        {
            "when": f".{state_class(state)}",
            "on": ", ".join(
                dict.fromkeys(f".{on_class(prefix, on_in)}" for on_in in found if state in on_in)
            ),
        }
        for state in states
    ]
    return fill("on.css.j2", css=prefix, rules=rules)
