"""What must work for a call of a zone to become heat: which heat source, which pumps; and which loads move something.

Knows nothing of states.
"""

from collections.abc import Iterator

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Fed, Joined, atoms
from generator.catalogue.parts import Driven, Load, LoadKind, Sense
from generator.circuit.model import Circuit, PlacedDevice, WaterCircuit, ZoneIntent

_COILS = ("cylinder coil", "thermal store", "heat exchanger")


def circuits_of(circuit: Circuit, zone: ZoneIntent) -> tuple[WaterCircuit, ...]:
    """The water circuits that serve a zone: those that the same part opens, else the open ones of its service."""
    found = tuple(item for item in circuit.water.circuits if zone.opens and item.opens == zone.opens)
    if found or zone.opens:
        return found
    water = zone.serves == "hot water"
    return tuple(
        item for item in circuit.water.circuits if not item.opens and (item.feeds in _COILS) is water
    )


def needed_boilers(circuit: Circuit, zone: ZoneIntent) -> tuple[PlacedDevice, ...]:
    """The boilers that a call must reach; none where the zone draws from another source, as a thermal store."""
    mine = circuits_of(circuit, zone)
    if mine and all(item.source for item in mine):
        return ()
    taken = {source.device for source in circuit.water.sources}
    return tuple(device for device in circuit.with_duty(Duty.BOILER) if device.name not in taken)


def needed_pumps(circuit: Circuit, zone: ZoneIntent) -> Iterator[tuple[PlacedDevice, ...]]:
    """Groups of pumps, of each of which one must run.

    A circuit's own pump; else one of those that serve all circuits, which a header needs besides. By gravity none.
    """
    water = circuit.water
    mine = circuits_of(circuit, zone)
    pumps = circuit.with_duty(Duty.PUMP)
    own = [item.pump for item in mine if item.pump]
    for name in dict.fromkeys(own):
        yield tuple(device for device in pumps if device.name == name)
    by_itself = bool(mine) and all(item.pump or item.gravity or item.source for item in mine)
    if by_itself and (water.header == "none" or all(item.source for item in mine)):
        return
    taken = {item.pump for item in water.circuits} | {source.pump for source in water.sources}
    shared = tuple(device for device in pumps if device.name not in taken)
    if shared:
        yield shared


def is_input(circuit: Circuit, load: Load) -> bool:
    """Whether a load is a small one by which something is told to move, as an input of a zone controller."""
    return load.kind is LoadKind.ELECTRONICS and any(
        isinstance(leaf, Fed) and leaf.load == load.name
        for part in circuit.driven
        for leaf in atoms(part.when)
    )


def told_by(circuit: Circuit, sense: Sense) -> tuple[Driven, ...]:
    """The parts that go by whether the two terminals of a sensing source are joined."""
    return tuple(
        part
        for part in circuit.driven
        if any(
            isinstance(leaf, Joined) and {leaf.a, leaf.b} == {sense.a, sense.b} for leaf in atoms(part.when)
        )
    )
