"""The pages of a property as finished HTML bodies.

Knows which pieces are on which page; not where a site puts them or what frame stands around them.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from generator.pages.links import Links
from generator.pages.pack import pack_html, pack_pieces
from generator.pages.pieces import ForTenant, Pieces, ShownPhoto
from generator.pages.tabs import PACK, TABS, Tab
from generator.rules.rule import Rule
from generator.views.property import PropertyView


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """One finished page: its address below the property's folder, plain title, HTML, and its links where they are known."""

    tab: Tab
    title: str
    description: str
    html: str
    head: str
    links: Links | None = None


def property_bodies(
    view: PropertyView,
    *,
    rules: Mapping[str, Rule],
    photos: tuple[ShownPhoto, ...],
    for_tenant: ForTenant | None = None,
) -> tuple[Body, ...]:
    """Render all pages of a property.

    Args:
        view: What they show.
        rules: The rules that have a page to link to, by name.
        photos: The pictures that exist.
        for_tenant: What the page on overrides shows; without it the page is empty.
    """
    pieces = Pieces(view, rules=rules, photos=photos, for_tenant=for_tenant)
    return tuple(body_of(view, pieces, tab) for tab in TABS)


def body_of(view: PropertyView, pieces: Pieces, tab: Tab) -> Body:
    """One page of a property, from its pieces."""
    root = "../" * (2 + tab.folder.count("/"))
    if tab is PACK:
        html, names = pack_html(pieces, root=root), pack_pieces()
    else:
        html, names = _page_html(view, pieces, tab, root), frozenset(tab.pieces)
    return Body(
        tab=tab,
        title=f"{tab.name}: {view.reference}, {view.address}",
        description=f"{tab.name} for {view.reference}, {view.address}.",
        html=html,
        head=pieces.head(names),
    )


def _page_html(view: PropertyView, pieces: Pieces, tab: Tab, root: str) -> str:
    made = [pieces.piece(name, root=root) for name in tab.pieces]
    if view.solved is None and tab.chooses:
        made = [pieces.piece("not_solved", root=root)]
    return pieces.page("property", tab=tab, tabs=TABS, root=root, pieces=made)
