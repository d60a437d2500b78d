"""A house in any of the states that it may be in: what it gives, what is called, what is wrong, with any one fault.

The second method for overrides; knows nothing of steps or of how they are searched.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.catalogue.parts import InputKind
from generator.circuit.model import Circuit
from generator.faults.fault import SOUND, Fault
from generator.overrides.model import Service
from tests.second_method.stepped_house import Stepped, Works
from tests.second_method.water_by_state import COILS, Seen, Water

States = frozenset[int]


@dataclass(frozen=True, slots=True)
class Want:
    """A service by the record: groups of inputs that call it, the circuits that give it.

    ``stores`` are the stores that it draws from: what heats each, and what calls while it is cold.
    """

    name: str
    water: bool
    calls: tuple[tuple[str, ...], ...]
    circuits: frozenset[str]
    taps: bool = False
    stores: tuple[tuple[frozenset[str], tuple[tuple[str, ...], ...]], ...] = ()


def every_one(state: int, bits: Sequence[int]) -> list[int]:
    """A state with some bits in every combination: the supply may come back in any of them, with every part at rest."""
    found = [state]
    for bit in bits:
        found += [each | bit for each in found]
    return found


class WalkedHouse:
    """One house with one value of what nobody knows."""

    def __init__(self, circuit: Circuit, services: Sequence[Service], *, unsure: bool) -> None:
        """Prepare."""
        self.circuit = circuit
        self.works = Works(circuit)
        self.water = Water(self.works)
        self.unsure = self.works.bit["unsure"] if unsure else 0
        self.wants = {want.name: want for want in self._wants(services)}
        self.levers = self.works.bits(self.works.levers)
        self.tank_stats = self.works.bits(
            f"{zone.thermostat}.calling"
            for zone in circuit.zones
            if zone.serves == "hot water"
            and zone.thermostat
            and circuit.device(zone.thermostat).duty is Duty.CYLINDER_THERMOSTAT
        )
        self.isolators = self.works.bits(i.name for i in circuit.inputs if i.kind is InputKind.ISOLATOR)
        trips = [
            item.name
            for device in circuit.devices
            if device.duty in {Duty.CYLINDER, Duty.CYLINDER_THERMOSTAT}
            for item in device.parts.inputs
            if item.kind is InputKind.TRIP
        ]
        self.trips = self.works.bits(trips)
        taps = [want.calls[0][0] for want in self.wants.values() if want.taps]
        self.free = [*(item.name for item in circuit.called_inputs), *trips, *taps]
        cylinders = circuit.with_duty(Duty.CYLINDER)
        self.unvented = any(getattr(d.settings, "system", "") == "unvented" for d in cylinders) or (
            not cylinders and any(item.feeds == "cylinder coil" for item in circuit.water.circuits)
        )
        self._houses: dict[object, Stepped] = {}
        self._starts: dict[object, States] = {}
        self._seen: dict[tuple[int, int], Seen] = {}
        self._usual: dict[str, set[int]] = {}

    def _wants(self, services: Sequence[Service]) -> Iterator[Want]:
        for service in services:
            zone = next((each for each in self.circuit.zones if each.name == service.name), None)
            if zone is None:
                names = [d.name for d in self.circuit.devices]
                heater = next(n for n in names if f"{n}.heating-tap-water" in self.works.bit)
                yield Want(service.name, True, ((f"{heater}.tap",),), frozenset(), taps=True)
                continue
            water = zone.serves == "hot water"
            suns = {each.name for each in self.circuit.water.sources if each.of == "solar"}
            circuits = frozenset(
                item.name
                for item in self.circuit.water.circuits
                if (item.feeds in COILS) is water
                and (not item.source or not (water or item.gravity or item.source in suns))
                and item.opens == zone.opens
            )
            yield Want(zone.name, water, zone.call_groups, circuits, stores=self._stores(circuits))

    def _stores(
        self, circuits: frozenset[str]
    ) -> tuple[tuple[frozenset[str], tuple[tuple[str, ...], ...]], ...]:
        """What heats the stores that circuits draw from, and what calls for it."""
        water = self.circuit.water
        stores = {each.name for each in water.sources if each.of == "thermal store"}
        if not any(c.source in stores for c in water.circuits if c.name in circuits):
            return ()
        found = []
        for zone in self.circuit.zones:
            heated = frozenset(
                c.name
                for c in water.circuits
                if c.feeds == "thermal store" and not c.source and c.opens == zone.opens
            )
            if heated and zone.serves == "hot water":
                own = (f"{zone.thermostat}.calling",)
                found.append((heated, (own,) if own in zone.call_groups else zone.call_groups))
        return tuple(found)

    def house(self, fault: Fault) -> Stepped:
        """The house with a fault; the same object for faults that change the same things."""
        house = Stepped(self.works, fault)
        return self._houses.setdefault(house.key, house)

    def seen(self, house: Stepped, state: int) -> Seen:
        """What the water does."""
        key = (id(house), state)
        found = self._seen.get(key)
        if found is None:
            found = self._seen[key] = self.water.seen(house, state)
        return found

    def start(self, house: Stepped, latched: str = "", off: str = "") -> States:
        """Every state that the house may be in with nobody's hand on it.

        Args:
            house: the house, with its fault.
            latched: a lever that somebody left latched.
            off: a switch that somebody left off.
        """
        key = (id(house), latched, off)
        if key not in self._starts:
            state = self.works.normal | self.unsure
            state |= self.works.bit[latched] if latched else 0
            state &= ~(self.works.bit[off] if off else 0)
            bits = [self.works.bit[name] for name in self.free]
            self._starts[key] = house.drift(every_one(state, bits), bits)
        return self._starts[key]

    def inputs(self, state: int) -> int:
        """The bits of the inputs of a state, levers and switches apart."""
        return state & ~(self.works.parts | self.levers | self.isolators)

    def called(self, want: Want, state: int) -> bool:
        """Whether a service is called as it is meant to be."""
        return all(any(state & self.works.bit[name] for name in group) for group in want.calls)

    def given(self, want: Want, house: Stepped, state: int, *, element: bool = False) -> bool:
        """Whether a service is given.

        Args:
            want: the service.
            house: the house, with its fault.
            state: its state.
            element: whether the immersion heater was switched on for it.
        """
        if len(house.rest(state)) > 1:
            return False
        seen = self.seen(house, state)
        if want.taps:
            return seen.taps
        cold = any(
            all(any(state & self.works.bit[name] for name in group) for group in calls)
            and not heated & seen.right
            for heated, calls in want.stores
        )
        return bool(want.circuits & seen.right and not cold) or (want.water and element and seen.element)

    def uncontrolled(self, house: Stepped, state: int) -> bool:
        """Whether a cylinder is heated by the boiler with its thermostat satisfied, or with a cut-out tripped."""
        return self.seen(house, state).coil and (not state & self.tank_stats or bool(state & self.trips))

    def usual(self, want: Want) -> set[int]:
        """The inputs of everything else with which the sound house gives a service that is called."""
        if want.name not in self._usual:
            own = self.works.bits(name for group in want.calls for name in group)
            sound = self.house(SOUND)
            good: dict[int, bool] = {}
            for state in self.start(sound):
                if self.called(want, state) and not state & self.trips:
                    inputs = self.inputs(state)
                    good[inputs] = good.get(inputs, True) and self.given(want, sound, state)
            self._usual[want.name] = {inputs & ~own for inputs, ok in good.items() if ok}
        return self._usual[want.name]
