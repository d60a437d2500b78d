"""Line and neutral the wrong way round: at one device, or at the supply, where it turns every device round.

Knows roles of terminals and what they are joined to; no rule.
"""

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Role
from generator.circuit.model import TerminalPlace
from generator.rules.behaviour import conductors_at, live, with_role
from generator.rules.rule import Subject


def live_neutrals(subject: Subject) -> tuple[TerminalPlace, ...]:
    """The neutral terminals of devices that can be live. A relay's coil works either way round and is left out."""
    return tuple(place for place in _neutrals(subject) if live(subject, place.ref))


def reversed_at_supply(subject: Subject) -> bool:
    """Whether every wired neutral terminal, of two or more, is live: then the supply itself is turned round."""
    wired = [place for place in _neutrals(subject) if conductors_at(subject.circuit, place.ref)]
    return len(wired) > 1 and all(live(subject, place.ref) for place in wired)


def _neutrals(subject: Subject) -> list[TerminalPlace]:
    return [
        place
        for place in with_role(subject.circuit, Role.NEUTRAL)
        if place.device.duty not in (Duty.RELAY, Duty.SUPPLY)
    ]
