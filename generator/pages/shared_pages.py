"""The pages of houses that are built alike, rendered once for all of them, and those of one house put together from these.

The result is what `property_bodies` gives for the one house; only the work differs. Not where a site puts pages.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from markupsafe import escape

from generator.pages.links import Links, links_of
from generator.pages.own_words import Pattern, filled, own_html, own_words
from generator.pages.pack import pack_pieces
from generator.pages.pieces import OWN_PIECES, SELECTOR, ForTenant, Pieces, SharedPieces, ShownPhoto
from generator.pages.property_pages import Body, body_of
from generator.pages.tabs import OVERRIDES, PACK, TABS, Tab
from generator.record.own_parts import REFERENCE, REVISION, SHEET, withheld
from generator.rules.rule import Rule
from generator.views.overrides import OverridesView
from generator.views.property import PropertyView


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedPages:
    """What houses built alike have in common: finished pages by kind, and pieces of the others."""

    bodies: Mapping[str, Body]
    pieces: SharedPieces


def is_shared(tab: Tab) -> bool:
    """Whether a whole page is the same for all houses built alike, but for marks."""
    return tab is not PACK and not OWN_PIECES & set(tab.pieces)


def shared_pages(view: PropertyView, *, rules: Mapping[str, Rule]) -> SharedPages:
    """Render what is shared.

    Args:
        view: Of any of the houses, its own parts marked or withheld.
        rules: The rules that findings may link to, by name.
    """
    if view.solved is None:
        raise AssertionError(view.reference)
    view = _without_own_parts(view)
    pieces = Pieces(view, rules=rules, photos=())
    packed = pack_pieces()
    return SharedPages(
        bodies={tab.kind: body_of(view, pieces, tab) for tab in TABS if is_shared(tab)},
        pieces=SharedPieces(
            made={
                (name, True): str(pieces.piece(name, root=None, paper=True))
                for name in sorted({*packed, SELECTOR} - OWN_PIECES)
            },
            head=pieces.head(packed),
            headed=packed,
        ),
    )


def _without_own_parts(view: PropertyView) -> PropertyView:
    """The view with everything withheld that the marks of its record do not cover."""
    glance = view.glance
    return replace(
        view,
        reference=REFERENCE,
        revision=REVISION,
        findings=withheld(),
        text=withheld(),
        glance=None if glance is None else replace(glance, findings=withheld(), last_visit=withheld()),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedForTenant:
    """What houses built alike have in common of what is for their tenants, in a house without danger.

    ``sheet`` is the tenants' page as a whole document, ``body`` the page that shows it to the engineer, ``piece`` its part
    of the pack.
    """

    sheet: str
    body: Body
    piece: str


def shared_for_tenant(
    view: PropertyView, *, rules: Mapping[str, Rule], shown: OverridesView, sheet: str
) -> SharedForTenant:
    """Render what is shared for tenants.

    Args:
        view: Of any of the houses, its own parts marked or withheld.
        rules: The rules that findings may link to, by name.
        shown: What is proved for the tenant.
        sheet: The tenants' page, own parts marked.
    """
    view = _without_own_parts(view)
    pieces = Pieces(view, rules=rules, photos=(), for_tenant=ForTenant(view=shown, page=SHEET))
    return SharedForTenant(
        sheet=sheet,
        body=body_of(view, pieces, OVERRIDES),
        piece=str(pieces.piece("overrides", root=None, paper=True)),
    )


class BodyPattern:
    """One finished page of houses built alike, taken apart for filling."""

    def __init__(self, body: Body) -> None:
        self.body = body
        self._html = Pattern(body.html)
        self._head = Pattern(body.head)
        links = links_of(body.html.encode())
        # What is put in has its quotes escaped: it can complete a link, and bring none along.
        self._wanted = tuple(map(Pattern, links.wanted))
        self._places = tuple(map(Pattern, links.places))

    def filled(self, words: Mapping[str, str], html: Mapping[str, str]) -> Body:
        """The page of one house.

        Args:
            words: What stands for each mark in plain text.
            html: What stands for it in HTML.
        """
        body = self.body
        return replace(
            body,
            title=filled(body.title, words),
            description=filled(body.description, words),
            html=self._html.filled(html),
            head=self._head.filled(html),
            links=Links(
                tuple(link.filled(words) for link in self._wanted),
                frozenset(place.filled(words) for place in self._places),
            ),
        )


class TenantPatterns:
    """What is for the tenants of houses built alike, taken apart for filling."""

    def __init__(self, shared: SharedForTenant) -> None:
        self.sheet = Pattern(shared.sheet)
        self.body = BodyPattern(shared.body)
        self.made = {("overrides", True): shared.piece}


class Patterns:
    """The finished pages of houses built alike, taken apart for filling."""

    def __init__(self, shared: SharedPages) -> None:
        self.shared = shared
        self.bodies = {kind: BodyPattern(body) for kind, body in shared.bodies.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """All pages of one house, and its tenants' page as a whole document."""

    bodies: tuple[Body, ...]
    sheet: str


def put_together(
    view: PropertyView,
    patterns: Patterns,
    *,
    rules: Mapping[str, Rule],
    photos: tuple[ShownPhoto, ...],
    for_tenant: ForTenant | TenantPatterns | None = None,
) -> Together:
    """All pages of one house.

    Args:
        view: Of the house, what was worked out of it taken from the shared pages.
        patterns: Of houses built like it.
        rules: The rules that findings may link to, by name.
        photos: The pictures that exist.
        for_tenant: What the page on overrides shows, of this house or of all alike; without it the page is empty.
    """
    record = view.record
    if record is None:
        raise AssertionError(view.reference)
    words = own_words(record, address=view.address, revision=view.revision, file=view.file)
    html = own_html(words)
    shared, bodies, sheet = patterns.shared.pieces, patterns.bodies, ""
    if isinstance(for_tenant, TenantPatterns):
        sheet = for_tenant.sheet.filled(html)
        html[SHEET] = str(escape(sheet))
        shared = replace(shared, made={**shared.made, **for_tenant.made})
        bodies = {**bodies, OVERRIDES.kind: for_tenant.body}
        for_tenant = None
    elif for_tenant is not None:
        sheet = for_tenant.page
    pieces = Pieces(view, rules=rules, photos=photos, for_tenant=for_tenant, shared=shared)
    made = []
    for tab in TABS:
        known = bodies.get(tab.kind)
        if known is None:
            body = body_of(view, pieces, tab)
            made.append(replace(body, html=filled(body.html, html), head=filled(body.head, html)))
        else:
            made.append(known.filled(words, html))
    return Together(bodies=tuple(made), sheet=sheet)
