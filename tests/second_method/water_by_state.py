"""What the water of a house does in one state, read from its record alone: the second method for overrides.

A circuit gives heat where its source is hot, nothing in it is shut, and a pump drives it or it moves by itself.
"""

from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.catalogue.parts import LoadKind
from generator.circuit.model import Circuit, WaterCircuit, WaterSource
from tests.second_method.stepped_house import Stepped, Works

COILS = ("cylinder coil", "thermal store", "heat exchanger")


@dataclass(frozen=True, slots=True)
class Seen:
    """One state: the circuits that get hot water the right way, those that get any, and what is wrong.

    ``right`` and ``any_way`` have circuits of other sources as well. ``blocked`` where a pump runs and has no way at all. ``element``: the immersion heater heats. ``taps``: so does tap water.
    """

    right: frozenset[str]
    any_way: frozenset[str]
    coil: bool
    blocked: bool
    element: bool
    taps: bool


class Water:
    """The water side of one circuit."""

    def __init__(self, works: Works) -> None:
        """Find the pumps."""
        self.works = works
        self.circuit: Circuit = works.circuit
        water = self.circuit.water
        owned = {c.pump for c in water.circuits} | {s.pump for s in water.sources}
        owned |= {s.device for s in water.sources}
        loads = [load for load in self.circuit.loads if load.kind is LoadKind.PUMP]
        devices = {d.name: d for d in self.circuit.devices}
        common = [load for load in loads if load.name.split(".", 1)[0] not in owned]

        def local(name: str) -> bool:
            device = devices[name.split(".", 1)[0]]
            return device.duty is not Duty.BOILER and bool(device.parts.contacts)

        mains = [load for load in common if not local(load.name)]
        if mains or len(common) < len(loads):
            common = mains
        self.has_pumps = bool(loads)
        self.inside = 0
        self.outside = 0
        for load in common:
            bit = works.load[load.name]
            if devices[load.name.split(".", 1)[0]].duty is Duty.BOILER:
                self.inside |= bit
            else:
                self.outside |= bit
        self.header = water.header != "none"
        self.hanging = self.header and any(not (c.pump or c.gravity) for c in water.circuits if not c.source)
        self.bypass = water.bypass not in ("none", "not seen")
        self.boilers = [
            d.name
            for d in self.circuit.devices
            if d.duty is Duty.BOILER and d.name not in {s.device for s in water.sources}
        ]
        self.own = {
            c.name: works.bits_of_loads(c.pump, LoadKind.PUMP) if c.pump else 0 for c in water.circuits
        }
        self.elements = 0
        for device in self.circuit.with_duty(Duty.IMMERSION):
            self.elements |= works.bits_of_loads(device.name, LoadKind.HEATER)
        parts = {d.name for d in self.circuit.driven}
        self.shutters = {
            c.name: works.bit[c.opens] if c.valve and c.opens in parts else 0 for c in water.circuits
        }
        heaters = [d.name for d in self.circuit.with_duty(Duty.BOILER)]
        self.tap_parts = {name: f"{name}.heating-tap-water" for name in heaters}
        self.tap_parts = {name: part for name, part in self.tap_parts.items() if part in parts}
        self.mine = [c for c in water.circuits if not c.source]
        self.loops = [
            (source, [c for c in water.circuits if c.source == source.name], self._pumps(source))
            for source in water.sources
        ]

    def _pumps(self, source: WaterSource) -> int:
        """The pumps that serve all circuits of a source."""
        names = [name for name in (source.pump, source.device) if name]
        bits = 0
        for name in names:
            bits |= self.works.bits_of_loads(name, LoadKind.PUMP)
        return bits

    def _gives(self, source: WaterSource, house: Stepped, state: int) -> bool:
        """Whether a source besides the boiler is hot: a store is taken as hot here, and whether it is, the house knows."""
        bit = self.works.bit.get(f"{source.device}.firing", 0) if source.device else 0
        if bit:
            return bool(state & bit) and source.device not in house.no_heat
        return source.of in {"thermal store", "heat network", "solid fuel"}

    def _elsewhere(self, house: Stepped, state: int, fed: int) -> tuple[set[str], set[str]]:
        """The circuits of other sources that carry heat the right way, and in any."""
        right, any_way = set[str](), set[str]()
        for source, circuits, pumps in self.loops:
            bit = self.works.bit.get(f"{source.device}.firing", 0) if source.device else 0
            may = source.of in {"thermal store", "heat network", "solid fuel"}
            may = may or (bool(state & bit) and source.device not in house.no_heat)
            ways = [c for c in circuits if self.is_open(c, state)]
            for item in ways:
                if item.name in house.no_flow:
                    continue
                moved = item.gravity or bool(fed & (self.own[item.name] | pumps))
                pushed = any(fed & self.own[other.name] for other in ways if other is not item)
                if moved and self._gives(source, house, state):
                    right.add(item.name)
                if may and (moved or (pushed and not item.check_valve)):
                    any_way.add(item.name)
        return right, any_way

    def is_open(self, item: WaterCircuit, state: int) -> bool:
        """Whether nothing shuts a circuit."""
        bit = self.shutters[item.name]
        return not bit or bool(state & bit)

    def hot(self, house: Stepped, state: int) -> bool:
        """Whether a boiler heats."""
        bits = self.works.bit
        return any(
            state & bits.get(f"{name}.firing", 0) for name in self.boilers if name not in house.no_heat
        )

    def seen(self, house: Stepped, state: int) -> Seen:
        """What the boiler's water does."""
        fed = house.fed(state)
        hot = self.hot(house, state)
        opened = [c for c in self.mine if self.is_open(c, state)]
        hidden = not self.has_pumps and self.circuit.water.pump in {"in the boiler", "not seen"} and hot
        if self.hanging:
            main = bool(fed & (self.outside or self.inside)) or hidden
        else:
            main = bool(fed & (self.inside | self.outside)) or hidden
        right, any_way = set[str](), set[str]()
        for item in opened:
            own = bool(fed & self.own[item.name])
            falls = item.gravity and not item.pump
            if falls:
                moved = item.gravity
            elif self.header and item.pump:
                moved = own
            else:
                moved = own or main
            drawn = not (moved or self.header or item.check_valve or own or main or falls) and any(
                other is not item and fed & self.own[other.name] for other in opened
            )
            if not hot or item.name in house.no_flow:
                continue
            if moved or item.gravity:
                right.add(item.name)
            if moved or drawn or item.gravity:
                any_way.add(item.name)
        right_too, any_too = self._elsewhere(house, state, fed)
        right, any_way = right | right_too, any_way | any_too
        return Seen(
            right=frozenset(right),
            any_way=frozenset(any_way),
            coil=any(c.name in any_way for c in self.mine if c.feeds in COILS),
            blocked=self._blocked(house, state, fed, main),
            element=bool(fed & self.elements),
            taps=any(
                state & self.works.bit[part]
                for name, part in self.tap_parts.items()
                if name not in house.no_heat
            ),
        )

    def _blocked(self, house: Stepped, state: int, fed: int, main: bool) -> bool:
        """Whether a pump of the boiler's water runs against nothing but shut ways."""
        way = any(self.is_open(c, state) for c in self.mine if not (c.gravity and not c.pump))
        bypass = self.bypass and not house.bypass_shut
        if main and self.mine and not way and not bypass and not (self.header and not self.hanging):
            return True
        for item in self.mine:
            sharing = [c for c in self.mine if self.own[c.name] & self.own[item.name]]
            if fed & self.own[item.name] and not any(self.is_open(c, state) for c in sharing) and not bypass:
                return True
        return False
