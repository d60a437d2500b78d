"""The plain input of the terminal drawing, made from the circuit and the solved states."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Role
from generator.circuit.model import Circuit, Conductor, PlacedDevice, SpareCore
from generator.drawings.terminal_model import (
    LINK,
    Box,
    Cell,
    Core,
    Link,
    Pin,
    Strip,
    TerminalDrawing,
)
from generator.drawings.terminal_model import Role as Place
from generator.states.answer import Solution
from generator.states.network import fold
from generator.views.conductor_names import conductor_names, spare_name
from generator.views.purpose import purposes
from generator.views.shown_states import ShownState, answer_for
from generator.views.wording import Naming

_ROLES = {
    Duty.SUPPLY: Place.SUPPLY,
    Duty.TIMER: Place.CONTROL,
    Duty.ROOM_THERMOSTAT: Place.CONTROL,
    Duty.CYLINDER_THERMOSTAT: Place.CONTROL,
    Duty.VALVE: Place.VALVE,
}
_FLEX = frozenset({Duty.VALVE})
"""Devices with a flying lead: its cores have no order of their own."""
_AROUND_CENTRE = (
    "Each cell of a wiring centre is one terminal. Follow a core from the device to its terminal."
)
_AROUND_DEVICE = "There is no wiring centre: devices are joined directly. In the middle is the one in which most conductors land."
_SPARE_LABELS = {"bare": "bare end"}
_SEVERAL = 3
"""With this many devices joined to it directly, a device stands in the middle of the drawing."""
_CABLE = "cable "
"""Begins the id of the box of a cable that leads to no device; no device is called so, for the space."""


def terminal_drawing(
    solution: Solution, states: Sequence[ShownState], *, title: str, prefix: str = "wiring"
) -> TerminalDrawing | None:
    """The terminal drawing of the house, lit in each shown state by what the solver finds joined to line.

    A device to which several others are joined directly stands in the middle like a wiring centre; in a house with
    neither, the device in which most conductors land. None where no conductor is recorded.
    """
    circuit = solution.circuit
    if not circuit.conductors:
        return None
    centres = circuit.with_duty(Duty.CENTRE)
    hubs = _hubs(circuit) or (_busiest(circuit),)
    maker = _Maker(solution, states, hubs)
    groups = _groups(circuit)
    boxes = [device for device in circuit.devices if device not in hubs and device.parts.terminals]
    loose, homeless = maker.loose()
    return TerminalDrawing(
        prefix=prefix,
        title=title,
        description=_AROUND_CENTRE if centres else _AROUND_DEVICE,
        strips=tuple(
            Strip(
                id=hub.name,
                name=hub.words,
                place=hub.place,
                mark=chr(ord("A") + index) if len(hubs) > 1 else "",
                cells=maker.cells(hub),
                links=maker.links(hub),
            )
            for index, hub in enumerate(hubs)
        ),
        devices=tuple(
            Box(
                id=device.name,
                name=device.words,
                place=device.place,
                pins=(*maker.pins(device), *loose.get(device.name, ())),
                role=_ROLES.get(device.duty, Place.PLANT),
                group=groups.get(device.name, ""),
                ordered=device.duty not in _FLEX,
            )
            for device in boxes
        )
        + homeless,
        cores=(*maker.cores(), *maker.spare(loose, homeless)),
        states=maker.ids,
    )


def zone_groups(circuit: Circuit) -> tuple[tuple[str, str], ...]:
    """The groups that a drawing may be cut down to, in zone order: id and words."""
    return tuple((zone.name, zone.words) for zone in circuit.zones)


def _hubs(circuit: Circuit) -> tuple[PlacedDevice, ...]:
    """The wiring centres, and the devices to which several others are joined directly, in the record's order."""
    centres = {device.name for device in circuit.with_duty(Duty.CENTRE)}
    joined: dict[str, set[str]] = {device.name: set() for device in circuit.devices}
    for conductor in circuit.conductors:
        (one, _), (other, _) = _ends(conductor)
        if one != other and not centres & {one, other}:
            joined[one].add(other)
            joined[other].add(one)
    return tuple(
        device for device in circuit.devices if device.name in centres or len(joined[device.name]) >= _SEVERAL
    )


def _busiest(circuit: Circuit) -> PlacedDevice:
    """The device in which most conductors land; the first of several alike."""
    count = Counter(
        end.split(".", 1)[0] for each in circuit.conductors if not each.is_link for end in (each.a, each.b)
    )
    return max(circuit.devices, key=lambda device: count[device.name])


def _groups(circuit: Circuit) -> dict[str, str]:
    """The zone of each device that serves one zone only."""
    groups: dict[str, str] = {}
    for zone in circuit.zones:
        for device in (zone.thermostat, zone.valve):
            if device:
                groups[device] = "" if device in groups else zone.name
    # Further valves and actuators that one conductor feeds together with a zone's are that zone's as well.
    net = fold(circuit).group
    fed = [
        (place.device.name, net[place.ref])
        for place in circuit.terminals
        if place.device.duty is Duty.VALVE and place.terminal.role is Role.SWITCHED_LINE
    ]
    zone_of = {node: groups[device] for device, node in fed if groups.get(device)}
    for device, node in fed:
        groups.setdefault(device, zone_of.get(node, ""))
    return groups


class _Maker:
    """Makes the parts of one drawing; `hubs` are the devices that are drawn as strips of terminals."""

    def __init__(
        self, solution: Solution, states: Sequence[ShownState], hubs: Sequence[PlacedDevice]
    ) -> None:
        self.circuit = solution.circuit
        self.ids = tuple(state.id for state in states)
        self.live = _live(solution, states)
        self.words = purposes(solution)
        self.naming = Naming(self.circuit)
        self.names = conductor_names(self.circuit)
        self.hubs = {hub.name for hub in hubs}

    def cells(self, hub: PlacedDevice) -> tuple[Cell, ...]:
        """Its terminals: of a wiring centre by label and by what each is for, of another device by name."""
        labelled = hub.duty is Duty.CENTRE
        return tuple(
            Cell(
                id=t.name,
                label=t.name if labelled else "",
                words=self.words[ref] if labelled else t.name,
                live_in=self.live[ref],
                ref=ref,
            )
            for t in hub.parts.terminals
            for ref in (f"{hub.name}.{t.name}",)
        )

    def pins(self, device: PlacedDevice) -> tuple[Pin, ...]:
        return tuple(
            Pin(id=t.name, label=t.name, live_in=self.live[ref], ref=ref)
            for t in device.parts.terminals
            for ref in (f"{device.name}.{t.name}",)
        )

    def links(self, hub: PlacedDevice) -> tuple[Link, ...]:
        """Links inside one strip of terminals."""
        return tuple(
            Link(
                id=self.names[conductor.index],
                cells=(first, second),
                title=core_title(self.naming, conductor),
                live_in=self.live[conductor.a],
                assumed=conductor.assumed,
            )
            for conductor in self.circuit.conductors
            if conductor.is_link
            for (one, first), (other, second) in [_ends(conductor)]
            if one == other == hub.name
        )

    def cores(self) -> Iterator[Core]:
        for conductor in self.circuit.conductors:
            first, second = _ends(conductor)
            if conductor.is_link and first[0] == second[0] and first[0] in self.hubs:
                continue
            yield Core(
                id=self.names[conductor.index],
                code=conductor.core.rstrip("0123456789") or LINK,
                from_pin=first,
                to=second,
                cable=conductor.cable,
                assumed=conductor.assumed,
                sleeve=conductor.sleeve or None,
                title=core_title(self.naming, conductor),
                live_in=self.live[conductor.a],
            )

    def loose(self) -> tuple[dict[str, tuple[Pin, ...]], tuple[Box, ...]]:
        """Where spare cores hang: below the device that their cable leads to, or below a box for the cable alone."""
        found: dict[str, list[Pin]] = {}
        cables: dict[str, list[Pin]] = {}
        for spare in self.circuit.spare:
            pin = Pin(id=_loose_end(spare), label=_SPARE_LABELS.get(spare.how, "spare"), loose=True)
            device = self._device_of(spare.cable)
            (found.setdefault(device, []) if device else cables.setdefault(spare.cable, [])).append(pin)
        boxes = (
            Box(id=f"{_CABLE}{cable}", name=f"Spare cores, cable {cable}", pins=tuple(pins), role=Place.PLANT)
            for cable, pins in cables.items()
        )
        return {device: tuple(pins) for device, pins in found.items()}, tuple(boxes)

    def _device_of(self, cable: str) -> str:
        """The one device with a box of its own that a cable leads to; empty where there is none."""
        owners = (
            owner
            for conductor in self.circuit.conductors
            if conductor.cable == cable
            for owner, _ in _ends(conductor)
            if owner not in self.hubs
        )
        return next(owners, "")

    def spare(self, loose: Mapping[str, Sequence[Pin]], homeless: Sequence[Box]) -> Iterator[Core]:
        owners = {pin.id: device for device, pins in loose.items() for pin in pins}
        owners |= {pin.id: box.id for box in homeless for pin in box.pins}
        for spare in self.circuit.spare:
            end = _loose_end(spare)
            yield Core(
                id=spare_name(spare),
                code=spare.core.rstrip("0123456789"),
                from_pin=(owners[end], end),
                to=None,
                cable=spare.cable,
                title=f"Spare {spare.core} core of the cable {spare.cable}, landed in no terminal: {spare.how}",
            )


def _ends(conductor: Conductor) -> tuple[tuple[str, str], tuple[str, str]]:
    """The device and the terminal of both ends."""
    first, _, pin = conductor.a.partition(".")
    second, _, other = conductor.b.partition(".")
    return (first, pin), (second, other)


def _loose_end(spare: SpareCore) -> str:
    # No terminal is called so: a terminal's name has no space.
    return f"spare {spare_name(spare)}"


def _live(solution: Solution, states: Sequence[ShownState]) -> dict[str, tuple[str, ...]]:
    numbers = [
        (state.id, solution.space.state(state.on), answer_for(solution, state).line) for state in states
    ]
    return {
        place.ref: tuple(name for name, number, line in numbers if line[place.ref] >> number & 1)
        for place in solution.circuit.terminals
    }


def core_title(naming: Naming, conductor: Conductor) -> str:
    """The whole sentence that names a conductor."""
    what = "Link" if conductor.is_link else f"{conductor.core} core of the cable {conductor.cable}"
    sleeve = f", sleeved {conductor.sleeve}" if conductor.sleeve else ""
    sure = "assumed, not seen" if conductor.assumed else str(conductor.certainty.how)
    return f"{what}{sleeve}, from {naming.point(conductor.a)} to {naming.point(conductor.b)} ({sure})"
