"""The sides of the end switches of motorised valves, found by their contacts.

Knows parts and terminals; nothing of states.
"""

from collections.abc import Iterator

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, TerminalPlace


def end_switch_sides(circuit: Circuit) -> Iterator[tuple[TerminalPlace, str]]:
    """Every terminal that an end switch joins, valve by valve in record order, each once."""
    places = {place.ref: place for place in circuit.terminals}
    for valve in circuit.with_duty(Duty.VALVE):
        sides = [
            side
            for item in valve.parts.contacts
            if item.name.split(".", 1)[1].startswith("end-switch")
            for side in (item.a, item.b)
        ]
        for side in dict.fromkeys(sides):
            yield places[side], side
