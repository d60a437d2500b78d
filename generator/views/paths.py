"""A path of the circuit as a reader follows it at the box: point by point, by core and by contact.

Built from traces; knows nothing of pages.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.catalogue.logic import All, Any, Expr, Is, Not
from generator.catalogue.parts import Contact
from generator.circuit.model import Circuit
from generator.states.trace import Step
from generator.views.wording import Naming, lower


@dataclass(frozen=True, slots=True, kw_only=True)
class Hop:
    """One step of a path as shown.

    ``core`` is the colour code of a conductor, empty for a contact; ``contact`` the words of a contact,
    empty for a conductor. ``to`` is the point reached, ``to_ref`` its name in the circuit. ``mover`` is the
    input or driven part that moves the contact. ``inside`` is true where the point is inside a device.
    """

    core: str
    cable: str
    contact: str
    to: str
    to_ref: str
    mover: str
    assumed: bool
    link: bool
    inside: bool


def hops(circuit: Circuit, steps: Sequence[Step]) -> tuple[Hop, ...]:
    """The steps as shown."""
    naming = Naming(circuit)
    shown: list[Hop] = []
    for step in steps:
        conductor = step.conductor
        shown.append(
            Hop(
                core=conductor.core if conductor else "",
                cable=conductor.cable if conductor else "",
                contact=contact_words(circuit, step.contact) if step.contact else "",
                to=naming.point(step.to),
                to_ref=step.to,
                mover=_mover(step.contact.when) if step.contact else "",
                assumed=bool(conductor and conductor.assumed),
                link=bool(conductor and conductor.is_link),
                inside=naming.place(step.to) is None,
            )
        )
    return tuple(shown)


def contact_words(circuit: Circuit, contact: Contact) -> str:
    """``hall thermostat (calling for heat)``, ``hall valve end switch (made)``."""
    device = next(d for d in circuit.devices if d.name == contact.name.split(".", 1)[0])
    what = lower(device.words)
    if device.duty is Duty.SUPPLY:
        return f"{what} ({contact.words})"
    mover, wanted = moved_by(contact.when)
    for item in circuit.inputs:
        if item.name == mover:
            state = item.on_words if wanted else item.off_words
            thing = "" if item.words in ("thermostat", what) else f" {item.words}"
            return f"{what}{thing} ({state})"
    for part in circuit.driven:
        if part.name == mover:
            state = part.on_words if wanted else part.off_words
            thing = "" if part.words in what else f" {part.words}"
            return f"{what}{thing} ({state})"
    return f"{what} {contact.words}"


def _mover(expr: Expr) -> str:
    return moved_by(expr)[0]


def moved_by(expr: Expr) -> tuple[str, bool]:
    """The first input or part that an expression goes by, and the value it must have; ("", True) for none."""
    match expr:
        case Is(name):
            return name, True
        case Not(inner):
            name, wanted = moved_by(inner)
            return name, not wanted
        case All(parts) | Any(parts):
            for part in parts:
                found = moved_by(part)
                if found[0]:
                    return found
    return "", True
