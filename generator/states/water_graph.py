"""The water of a house as a graph: sources, pumps, circuits, bypass and header as branches between points.

Which branch is open or driven in which state is the work of another module; here is only what is joined to what.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from generator.catalogue.kind import Duty
from generator.catalogue.parts import LoadKind
from generator.circuit.model import Circuit, WaterCircuit

FIXED_WAYS = ("fixed", "in the boiler")
"""Bypasses that are no device of the record but are there."""


class BranchKind(StrEnum):
    """What a branch of the water is."""

    SOURCE = "source"
    PUMP = "pump"
    CIRCUIT = "circuit"
    BYPASS = "bypass"
    HEADER = "header"


@dataclass(frozen=True, slots=True, kw_only=True)
class Branch:
    """Water from ``start`` to ``end``, the way it is meant to go.

    ``pumps`` are the loads whose running drives water along it; a pump that stands still lets water pass.
    ``opens`` is the driven part that must be on for water to pass, empty where nothing shuts it.
    ``loop`` is the source whose water it carries, empty for the boiler's.
    """

    name: str
    kind: BranchKind
    start: str
    end: str
    loop: str
    pumps: tuple[str, ...] = ()
    opens: str = ""
    checked: bool = False
    circuit: WaterCircuit | None = None


def water_branches(circuit: Circuit) -> tuple[Branch, ...]:
    """Every branch of the water, the boiler's loop first, circuits in record order.

    Without a header the boiler and the pump stand in series between ``return`` and ``flow``, and every circuit
    between ``flow`` and ``return``. Circuits by gravity have tappings of their own at the source, so that no pump
    draws through them. A header joins flow and return; before it are the pumps inside boilers, and the others too
    where every circuit has a pump of its own; else the others are those of the circuits.
    """
    return (*_boiler_loop(circuit), *_other_loops(circuit))


def pumps_of(circuit: Circuit, device: str) -> tuple[str, ...]:
    """The loads of a device that are pumps."""
    return tuple(
        load.name for load in circuit.loads if load.kind is LoadKind.PUMP and _device_of(load.name) == device
    )


def _device_of(name: str) -> str:
    """The device that a load belongs to."""
    return name.partition(".")[0]


def _common_pumps(circuit: Circuit) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The pumps that serve no single circuit or source: those inside boilers, and the others.

    A pump with contacts of its own beside it, as in a blending set, moves water within that device's circuits and
    counts only where there is no other pump at all.
    """
    water = circuit.water
    own = {item.pump for item in water.circuits} | {item.pump for item in water.sources}
    own |= {item.device for item in water.sources}
    duties = {device.name: device.duty for device in circuit.devices}
    local = {d.name for d in circuit.devices if d.duty is not Duty.BOILER and d.parts.contacts}
    loads = [load.name for load in circuit.loads if load.kind is LoadKind.PUMP]
    common = [name for name in loads if _device_of(name) not in own]
    plain = [name for name in common if _device_of(name) not in local]
    if plain or len(common) < len(loads):
        common = plain
    inside = tuple(name for name in common if duties[_device_of(name)] is Duty.BOILER)
    return inside, tuple(name for name in common if name not in inside)


def _boiler_loop(circuit: Circuit) -> Iterator[Branch]:
    water = circuit.water
    inside, outside = _common_pumps(circuit)
    header = water.header != "none"
    behind = header and any(not (item.pump or item.source or item.gravity) for item in water.circuits)
    first = inside if behind else (*inside, *outside)
    flow = "flow"
    yield Branch(name="boiler", kind=BranchKind.SOURCE, start="return", end="outlet", loop="")
    yield Branch(name="pump", kind=BranchKind.PUMP, start="outlet", end="flow", loop="", pumps=first)
    if header:
        yield Branch(name=water.header, kind=BranchKind.HEADER, start="flow", end="return", loop="")
        if behind and outside:
            flow = "header flow"
            yield Branch(
                name="header pump", kind=BranchKind.PUMP, start="flow", end=flow, loop="", pumps=outside
            )
    if water.bypass not in ("none", "not seen"):
        yield Branch(name="bypass", kind=BranchKind.BYPASS, start=flow, end="return", loop="")
    mine = [item for item in water.circuits if not item.source]
    yield from _circuits(circuit, mine, "boiler", flow, "return")


def _other_loops(circuit: Circuit) -> Iterator[Branch]:
    for source in circuit.water.sources:
        outlet, flow, back = (f"{source.name} {point}" for point in ("outlet", "flow", "return"))
        pumps = (*pumps_of(circuit, source.pump), *pumps_of(circuit, source.device))
        yield Branch(name=source.name, kind=BranchKind.SOURCE, start=back, end=outlet, loop=source.name)
        yield Branch(
            name=f"{source.name} pump",
            kind=BranchKind.PUMP,
            start=outlet,
            end=flow,
            loop=source.name,
            pumps=pumps,
        )
        mine = [item for item in circuit.water.circuits if item.source == source.name]
        yield from _circuits(circuit, mine, source.name, flow, back)


def _circuits(
    circuit: Circuit, mine: Sequence[WaterCircuit], source: str, flow: str, back: str
) -> Iterator[Branch]:
    """The circuits of one source; those by gravity between tappings of their own."""
    own_flow, own_back = f"{source} gravity flow", f"{source} gravity return"
    if any(_by_gravity(item) for item in mine):
        yield Branch(
            name=f"{source} by gravity",
            kind=BranchKind.SOURCE,
            start=own_back,
            end=own_flow,
            loop=mine[0].source,
        )
    for item in mine:
        ends = (own_flow, own_back) if _by_gravity(item) else (flow, back)
        yield _circuit(circuit, item, *ends)


def _by_gravity(item: WaterCircuit) -> bool:
    """Whether its water moves by itself; one with a pump of its own is a circuit like others."""
    return item.gravity and not item.pump


def _circuit(circuit: Circuit, item: WaterCircuit, start: str, end: str) -> Branch:
    parts = {part.name for part in circuit.driven}
    opens = item.opens if item.valve and item.opens in parts else ""
    return Branch(
        name=item.name,
        kind=BranchKind.CIRCUIT,
        start=start,
        end=end,
        loop=item.source,
        pumps=pumps_of(circuit, item.pump),
        opens=opens,
        checked=bool(item.check_valve),
        circuit=item,
    )
