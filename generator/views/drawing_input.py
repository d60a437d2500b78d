"""The plain input of the terminal drawing, made from the circuit and the solved states."""

from collections.abc import Mapping, Sequence

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, Conductor, PlacedDevice
from generator.drawings.terminal_model import Box, Cell, Core, Link, Pin, Role, Strip, TerminalDrawing
from generator.states.answer import Solution
from generator.views.purpose import purposes
from generator.views.shown_states import ShownState, answer_for
from generator.views.wording import Naming

_ROLES = {
    Duty.SUPPLY: Role.SUPPLY,
    Duty.TIMER: Role.CONTROL,
    Duty.ROOM_THERMOSTAT: Role.CONTROL,
    Duty.CYLINDER_THERMOSTAT: Role.CONTROL,
    Duty.VALVE: Role.VALVE,
}
_FLEX = frozenset({Duty.VALVE})
"""Devices with a flying lead: its cores have no order of their own."""


def terminal_drawing(
    solution: Solution, states: Sequence[ShownState], *, title: str, prefix: str = "wiring"
) -> TerminalDrawing:
    """The terminal drawing of the house, lit in each shown state by what the solver finds joined to line."""
    circuit = solution.circuit
    live = _live(solution, states)
    words = purposes(solution)
    naming = Naming(circuit)
    centres = circuit.with_duty(Duty.CENTRE)
    names = {device.name: f"d{index}" for index, device in enumerate(circuit.devices)}
    groups = _groups(circuit)
    boxes = [d for d in circuit.devices if d.duty is not Duty.CENTRE and d.parts.terminals]
    return TerminalDrawing(
        prefix=prefix,
        title=title,
        description="Each cell of a wiring centre is one terminal. Follow a core from the device to its terminal.",
        strips=tuple(
            Strip(
                id=names[centre.name],
                name=centre.words,
                place=centre.place,
                mark=chr(ord("A") + index) if len(centres) > 1 else "",
                cells=tuple(
                    Cell(id=t.name, label=t.name, words=words[ref], live_in=live[ref])
                    for t in centre.parts.terminals
                    for ref in (f"{centre.name}.{t.name}",)
                ),
                links=_links(circuit, centre, live),
            )
            for index, centre in enumerate(centres)
        ),
        devices=tuple(
            Box(
                id=names[device.name],
                name=device.words,
                place=device.place,
                pins=tuple(
                    Pin(id=t.name, label=t.name, live_in=live[f"{device.name}.{t.name}"])
                    for t in device.parts.terminals
                ),
                role=_ROLES.get(device.duty, Role.PLANT),
                group=groups.get(device.name, ""),
                ordered=device.duty not in _FLEX,
            )
            for device in boxes
        ),
        cores=tuple(_cores(circuit, naming, names, live)),
        states=tuple(state.id for state in states),
    )


def zone_groups(circuit: Circuit) -> tuple[tuple[str, str], ...]:
    """The groups that a drawing may be cut down to, in zone order: id and words."""
    return tuple((f"z{index}", zone.words) for index, zone in enumerate(circuit.zones))


def _groups(circuit: Circuit) -> dict[str, str]:
    """The zone of each device that serves one zone only."""
    groups: dict[str, str] = {}
    for index, zone in enumerate(circuit.zones):
        for device in (zone.thermostat, zone.valve):
            if device:
                groups[device] = "" if device in groups else f"z{index}"
    return groups


def _live(solution: Solution, states: Sequence[ShownState]) -> dict[str, tuple[str, ...]]:
    numbers = [
        (state.id, solution.space.state(state.on), answer_for(solution, state).line) for state in states
    ]
    return {
        place.ref: tuple(name for name, number, line in numbers if line[place.ref] >> number & 1)
        for place in solution.circuit.terminals
    }


def _links(circuit: Circuit, centre: PlacedDevice, live: Mapping[str, tuple[str, ...]]) -> tuple[Link, ...]:
    """Links inside one wiring centre."""
    found = []
    for conductor in circuit.conductors:
        ends = [end.split(".", 1) for end in (conductor.a, conductor.b)]
        if conductor.is_link and all(device == centre.name for device, _ in ends):
            found.append(
                Link(
                    id=f"l{conductor.index}",
                    cells=tuple(terminal for _, terminal in ends),
                    title=f"Link from terminal {ends[0][1]} to terminal {ends[1][1]}",
                    live_in=live[conductor.a],
                )
            )
    return tuple(found)


def _cores(
    circuit: Circuit, naming: Naming, names: Mapping[str, str], live: Mapping[str, tuple[str, ...]]
) -> list[Core]:
    centres = {device.name for device in circuit.with_duty(Duty.CENTRE)}
    drawn = []
    for conductor in circuit.conductors:
        first, second = (tuple(end.split(".", 1)) for end in (conductor.a, conductor.b))
        if conductor.is_link and first[0] == second[0] and first[0] in centres:
            continue
        drawn.append(
            Core(
                id=f"c{conductor.index}",
                code=conductor.core.rstrip("0123456789"),
                from_pin=(names[first[0]], first[1]),
                to=(names[second[0]], second[1]),
                cable=conductor.cable,
                assumed=conductor.assumed,
                sleeve=conductor.sleeve or None,
                title=core_title(naming, conductor),
                live_in=live[conductor.a],
            )
        )
    return drawn


def core_title(naming: Naming, conductor: Conductor) -> str:
    """The whole sentence that names a conductor."""
    what = "Link" if conductor.is_link else f"{conductor.core} core of the cable {conductor.cable}"
    sleeve = f", sleeved {conductor.sleeve}" if conductor.sleeve else ""
    sure = "assumed, not seen" if conductor.assumed else str(conductor.certainty.how)
    return f"{what}{sleeve}, from {naming.point(conductor.a)} to {naming.point(conductor.b)} ({sure})"
