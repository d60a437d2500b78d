"""The page of one property in the tenants' site: cautions, whom to ring, and a sheet for each thing that can be seen.

Every property has one. Without a proved override, or with a danger found, it gives no step. Nothing that an engineer
wrote comes here but the address, and the names and places of what a step moves.
"""

from collections.abc import Mapping

from generator.overrides.model import Overrides, Reason
from generator.pipeline import Examination
from generator.record.model import Record
from generator.views.property import gives_away
from generator.views.tenant_model import Firm, ShownSymptom, TenantPage
from generator.views.tenant_safety import never, numbers, repair_times, stop_in_short, stop_when
from generator.views.tenant_wording import ENGLISH, Phrase, Wording


def tenant_page(
    examination: Examination, overrides: Overrides | None, *, wording: Wording, firm: Firm, revision: str
) -> TenantPage:
    """The page of an examined record.

    Args:
        examination: Of the record.
        overrides: What was proved for it; None where nothing was.
        wording: The language that it is said in.
        firm: Whom to ring.
        revision: Of the record.
    """
    # Loaded where a page is made: most are kept of houses alike, and the page for nowhere has no sheet.
    from generator.views.tenant_sheet import SheetWords, reason_key

    withheld = gives_away(examination.findings)
    record = None if withheld else examination.record
    circuit = None if withheld else examination.circuit
    sheets: tuple[ShownSymptom, ...] = ()
    why: tuple[Phrase, ...] = (wording.say(reason_key(Reason.NOT_SOLVED)),)
    if examination.in_danger and not withheld:
        why = (wording.say(reason_key(Reason.DANGER)),)
    elif overrides is not None and record is not None and circuit is not None:
        words = SheetWords(
            circuit,
            overrides,
            wording,
            fuel=record.property.fuel,
            stop=stop_in_short(record, wording),
        )
        why = words.why((overrides.refused,)) if overrides.refused else ()
        if not overrides.refused:
            sheets = tuple(words.sheet(each) for each in overrides.instructions)
    return TenantPage(
        wording=wording,
        home=_home(record),
        firm=firm,
        stop=stop_when(record, circuit, wording),
        never=never(record, circuit, wording),
        numbers=numbers(record, wording),
        why=why,
        sheets=sheets,
        revision=revision,
        repair=repair_times(record, wording) if firm.right_to_repair else (),
    )


def nowhere_page(*, wording: Wording, firm: Firm) -> TenantPage:
    """What a wrong or old address leads to: whom to ring, whatever home it is."""
    return TenantPage(
        wording=wording,
        home="",
        firm=firm,
        stop=(),
        never=(),
        numbers=numbers(None, wording),
        why=(),
        sheets=(),
        revision="",
    )


def language_of(examination: Examination | None, standard: str, wordings: Mapping[str, Wording]) -> Wording:
    """The wording that a property's page is in: its own language, or the firm's; English where there is no such file."""
    record = examination.record if examination is not None else None
    own = record.property.language if record is not None else None
    return wordings.get(own or standard) or wordings.get(standard) or wordings[ENGLISH]


def _home(record: Record | None) -> str:
    return ", ".join(record.property.address.lines) if record else ""
