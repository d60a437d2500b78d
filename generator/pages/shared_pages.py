"""The pages of houses that are built alike, rendered once for all of them, and those of one house put together from these.

The result is what `property_bodies` gives for the one house; only the work differs. Not where a site puts pages.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from generator.pages.own_words import Pattern, filled, own_html, own_words
from generator.pages.pack import pack_pieces
from generator.pages.pieces import OWN_PIECES, ForTenant, Pieces, SharedPieces, ShownPhoto
from generator.pages.property_pages import Body, body_of
from generator.pages.tabs import PACK, TABS, Tab
from generator.record.own_parts import REFERENCE, REVISION, withheld
from generator.rules.rule import Rule
from generator.views.property import PropertyView, Solved


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedPages:
    """What houses built alike have in common: what was worked out, finished pages by kind, and pieces of the others."""

    solved: Solved
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
    solved = view.solved
    if solved is None:
        raise AssertionError(view.reference)
    view = _without_own_parts(view)
    pieces = Pieces(view, rules=rules, photos=())
    packed = pack_pieces()
    return SharedPages(
        solved=solved,
        bodies={tab.kind: body_of(view, pieces, tab) for tab in TABS if is_shared(tab)},
        pieces=SharedPieces(
            made={
                (name, True): str(pieces.piece(name, root=None, paper=True))
                for name in sorted(packed - OWN_PIECES)
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


class Patterns:
    """The finished pages of houses built alike, taken apart for filling."""

    def __init__(self, shared: SharedPages) -> None:
        self.shared = shared
        self.bodies = {
            kind: (body, Pattern(body.html), Pattern(body.head)) for kind, body in shared.bodies.items()
        }


def put_together(
    view: PropertyView,
    patterns: Patterns,
    *,
    rules: Mapping[str, Rule],
    photos: tuple[ShownPhoto, ...],
    for_tenant: ForTenant | None = None,
) -> tuple[Body, ...]:
    """All pages of one house.

    Args:
        view: Of the house, what was worked out of it taken from the shared pages.
        patterns: Of houses built like it.
        rules: The rules that findings may link to, by name.
        photos: The pictures that exist.
        for_tenant: What the page on overrides shows; without it the page is empty.
    """
    record = view.record
    if record is None:
        raise AssertionError(view.reference)
    words = own_words(record, address=view.address, revision=view.revision, file=view.file)
    html = own_html(words)
    pieces = Pieces(view, rules=rules, photos=photos, for_tenant=for_tenant, shared=patterns.shared.pieces)
    made = []
    for tab in TABS:
        known = patterns.bodies.get(tab.kind)
        if known is None:
            body = body_of(view, pieces, tab)
            made.append(replace(body, html=filled(body.html, html), head=filled(body.head, html)))
        else:
            body, pattern, head = known
            made.append(
                replace(
                    body,
                    title=filled(body.title, words),
                    description=filled(body.description, words),
                    html=pattern.filled(html),
                    head=head.filled(html),
                )
            )
    return tuple(made)
