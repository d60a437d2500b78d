"""What heats a home, for the words of its tenants' page: a boiler, a heat pump, a heat network, or a store of hot water.

Goes by what the record says of the devices and of where the water of each circuit comes from. Says nothing itself.
"""

from collections.abc import Iterable, Iterator

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Heat
from generator.circuit.model import Circuit
from generator.overrides.services import wanted_services

_HEARD = {Heat.BOILER: "boiler", Heat.HEAT_PUMP: "heat-pump"}
"""What starts with a sound that a tenant may know it by."""
_OF = {"boiler": Heat.BOILER, "heat pump": Heat.HEAT_PUMP}


def heats(circuit: Circuit | None) -> frozenset[Heat]:
    """What makes the heat of a home; empty where nobody knows."""
    devices = circuit.with_duty(Duty.BOILER) if circuit is not None else ()
    return frozenset(device.parts.heat for device in devices)


def heard(circuit: Circuit, services: Iterable[str]) -> str:
    """What a tenant may hear start when these services are given: `boiler`, `heat-pump`, or empty where nothing is.

    Empty also where one of several may start, and where the water comes from a store: its heat is there already.
    """
    wanted = set(services)
    found: set[Heat | None] = set()
    for each in wanted_services(circuit):
        if each.name in wanted:
            device = each.part.split(".", 1)[0]
            found |= (
                {circuit.device(device).parts.heat} if device else set(_of_circuits(circuit, each.circuits))
            )
    heat = found.pop() if len(found) == 1 else None
    return _HEARD.get(heat, "") if heat is not None else ""


def _of_circuits(circuit: Circuit, names: tuple[str, ...]) -> Iterator[Heat | None]:
    sources = {source.name: source for source in circuit.water.sources}
    taken = {source.device for source in sources.values()}
    for item in circuit.water.circuits:
        if item.name not in names:
            continue
        if item.source in sources:
            yield _OF.get(sources[item.source].of)
        else:
            yield from (d.parts.heat for d in circuit.with_duty(Duty.BOILER) if d.name not in taken)
