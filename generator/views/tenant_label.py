"""What the label in a home says: its reference, where its two codes lead, and the three most useful lines.

It hangs where anybody in the house can read it, so it says only what the tenant's page may say. Knows no QR code.
"""

from dataclasses import dataclass
from textwrap import shorten

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit
from generator.pipeline import Examination
from generator.record.model import Record
from generator.views.property import gives_away
from generator.views.tenant_model import Firm
from generator.views.tenant_safety import GREAT_BRITAIN, NORTHERN_IRELAND
from generator.views.tenant_wording import Own, Phrase, Wording

_REACH = "tenant"
_LONGEST = 60
"""Characters of a place that fit on two lines of a label."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One label. ``tenants`` and ``engineers`` are whole addresses, empty where the firm has set none."""

    reference: str
    wording: Wording
    firm: str
    lines: tuple[Phrase, ...]
    tenants: str
    engineers: str


def label(
    examination: Examination,
    *,
    stem: str,
    wording: Wording,
    firm: Firm,
    tenants: str,
    engineers: str,
) -> Label:
    """The label of a property.

    Args:
        examination: Of its record, which need not be readable.
        stem: Its reference.
        wording: The language that it is said in.
        firm: Whom to ring.
        tenants: Address of the property's tenants' page, empty for none.
        engineers: Address of its engineers' page, empty for none.
    """
    withheld = gives_away(examination.findings)
    record = None if withheld else examination.record
    circuit = None if withheld else examination.circuit
    return Label(
        reference=stem,
        wording=wording,
        firm=firm.name,
        lines=(_danger(record, wording), _ring(firm, wording), _switch(circuit, wording)),
        tenants=tenants,
        engineers=engineers,
    )


def _danger(record: Record | None, wording: Wording) -> Phrase:
    if record is None:
        return wording.say("label.gas-unknown")
    if record.property.fuel == "lpg":
        return wording.say("label.gas-lpg")
    if record.property.fuel == "gas":
        northern = record.property.nation == "northern ireland"
        return wording.say("label.gas", phone=NORTHERN_IRELAND if northern else GREAT_BRITAIN)
    return wording.say("label.burning")


def _ring(firm: Firm, wording: Wording) -> Phrase:
    if not firm.phone:
        return wording.say("numbers.no-phone")
    return wording.say("label.ring", phone=firm.phone)


def _switch(circuit: Circuit | None, wording: Wording) -> Phrase:
    """Where the switch of the heating is, if it is within the tenant's reach; otherwise what to do first."""
    for device in circuit.with_duty(Duty.SUPPLY) if circuit is not None else ():
        if device.reach == _REACH and device.place and getattr(device.settings, "switched", True):
            return wording.say("label.switch", place=Own(shorten(device.place, _LONGEST, placeholder=" …")))
    return wording.say("label.first")
