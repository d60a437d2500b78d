"""All that a build makes of one record: its pages, its row for the pages of the stock, and its tenants' page.

What records alike have in common comes from what is kept. Knows neither frames nor folders.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from generator.kept.store import Kept, digest_of
from generator.overrides.model import Overrides, Reason
from generator.overrides.policy import Policy
from generator.pages.pieces import ForTenant, ShownPhoto
from generator.pages.property_pages import property_bodies
from generator.pages.shared_pages import (
    Patterns,
    SharedForTenant,
    SharedPages,
    TenantPatterns,
    Together,
    put_together,
    shared_for_tenant,
    shared_pages,
)
from generator.pipeline import Examination, Known, alike, examine_known
from generator.record.own_parts import REFERENCE, REVISION
from generator.rules.rules import ALL
from generator.site.circuit_key import circuit_key
from generator.site.page import SitePage
from generator.site.publish_tenants import Sheets
from generator.states.answer import Solution
from generator.views.property import PropertyView, property_view
from generator.views.stock_model import StockRow
from generator.views.stock_row import stock_row
from generator.views.worked_out import known_worked_out

RULES = {rule.name: rule for rule in ALL}


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeProperty:
    """What was made of one record.

    ``known`` is what was found in it, ``view`` what its pages show, ``sheet`` the tenants' page as a whole document.
    """

    known: Known
    view: PropertyView
    row: StockRow
    overrides: Overrides
    sheet: str
    pages: tuple[SitePage, ...]


def make_property(
    file: Path,
    *,
    today: date,
    kept: Kept,
    pictures: Callable[[str], bool],
    sheets: Sheets,
) -> MadeProperty:
    """Make all of one record.

    Args:
        file: The record.
        today: The day by which dates are judged.
        kept: Where results that records share are kept.
        pictures: Whether the picture of that name, as the record has it, can be shown.
        sheets: Makes the tenants' page.

    Raises:
        OSError: the file cannot be read.
    """
    try:
        return _made(file, today, kept, pictures, sheets)
    except Exception as error:
        error.add_note(f"record: {file}")
        raise


def _made(
    file: Path,
    today: date,
    kept: Kept,
    pictures: Callable[[str], bool],
    sheets: Sheets,
) -> MadeProperty:
    known = examine_known(file, today=today, kept=kept)
    examination, told = known.unsolved, known_worked_out(known, kept)
    view = property_view(examination, stem=file.stem, known=told)
    photos = tuple(
        ShownPhoto(url=f"pictures/{photo.file}", caption=photo.caption, on=photo.on)
        for photo in (view.record.photos if view.record else ())
        if pictures(photo.file)
    )
    overrides = _overrides(known, kept, sheets.firm.overrides.policy)
    if view.worked_out is not None:
        for_tenant: ForTenant | TenantPatterns
        if examination.in_danger:
            for_tenant = _for_tenant(examination, overrides, sheets, view.revision)
        else:
            for_tenant = _for_tenants(known, overrides, kept, sheets)
        patterns = _patterns(known, kept)
        made = put_together(view, patterns, rules=RULES, photos=photos, for_tenant=for_tenant)
    else:
        own = _for_tenant(examination, overrides, sheets, view.revision)
        shown = own if view.record is not None else None
        bodies = property_bodies(view, rules=RULES, photos=photos, for_tenant=shown)
        made = Together(bodies=bodies, sheet=own.page)
    return MadeProperty(
        known=known,
        view=view,
        row=stock_row(examination, told, stem=file.stem),
        overrides=overrides,
        sheet=made.sheet,
        pages=tuple(
            SitePage(
                url=f"p/{view.folder}/{body.tab.folder}",
                title=body.title,
                kind=body.tab.kind,
                body=body.html,
                description=body.description,
                head=body.head,
                printed_foot=_foot(view),
                links=body.links,
            )
            for body in made.bodies
        ),
    )


def _overrides(known: Known, kept: Kept, policy: Policy) -> Overrides:
    """What is proved for the tenant; searched once for all records alike, and nothing where danger is found."""
    if known.key and not known.unsolved.in_danger:
        # Found by the record, made by the circuit: that of a house is also one of houses recorded otherwise.
        circuit = kept.remembered("circuits", known.key, lambda: circuit_key(_solution(known, kept).circuit))
        key = digest_of(circuit, policy.vented_lever, policy.lever_hours)
        return kept.remembered("overrides", key, lambda: _searched(known, kept, policy))
    # The search is not loaded where what it found is kept.
    from generator.overrides.overrides import refused_for

    return refused_for(Reason.DANGER if known.unsolved.in_danger else Reason.NOT_SOLVED, policy)


def _searched(known: Known, kept: Kept, policy: Policy) -> Overrides:
    from generator.overrides.overrides import searched

    return searched(_solution(known, kept), policy)


def _solution(known: Known, kept: Kept) -> Solution:
    solution = alike(known, kept).solution
    if solution is None:
        raise AssertionError(known.loaded.file)
    return solution


def _for_tenant(examination: Examination, overrides: Overrides, sheets: Sheets, revision: str) -> ForTenant:
    """What is for the tenant of this one house."""
    # Loaded where there is danger only: for all other houses what is kept of those alike is enough.
    from generator.views.overrides import overrides_view

    return ForTenant(
        view=overrides_view(examination.circuit, overrides),
        page=sheets.html(examination, overrides, revision=revision),
    )


def _for_tenants(
    known: Known, overrides: Overrides, kept: Kept, sheets: Sheets
) -> TenantPatterns:
    """What is for the tenants of all houses like this one, none of them in danger, taken apart."""
    policy = sheets.firm.overrides.policy
    key = digest_of(known.key, policy.vented_lever, policy.lever_hours, sheets.key)
    held = kept.at_hand("tenant patterns", key)
    if isinstance(held, TenantPatterns):
        return held
    shared = kept.remembered("sheets", key, lambda: _shared_sheets(known, overrides, kept, sheets))
    return kept.hold("tenant patterns", key, TenantPatterns(shared))


def _shared_sheets(
    known: Known, overrides: Overrides, kept: Kept, sheets: Sheets
) -> SharedForTenant:
    examination = replace(alike(known, kept), findings=())
    own = _for_tenant(examination, overrides, sheets, REVISION)
    told = known_worked_out(known, kept)
    view = property_view(_with_empty_lists(examination), stem=REFERENCE, known=told)
    view = replace(view, record=examination.record)
    return shared_for_tenant(view, rules=RULES, shown=own.view, sheet=own.page)


def _patterns(known: Known, kept: Kept) -> Patterns:
    """The pages of all records like this one, taken apart."""
    held = kept.at_hand("patterns", known.key)
    if isinstance(held, Patterns):
        return held
    shared = kept.remembered("pages", known.key, lambda: _shared(known, kept))
    return kept.hold("patterns", known.key, Patterns(shared))


def _shared(known: Known, kept: Kept) -> SharedPages:
    examination = alike(known, kept)
    # The first page's view wants lists; what it made of these is withheld again before anything is rendered.
    view = property_view(_with_empty_lists(examination), stem=REFERENCE)
    return shared_pages(replace(view, record=examination.record), rules=RULES)


def _with_empty_lists(examination: Examination) -> Examination:
    record = examination.record
    if record is None:
        raise AssertionError(examination.loaded.file)
    empty = record.model_copy(update={"visits": [], "photos": [], "accepted": []})
    return replace(examination, loaded=replace(examination.loaded, record=empty))


def _foot(view: PropertyView) -> str:
    visit = view.glance.last_visit.isoformat() if view.glance and view.glance.last_visit else "none recorded"
    return f"{view.reference}, record revision {view.revision}, last visit {visit}"
