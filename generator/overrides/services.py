"""What a tenant may want of a house, and when the solved circuit and the water give it.

Knows nothing of faults or steps; works on any answer.
"""

from collections.abc import Collection
from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, WaterSource, ZoneIntent
from generator.faults.simulate import Outcome
from generator.overrides.model import Service

COILS = frozenset({"cylinder coil", "thermal store", "heat exchanger"})
TAPS = "taps"
_TAP_PART = "heating-tap-water"


@dataclass(frozen=True, slots=True, kw_only=True)
class Charge:
    """How a thermal store gets its heat: the circuits that heat it, and the calls that are all there while it is cold.

    ``calls`` are the calls that have it heated, as those of a service.

    With its thermostat satisfied a store is hot, however it came to be (common practice, no source).
    """

    circuits: tuple[str, ...]
    calls: tuple[tuple[str, ...], ...]
    cold: tuple[tuple[str, ...], ...]

    def missed(self, outcome: Outcome, cold: int) -> int:
        """The states in which it is cold and nothing heats it; ``cold`` are those in which it is cold."""
        return cold & ~_carried(outcome, self.circuits)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A service with what belongs to it.

    ``calls`` are groups of inputs of which one each must be on; ``circuits`` the water circuits of which any one
    gives it; ``part`` is the driven part that gives tap water, empty for other services. ``opens`` is the zone's.
    ``charges`` are those of the stores that its water is drawn from: which circuit heats which store is on no record,
    so all of them have to be hot. ``firing`` is by circuit the part that must be on for its source to give heat.
    """

    service: Service
    calls: tuple[tuple[str, ...], ...]
    circuits: tuple[str, ...]
    opens: str = ""
    valve: str = ""
    part: str = ""
    charges: tuple[Charge, ...] = ()
    firing: tuple[tuple[str, str], ...] = ()

    def starved(self, unset: Collection[str]) -> bool:
        """Whether a store that its water is drawn from is never heated with these inputs off, however hot it may still be."""
        return any(set(group) <= set(unset) for charge in self.charges for group in charge.calls)

    @property
    def name(self) -> str:
        """The service's name."""
        return self.service.name

    @property
    def heating(self) -> bool:
        """Whether it warms rooms."""
        return self.service.serves == "heating"

    def given(self, outcome: Outcome) -> int:
        """The states in which it is given in one outcome, as long as the stores that it draws from are hot."""
        if self.part:
            return outcome.answer.on[self.part] & outcome.answer.at
        firing = dict(self.firing)
        vector = 0
        for name in self.circuits:
            carried = _carried(outcome, (name,))
            vector |= carried & outcome.answer.on[firing[name]] if name in firing else carried
        return vector

    def warmed(self, outcome: Outcome) -> int:
        """The states in which its part of the house is heated, asked or not, whichever way the water goes."""
        vector = 0
        for name in self.circuits:
            vector |= outcome.water.flow(name).hot & ~outcome.no_flow.get(name, 0)
        return vector


def wanted_services(circuit: Circuit) -> tuple[Wanted, ...]:
    """The services of a house: its zones in record order, then tap water that a boiler heats by itself."""
    found = []
    for zone in circuit.zones:
        circuits = _circuits_of(circuit, zone)
        if circuits and zone.call_inputs:
            found.append(
                Wanted(
                    service=Service(name=zone.name, words=zone.words, serves=zone.serves),
                    calls=zone.call_groups,
                    circuits=circuits,
                    opens=zone.opens,
                    valve=zone.valve,
                    charges=_charges(circuit, circuits),
                    firing=_firing(circuit, circuits),
                )
            )
    for part in circuit.driven:
        device, own = part.name.split(".", 1)
        if own == _TAP_PART:
            found.append(
                Wanted(
                    service=Service(name=TAPS, words="hot water at the taps", serves="hot water"),
                    calls=((f"{device}.tap",),),
                    circuits=(),
                    part=part.name,
                )
            )
            break
    return tuple(found)


def _circuits_of(circuit: Circuit, zone: ZoneIntent) -> tuple[str, ...]:
    """The water circuits that serve a zone: those that the same part opens, else those that nothing opens.

    None where that does not tell: several zones that nothing opens, and circuits of several sources.
    """
    water = zone.serves == "hot water"
    # What heats a cylinder besides the boiler, the sun, and water that moves by itself come and go as they please.
    suns = {source.name for source in circuit.water.sources if source.of == "solar"}
    of_service = [
        item
        for item in circuit.water.circuits
        if (item.feeds in COILS) == water
        and not (item.source and (water or item.gravity or item.source in suns))
    ]
    if zone.opens:
        return tuple(item.name for item in of_service if item.opens == zone.opens)
    always = [item for item in of_service if not item.opens]
    alike = [each for each in circuit.zones if each.serves == zone.serves and not each.opens]
    if len(alike) > 1 and len({item.source for item in always}) > 1:
        return ()
    return tuple(item.name for item in always)


def _carried(outcome: Outcome, circuits: tuple[str, ...]) -> int:
    """The states in which any of these circuits carries heat the way it is meant."""
    vector = 0
    for name in circuits:
        flow = outcome.water.flow(name)
        vector |= flow.hot & (flow.forward | flow.gravity) & ~outcome.no_flow.get(name, 0)
    return vector


def _sources(circuit: Circuit, names: tuple[str, ...]) -> dict[str, WaterSource]:
    """The sources besides the boiler of some circuits, by circuit."""
    known = {source.name: source for source in circuit.water.sources}
    return {
        item.name: known[item.source]
        for item in circuit.water.circuits
        if item.name in names and item.source in known
    }


def _charges(circuit: Circuit, names: tuple[str, ...]) -> tuple[Charge, ...]:
    """What heats the stores that some circuits draw from; none where they draw from none."""
    if all(source.of != "thermal store" for source in _sources(circuit, names).values()):
        return ()
    feeds = {item.name for item in circuit.water.circuits if item.feeds == "thermal store"}
    found = []
    for zone in circuit.zones:
        heating = tuple(name for name in _circuits_of(circuit, zone) if name in feeds)
        if heating and zone.serves == "hot water" and zone.call_inputs:
            sensed = f"{zone.thermostat}.calling"
            cold = ((sensed,),) if sensed in zone.call_inputs else zone.call_groups
            found.append(Charge(circuits=heating, calls=zone.call_groups, cold=cold))
    return tuple(found)


def _firing(circuit: Circuit, names: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    """By circuit the part that lets its source's heat in, where the source has one."""
    parts = {part.name for part in circuit.driven}
    pairs = ((name, f"{source.device}.firing") for name, source in _sources(circuit, names).items())
    return tuple(pair for pair in pairs if pair[1] in parts)


def coil_circuits(circuit: Circuit) -> tuple[str, ...]:
    """The water circuits by which the boiler heats a cylinder."""
    return tuple(item.name for item in circuit.water.circuits if item.feeds in COILS and not item.source)


def unvented(circuit: Circuit) -> bool:
    """Whether hot water is stored at mains pressure, or may be: a coil with no cylinder on record counts as that."""
    cylinders = circuit.with_duty(Duty.CYLINDER)
    if not cylinders:
        return any(item.feeds == "cylinder coil" for item in circuit.water.circuits)
    return any(getattr(device.settings, "system", "unvented") == "unvented" for device in cylinders)
