"""Circuits with one thing broken, for tests that replay a fault."""

from dataclasses import replace

from generator.catalogue.logic import ALWAYS, NEVER
from generator.circuit.model import Circuit


def with_load_open(circuit: Circuit, load: str) -> Circuit:
    """The circuit with a load burnt out: it is still fed, and nothing ever comes of it."""
    item = next(each for each in circuit.loads if each.name == load)
    point = f"{load}-end"
    broken = replace(item, a=point)
    return replace(
        circuit,
        inner=(*circuit.inner, point),
        loads=tuple(broken if each is item else each for each in circuit.loads),
    )


def with_contact_stuck(circuit: Circuit, contact: str, *, made: bool) -> Circuit:
    """The circuit with a contact that never moves: welded, or burnt away."""
    item = next(each for each in circuit.contacts if each.name == contact)
    stuck = replace(item, when=ALWAYS if made else NEVER)
    return replace(circuit, contacts=tuple(stuck if each is item else each for each in circuit.contacts))


def with_part_stuck(circuit: Circuit, part: str, *, on: bool) -> Circuit:
    """The circuit with a driven part that stays where it is: seized, or jammed by its spring."""
    item = next(each for each in circuit.driven if each.name == part)
    stuck = replace(item, when=ALWAYS if on else NEVER)
    return replace(circuit, driven=tuple(stuck if each is item else each for each in circuit.driven))


def without_conductor(circuit: Circuit, a: str, b: str) -> Circuit:
    """The circuit with the conductors between two terminals off."""
    left = tuple(each for each in circuit.conductors if {each.a, each.b} != {a, b})
    assert len(left) < len(circuit.conductors), f"nothing runs from {a} to {b}"
    return replace(circuit, conductors=left)
