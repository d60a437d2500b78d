"""What may read oddly in this house and why: each note follows from the wiring and the solved states.

Each note begins with the name of what puzzles, such as *Ghost voltage*, and is there only where it can occur.
"""

from collections.abc import Iterator, Sequence

from generator.catalogue.kind import Duty
from generator.catalogue.parts import InputKind
from generator.states.answer import Solution
from generator.states.lost_neutral import lost_neutral
from generator.states.network import fold
from generator.states.volts_meter import HIGH_IMPEDANCE, LOW_IMPEDANCE
from generator.views.back_feeds import back_feeds, through_loads
from generator.views.history import histories
from generator.views.picked_up import ghost_notes, half_wave_notes
from generator.views.readings import StateReadings
from generator.views.valve_switches import end_switch_sides
from generator.views.wording import Naming, capital, listed, lower


def odd_readings(solution: Solution, read: Sequence[StateReadings]) -> tuple[str, ...]:
    """The notes that apply to this house, as sentences."""
    return (
        *(note for source in (_shared_end_switches, _resting_side, _overrun) for note in source(solution)),
        *_histories(solution, read),
        *back_feeds(solution),
        *through_loads(solution, read),
        *half_wave_notes(solution, read),
        *ghost_notes(solution, read),
        *_lost_neutral(solution),
        _NEUTRAL_TO_EARTH,
    )


_NEUTRAL_TO_EARTH = (
    "Neutral to earth reads a few volts where current flows; exactly 0 V can hide an open conductor "
    "(common practice, no source)."
)


def _shared_end_switches(solution: Solution) -> Iterator[str]:
    """Idle valves whose end switch reads live from another zone's call."""
    circuit = solution.circuit
    group = fold(circuit).group
    always = solution.space.everywhere
    sides: dict[int, list[str]] = {}
    for _, ref in end_switch_sides(circuit):
        if solution.settled.line[ref] not in (0, always):
            sides.setdefault(group[ref], []).append(ref)
    naming = Naming(circuit)
    for refs in sides.values():
        if len(refs) > 1:
            yield (
                f"{capital(listed([naming.point(ref) for ref in refs]))} are joined: "
                "at an idle valve this side reads live whenever another zone calls."
            )


def _resting_side(solution: Solution) -> Iterator[str]:
    circuit = solution.circuit
    always = solution.space.everywhere
    naming = Naming(circuit)
    fed = [naming.point(ref) for _, ref in end_switch_sides(circuit) if solution.settled.line[ref] == always]
    if fed:
        yield (
            f"{capital(listed(fed))}: this side of the end switch is live with nothing calling, "
            "and stays live until the supply is isolated."
        )


def _overrun(solution: Solution) -> Iterator[str]:
    for item in solution.circuit.inputs:
        if item.kind is InputKind.OVERRUN:
            device = next(d for d in solution.circuit.devices if d.name == item.name.split(".", 1)[0])
            yield (
                f"After a call ends the {lower(device.words)} may hold its pump output live for some minutes "
                "(overrun): that is no fault."
            )


def _histories(solution: Solution, read: Sequence[StateReadings]) -> Iterator[str]:
    """Terminals of wiring centres that read otherwise because of what came before."""
    boxes = {d.name for d in solution.circuit.with_duty(Duty.CENTRE)}
    naming = Naming(solution.circuit)
    states = tuple(one.state for one in read)
    result_of = {result.state.id: result for each in histories(solution, states) for result in each.results}
    from_rest = {one.state.on: one for one in read if not one.state.after}
    for one in read:
        rest, result = from_rest.get(one.state.on), result_of.get(one.state.id)
        if not one.state.after or rest is None or result is None:
            continue
        refs = [
            ref
            for ref, reading in one.by_terminal.items()
            if ref.split(".", 1)[0] in boxes and reading.shown != rest.by_terminal[ref].shown
        ]
        points = listed([naming.point(ref) for ref in refs])
        reads = f" Other readings than from rest: {points}." if refs else ""
        note = f" {result.note}" if result.note else ""
        yield f"While {one.state.words}: {lower(result.stands)}.{note}{reads}"


def _lost_neutral(solution: Solution) -> Iterator[str]:
    """What is read with the shared neutral off, while everything calls."""
    circuit = solution.circuit
    calling = {**solution.held, **dict.fromkeys(solution.space.inputs, True)}
    high = lost_neutral(circuit, calling, HIGH_IMPEDANCE)
    low = lost_neutral(circuit, calling, LOW_IMPEDANCE)
    if high is None or low is None:
        return
    naming = Naming(circuit)
    near, far = high.conductor.a, high.conductor.b
    if near in high.refs:
        near, far = far, near
    yield (
        f"Lost neutral: if the {high.conductor.core or 'link'} from {naming.point(near)} to {naming.point(far)} comes off, "
        f"{naming.point(far)} and the {len(high.refs) - 1} other neutral terminals after it read {high.volts:.0f} V to the "
        f"incoming neutral while everything calls ({low.volts:.0f} V on a low-impedance tester), as live as a line; what "
        "hangs on them stops, or runs on what others let through."
    )
