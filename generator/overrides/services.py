"""What a tenant may want of a house, and when the solved circuit and the water give it.

Knows nothing of faults or steps; works on any answer.
"""

from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, ZoneIntent
from generator.faults.simulate import Outcome
from generator.overrides.model import Service

COILS = frozenset({"cylinder coil", "thermal store", "heat exchanger"})
TAPS = "taps"
_TAP_PART = "heating-tap-water"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A service with what belongs to it.

    ``calls`` are groups of inputs of which one each must be on; ``circuits`` the water circuits of which any one
    gives it; ``part`` is the driven part that gives tap water, empty for other services. ``opens`` is the zone's.
    """

    service: Service
    calls: tuple[tuple[str, ...], ...]
    circuits: tuple[str, ...]
    opens: str = ""
    valve: str = ""
    part: str = ""

    @property
    def name(self) -> str:
        """The service's name."""
        return self.service.name

    @property
    def heating(self) -> bool:
        """Whether it warms rooms."""
        return self.service.serves == "heating"

    def given(self, outcome: Outcome) -> int:
        """The states in which it is given in one outcome."""
        if self.part:
            return outcome.answer.on[self.part] & outcome.answer.at
        vector = 0
        for name in self.circuits:
            flow = outcome.water.flow(name)
            vector |= flow.hot & (flow.forward | flow.gravity) & ~outcome.no_flow.get(name, 0)
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
    """The water circuits that serve a zone: those that the same part opens, else those that nothing opens."""
    of_service = [
        item
        for item in circuit.water.circuits
        if (item.feeds in COILS) == (zone.serves == "hot water") and not item.source
    ]
    if zone.opens:
        return tuple(item.name for item in of_service if item.opens == zone.opens)
    return tuple(item.name for item in of_service if not item.opens)


def coil_circuits(circuit: Circuit) -> tuple[str, ...]:
    """The water circuits by which the boiler heats a cylinder."""
    return tuple(item.name for item in circuit.water.circuits if item.feeds in COILS and not item.source)


def unvented(circuit: Circuit) -> bool:
    """Whether hot water is stored at mains pressure, or may be: a coil with no cylinder on record counts as that."""
    cylinders = circuit.with_duty(Duty.CYLINDER)
    if not cylinders:
        return any(item.feeds == "cylinder coil" for item in circuit.water.circuits)
    return any(getattr(device.settings, "system", "unvented") == "unvented" for device in cylinders)
