"""The pack of a property: all its pages as the parts of one, to print as one or to work from.

Knows which pieces it has; renders nothing of its own but the frame between them.
"""

from dataclasses import dataclass

from markupsafe import Markup

from generator.pages.pieces import SELECTOR, Pieces
from generator.pages.tabs import PACK, PACKED, TABS


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of the pack: an id that links may point to, its heading and its HTML."""

    id: str
    name: str
    heading: str
    html: Markup


def pack_pieces() -> frozenset[str]:
    """The names of all pieces in a pack."""
    return frozenset(name for _, _, names in PACKED for name in names)


def pack_html(pieces: Pieces, *, root: str | None) -> str:
    """The whole pack as the body of a page.

    Args:
        pieces: The property's pieces.
        root: The way to the site's root, ending in a slash; None for a pack that stands alone, which links nowhere.
    """
    parts = []
    for tab, heading, names in PACKED:
        made = [one for name in names if (one := pieces.piece(name, root=root, paper=True))]
        if made:
            html = Markup("\n").join(made)
            name = tab.folder.strip("/") or "glance"
            parts.append(Part(id=f"part-{name}", name=tab.name, heading=heading, html=html))
    selector = pieces.piece(SELECTOR, root=None, paper=True)
    return pieces.page("pack", tab=PACK, tabs=TABS, root=root, selector=selector, parts_of_pack=tuple(parts))
