"""The terminal-by-terminal table of each wiring centre: what lands there, by which core, and the reading in each state."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.circuit.model import Conductor, PlacedDevice
from generator.states.answer import Solution
from generator.views.conductor_names import conductor_names
from generator.views.purpose import purposes
from generator.views.readings import Reading, StateReadings
from generator.views.wording import Naming


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """One conductor at a terminal: where its other end is and how to know it; ``conductor`` is its name in drawings too."""

    conductor: str
    core: str
    sleeve: str
    cable: str
    other: str
    other_ref: str
    is_link: bool
    assumed: bool
    certainty: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One terminal; ``readings`` by the id of the shown state."""

    ref: str
    label: str
    purpose: str
    landings: tuple[Landing, ...]
    readings: Mapping[str, Reading]

    @property
    def assumed(self) -> bool:
        """Whether anything that lands here is assumed."""
        return any(landing.assumed for landing in self.landings)


@dataclass(frozen=True, slots=True, kw_only=True)
class CentreTable:
    """The table of one wiring centre, in box order."""

    device: PlacedDevice
    rows: tuple[Row, ...]


def centre_tables(solution: Solution, read: Sequence[StateReadings]) -> tuple[CentreTable, ...]:
    """One table for each wiring centre."""
    purpose = purposes(solution)
    return _tables(solution, read, purpose, solution.circuit.with_duty(Duty.CENTRE))


def device_tables(solution: Solution, read: Sequence[StateReadings]) -> tuple[CentreTable, ...]:
    """The same table for every device that has terminals and is not a wiring centre."""
    circuit = solution.circuit
    words = {place.ref: place.terminal.words for place in circuit.terminals}
    devices = [d for d in circuit.devices if d.duty is not Duty.CENTRE and d.parts.terminals]
    return _tables(solution, read, words, devices)


def _tables(
    solution: Solution,
    read: Sequence[StateReadings],
    purpose: Mapping[str, str],
    devices: Sequence[PlacedDevice],
) -> tuple[CentreTable, ...]:
    circuit = solution.circuit
    naming = Naming(circuit)
    landing: dict[str, list[Landing]] = {place.ref: [] for place in circuit.terminals}
    for name, conductor in zip(conductor_names(circuit), circuit.conductors, strict=True):
        landing[conductor.a].append(_landing(naming, name, conductor, conductor.b))
        landing[conductor.b].append(_landing(naming, name, conductor, conductor.a))
    return tuple(
        CentreTable(
            device=device,
            rows=tuple(
                Row(
                    ref=ref,
                    label=terminal.name,
                    purpose=purpose[ref],
                    landings=tuple(landing[ref]),
                    readings={one.state.id: one.by_terminal[ref] for one in read},
                )
                for terminal in device.parts.terminals
                for ref in (f"{device.name}.{terminal.name}",)
            ),
        )
        for device in devices
    )


def _landing(naming: Naming, name: str, conductor: Conductor, other: str) -> Landing:
    sure = conductor.certainty
    return Landing(
        conductor=name,
        core=conductor.core,
        sleeve=conductor.sleeve,
        cable=conductor.cable,
        other=naming.label(other),
        other_ref=other,
        is_link=conductor.is_link,
        assumed=conductor.assumed,
        certainty=f"{sure.how} {sure.on.isoformat()}, {sure.by}",
    )
