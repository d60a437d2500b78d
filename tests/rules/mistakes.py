"""Every mistake that can be made with one conductor: each core moved, each pair exchanged, each core cut.

Works on circuits, so that the line of a conductor in its record stays the same. Knows no rule and no solver.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations, product

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, Conductor

ENDS = tuple(product("ab", "ab"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Mistake:
    """One mistake: what was done, the conductors as they were, and the circuit afterwards."""

    words: str
    sort: str
    conductors: tuple[Conductor, ...]
    circuit: Circuit


def mistakes(circuit: Circuit, *, anywhere: bool = False) -> Iterator[Mistake]:
    """Every one, in the order of the record.

    Either end of a core is moved to each other terminal of the wiring centre or device at which it lands; links are
    left alone, and no core gets both ends into one terminal. What a record says of the cores that a cable has is left
    out: it would give away a cut core at once.

    Args:
        circuit: of a sound house.
        anywhere: to each other terminal of the whole house, and exchanged with each other core of it, though hardly a
            core is as long as that.
    """
    circuit = replace(circuit, cables=tuple(replace(cable, cores=None) for cable in circuit.cables))
    centres = {device.name for device in circuit.with_duty(Duty.CENTRE)}
    cores = [item for item in circuit.conductors if not item.is_link]
    for item in cores:
        yield Mistake(
            words=f"{name(item)} cut",
            sort="cut",
            conductors=(item,),
            circuit=replace(circuit, conductors=tuple(one for one in circuit.conductors if one is not item)),
        )
        for end in ("a", "b"):
            here = getattr(item, end)
            for there in (place.ref for place in circuit.terminals):
                if there not in (item.a, item.b) and (anywhere or _device(there) == _device(here)):
                    yield Mistake(
                        words=f"{name(item)} moved from {here} to {there}",
                        sort="moved",
                        conductors=(item,),
                        circuit=_with(circuit, _landed(item, end, there)),
                    )
    for one, other in combinations(cores, 2):
        for first, second in ENDS if anywhere else _shared(one, other, centres):
            a, b = getattr(one, first), getattr(other, second)
            if a != b and b != _far(one, first) and a != _far(other, second):
                yield Mistake(
                    words=f"{name(one)} and {name(other)} exchanged ({a}, {b})",
                    sort="exchanged",
                    conductors=(one, other),
                    circuit=_with(circuit, _landed(one, first, b), _landed(other, second, a)),
                )


def name(conductor: Conductor) -> str:
    """The cable and the core."""
    return f"{conductor.cable} {conductor.core}"


def _shared(one: Conductor, other: Conductor, centres: set[str]) -> Iterator[tuple[str, str]]:
    """The ends of two cores that land in one wiring centre; at devices without one, those in one device."""
    for first in ("a", "b"):
        for second in ("a", "b"):
            device = getattr(one, first).split(".", 1)[0]
            if device == getattr(other, second).split(".", 1)[0] and (
                device in centres or not centres & {_device(one.a), _device(one.b)}
            ):
                yield first, second


def _far(conductor: Conductor, end: str) -> str:
    return conductor.b if end == "a" else conductor.a


def _device(ref: str) -> str:
    return ref.split(".", 1)[0]


def _landed(conductor: Conductor, end: str, there: str) -> Conductor:
    return replace(conductor, a=there) if end == "a" else replace(conductor, b=there)


def _with(circuit: Circuit, *changed: Conductor) -> Circuit:
    by_index = {item.index: item for item in changed}
    return replace(circuit, conductors=tuple(by_index.get(item.index, item) for item in circuit.conductors))
