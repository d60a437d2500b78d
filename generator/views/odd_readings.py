"""What may read oddly in this house and why: each note follows from the wiring and the solved states."""

from collections.abc import Iterator, Sequence

from generator.catalogue.kind import Duty
from generator.catalogue.parts import InputKind
from generator.states.answer import Solution
from generator.states.network import fold
from generator.views.history import histories
from generator.views.readings import StateReadings
from generator.views.valve_switches import end_switch_sides
from generator.views.wording import Naming, capital, listed, lower


def odd_readings(solution: Solution, read: Sequence[StateReadings]) -> tuple[str, ...]:
    """The notes that apply to this house, as sentences."""
    return (
        *(note for source in (_shared_end_switches, _resting_side, _overrun) for note in source(solution)),
        *_histories(solution, read),
        *_through_loads(solution, read),
        *_ghosts(solution, read),
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


def _through_loads(solution: Solution, read: Sequence[StateReadings]) -> Iterator[str]:
    naming = Naming(solution.circuit)
    for one in read:
        refs = [ref for ref, reading in one.by_terminal.items() if reading.word == "through a load"]
        if refs:
            values = [f"{naming.point(ref)} ({one.by_terminal[ref].shown} V)" for ref in refs]
            yield (
                f"While {one.state.words}, {listed(values)} reach line only through a load: "
                "look for a lost neutral or a back-feed."
            )


def _ghosts(solution: Solution, read: Sequence[StateReadings]) -> Iterator[str]:
    open_ends = list(
        dict.fromkeys(
            ref for one in read for ref, reading in one.by_terminal.items() if reading.word == "open"
        )
    )
    boxes = {d.name for d in solution.circuit.with_duty(Duty.CENTRE)}
    naming = Naming(solution.circuit)
    shown = [naming.point(ref) for ref in open_ends if ref.split(".", 1)[0] in boxes]
    if shown:
        yield (
            f"{capital(listed(shown))} can be joined to nothing: beside a live core a high-impedance meter may then "
            "show 60 to 120 V (common practice, no source); a low-impedance tester shows nothing."
        )
