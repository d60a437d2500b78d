"""The five pages of a property as finished HTML bodies.

Knows templates and views; not where a site puts them or what frame stands around them.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from generator.drawings.call_map import draw_call_map
from generator.drawings.drawing_css import state_css
from generator.drawings.ladder_svg import draw_ladder, ladder_css
from generator.drawings.terminal_svg import draw_terminal_drawing
from generator.drawings.timeline_svg import draw_timeline
from generator.drawings.water_svg import draw_water, water_css
from generator.pages.environment import environment
from generator.views.odd_readings import odd_readings
from generator.views.property import PropertyView, Solved
from generator.views.readings import BAND_V
from generator.views.timelines import ShownTimeline


@dataclass(frozen=True, slots=True, kw_only=True)
class Tab:
    """One page of a property: its folder below the property's own, its short name and its heading."""

    folder: str
    name: str
    heading: str
    kind: str
    template: str


TABS = (
    Tab(
        folder="",
        name="At a glance",
        heading="At a glance: what is here, what is unusual, what is wrong",
        kind="property-glance",
        template="pages/glance.html.j2",
    ),
    Tab(
        folder="wiring/",
        name="Wiring",
        heading="Wiring: which conductor is in which terminal",
        kind="property-wiring",
        template="pages/wiring.html.j2",
    ),
    Tab(
        folder="calls/",
        name="How it calls for heat",
        heading="How each zone calls for heat",
        kind="property-calls",
        template="pages/calls.html.j2",
    ),
    Tab(
        folder="readings/",
        name="Readings",
        heading="Readings: what a meter shows at each terminal",
        kind="property-readings",
        template="pages/readings.html.j2",
    ),
    Tab(
        folder="record/",
        name="Record",
        heading="Record: visits, pictures and the record as written",
        kind="property-record",
        template="pages/record.html.j2",
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """One finished page: its address below the property's folder, plain title, and HTML."""

    tab: Tab
    title: str
    description: str
    html: str
    head: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownPhoto:
    """A picture as the record page shows it; ``url`` from the site's root."""

    url: str
    caption: str
    on: object


def property_bodies(
    view: PropertyView, *, rules: frozenset[str], photos: tuple[ShownPhoto, ...]
) -> tuple[Body, ...]:
    """Render the five pages.

    Args:
        view: what they show.
        rules: names of the rules that have a page to link to.
        photos: the pictures that exist.
    """
    return tuple(_body(view, tab, rules, photos) for tab in TABS)


def _body(view: PropertyView, tab: Tab, rules: frozenset[str], photos: tuple[ShownPhoto, ...]) -> Body:
    root = "../" * (2 + tab.folder.count("/"))
    drawings: Mapping[str, object] = {}
    head = ""
    if view.solved is not None and tab.kind == "property-wiring":
        drawings, head = _wiring_drawings(view.solved)
    if view.solved is not None and tab.kind == "property-calls":
        drawings, head = _call_drawings(view.solved)
    html = (
        environment()
        .get_template(tab.template)
        .render(
            view=view,
            tab=tab,
            tabs=TABS,
            root=root,
            rules=rules,
            photos=photos,
            drawings=drawings,
            band=tuple(f"{volts:g}" for volts in BAND_V),
            notes=odd_readings(view.solved.solution, view.solved.read) if view.solved else (),
        )
    )
    return Body(
        tab=tab,
        title=f"{tab.name}: {view.reference}, {view.address}",
        description=f"{tab.name} for {view.reference}, {view.address}.",
        html=html,
        head=head,
    )


def _wiring_drawings(solved: Solved) -> tuple[dict[str, object], str]:
    if solved.drawing is None:
        return {"desktop": "", "phone": ()}, ""
    first = solved.states[0].id
    phone = [
        {
            "words": words,
            "svg": Markup(draw_terminal_drawing(solved.drawing, form="phone", group=group, state=first)),  # noqa: S704
        }
        for group, words in solved.groups
    ]
    desktop = Markup(draw_terminal_drawing(solved.drawing, form="desktop", state=first))  # noqa: S704
    return {"desktop": desktop, "phone": phone}, f"<style>{state_css(solved.drawing)}</style>"


def _call_drawings(solved: Solved) -> tuple[dict[str, object], str]:
    """The pictures of how the house calls for heat; each empty where there is nothing to draw."""
    first = solved.states[0].id
    drawn: dict[str, object] = {"call_map": "", "ladder": "", "water": ""}
    css = []
    if solved.call_map is not None:
        drawn["call_map"] = Markup(draw_call_map(solved.call_map, state=first))  # noqa: S704
        css.append(state_css(solved.call_map))
    if solved.ladder is not None:
        drawn["ladder"] = Markup(draw_ladder(solved.ladder, state=first))  # noqa: S704
        css.append(ladder_css(solved.ladder))
    if solved.water is not None:
        drawn["water"] = Markup(draw_water(solved.water, state=first))  # noqa: S704
        css.append(water_css(solved.water))
    drawn["timelines"] = {shown.zone: _timeline(shown) for shown in solved.timelines}
    drawn["change_overs"] = [_timeline(shown) for shown in solved.change_overs]
    return drawn, f"<style>{''.join(css)}</style>" if css else ""


def _timeline(shown: ShownTimeline) -> dict[str, object]:
    return {"shown": shown, "svg": Markup(draw_timeline(shown.drawing))}  # noqa: S704
