"""The pieces that the pages of a property are put together from, each rendered once however many pages have it.

Knows templates and views; not where a site puts a page or what frame stands around it.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from markupsafe import Markup

from generator.pages.environment import environment
from generator.rules.rule import Rule
from generator.views.property import PropertyView

if TYPE_CHECKING:
    from generator.views.overrides import OverridesView
    from generator.views.solved import Solved


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownPhoto:
    """A picture as the record page shows it; ``url`` from the site's root, or a whole address of its own."""

    url: str
    caption: str
    on: object


@dataclass(frozen=True, slots=True, kw_only=True)
class ForTenant:
    """What is proved for the tenant, and the tenant's own page as a whole document; empty where there is no site for tenants."""

    view: "OverridesView"
    page: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How many columns of readings fit on an upright A4 sheet: beside what lands at a terminal, and alone."""

    beside_landings: int
    alone: int


FIT = Fit(beside_landings=5, alone=8)

_UNSOLVED = frozenset({"glance", "not_solved", "overrides", "record", "record_text"})
"""Pieces that are there where nothing could be worked out."""

_LINKED = frozenset({"glance", "record"})
"""Pieces with links in them, which differ with the depth of the page."""

_DRAWN = frozenset({"calls", "wiring_drawings"})
"""Pieces with drawings in them, which take longest to make."""

SELECTOR = "selector"
"""The piece by which the state that the whole pack shows is chosen."""

_WITH_NOTES = "readings_notes"
"""The piece that says what may read oddly."""

OWN_PIECES = frozenset({"glance", "overrides", "record", "record_text"})
"""Pieces that show what each record has of its own beside houses built alike: its findings, visits, pictures, text, and
what is proved for its tenant, which findings of danger stop and the firm's settings bear on. Every
other piece is rendered once for all of these houses."""


_HEADING = re.compile(r"<(/?)h([2-5])(?=[\s>])")


def lowered(html: str) -> Markup:
    """The HTML with every heading one level lower. Text cannot be mistaken for one: it is escaped by now."""
    return Markup(_HEADING.sub(lambda found: f"<{found[1]}h{int(found[2]) + 1}", html))  # noqa: S704  # as it came


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedPieces:
    """Finished pieces of all houses that are built alike, own words marked; by name and whether they are for the pack.

    ``head`` is the style sheet of the pieces named in ``headed``.
    """

    made: Mapping[tuple[str, bool], str]
    head: str
    headed: frozenset[str]


class Pieces:
    """Makes the pieces of one property's pages when they are asked for."""

    def __init__(
        self,
        view: PropertyView,
        *,
        rules: Mapping[str, Rule],
        photos: tuple[ShownPhoto, ...],
        for_tenant: ForTenant | None = None,
        shared: SharedPieces | None = None,
    ) -> None:
        """Begin.

        Args:
            view: What the pages show.
            rules: The rules that findings may link to, by name.
            photos: The pictures that exist.
            for_tenant: What the piece on overrides shows; without it there is none.
            shared: Pieces that are finished already.
        """
        self._view = view
        self._rules = rules
        self._photos = photos
        self._for_tenant = for_tenant
        made = shared.made if shared is not None else {}
        self._made = {key: Markup(html) for key, html in made.items()}  # noqa: S704  # from our templates
        self._shared = shared
        self._shown: dict[str, object] | None = None
        self._drawn: dict[str, object] | None = None

    def piece(self, name: str, *, root: str | None, paper: bool = False) -> Markup:
        """One piece as finished HTML, its headings from the second level on.

        Args:
            name: As `Tab.pieces` has it.
            root: The way from the page to the site's root, ending in a slash; None where there is no site around it.
            paper: Whether it is for the pack, which has on paper all that the screen shows by and by; its headings are then
                a level lower.
        """
        if name in _LINKED:
            return self._render(name, root, paper)
        made = self._made.get((name, paper))
        if made is None:
            made = self._made[name, paper] = self._render(name, None, paper)
        return made

    def head(self, names: frozenset[str]) -> str:
        """The style sheet of the drawings in these pieces; empty where there is none."""
        if self._shared is not None and names == self._shared.headed:
            return self._shared.head
        solved = self._view.solved
        if solved is None or not names & _DRAWN:
            return ""
        from generator.pages.drawn import css_of

        css = css_of(solved, wiring="wiring_drawings" in names, calls="calls" in names)
        return f"<style>{css}</style>" if css else ""

    def page(self, template: str, **values: object) -> str:
        """A whole page from a template, with what all templates may ask for."""
        return environment().get_template(f"pages/{template}.html.j2").render(self._values() | values)

    def _render(self, name: str, root: str | None, paper: bool) -> Markup:
        template, _, target = name.partition("_to_")
        if self._view.solved is None and name not in _UNSOLVED:
            return Markup()
        if name == "overrides" and self._for_tenant is None:
            return Markup()
        html = self.page(
            f"{template}_tables" if target else template,
            root=root,
            paper=paper,
            earth=target == "earth",
            drawings=self._drawings() if name in _DRAWN else {},
            notes=self._notes() if name == _WITH_NOTES else (),
        )
        # In the pack every page is a part of one, below a heading of its own.
        return lowered(html) if paper else Markup(html)  # noqa: S704  # from our templates, which escape

    def _values(self) -> dict[str, object]:
        if self._shown is None:
            self._shown = {
                "view": self._view,
                "rules": self._rules,
                "photos": self._photos,
                "overrides": self._for_tenant.view if self._for_tenant else None,
                "tenant_html": self._for_tenant.page if self._for_tenant else "",
                "fit": FIT,
            }
            if self._view.solved is not None:
                self._shown |= _values_of(self._view.solved)
        return self._shown

    def _notes(self) -> tuple[str, ...]:
        # Most builds show no solution: houses built alike have the same pieces, and these are kept.
        from generator.views.odd_readings import odd_readings

        solved = self._view.solved
        return () if solved is None else odd_readings(solved.solution, solved.read)

    def _drawings(self) -> dict[str, object]:
        solved = self._view.solved
        if solved is None:
            return {}
        if self._drawn is None:
            # Most builds draw nothing: houses built alike have the same drawings, and these are kept.
            from generator.pages.drawn import drawings_of

            self._drawn = drawings_of(solved)
        return self._drawn


def _values_of(solved: "Solved") -> dict[str, object]:
    """What templates may ask for only where there is a solution."""
    from generator.views.readings import BAND_V
    from generator.views.shown_states import grouped

    return {
        "solved": solved,
        "groups": grouped(solved.states),
        "band": tuple(f"{volts:g}" for volts in BAND_V),
    }
