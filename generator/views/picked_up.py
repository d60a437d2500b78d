"""Notes on readings that are no plain voltage: ghosts on open cores, and half-waves behind a diode."""

from collections.abc import Iterator, Sequence

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit
from generator.states.answer import Solution
from generator.states.ghost import USUAL_LENGTH_M, Ghost, ghosts
from generator.states.half_wave import half_wave
from generator.states.volts_meter import HIGH_IMPEDANCE, LOW_IMPEDANCE, incoming_neutral
from generator.views.readings import StateReadings
from generator.views.wording import Naming, listed, lower

_MANY_STATES = 3
_WORTH_TELLING_V = 5.0
"""A ghost below this on a multimeter puzzles nobody; our own choice, for wording only."""


def ghost_notes(solution: Solution, read: Sequence[StateReadings]) -> Iterator[str]:
    """Each terminal that can be open beside a live core, with what both sorts of meter may show."""
    circuit = solution.circuit
    if not circuit.supplies:
        return
    seen: dict[str, list[Ghost]] = {}
    for one in read:
        for ghost in ghosts(
            circuit, one.volts, (HIGH_IMPEDANCE, LOW_IMPEDANCE), to=incoming_neutral(circuit)
        ):
            if ghost.volts[0] >= _WORTH_TELLING_V:
                for ref in _told(circuit, ghost):
                    seen.setdefault(ref, []).append(ghost)
    if not seen:
        return
    alike: dict[str, list[str]] = {}
    for ref, found in seen.items():
        low = max(ghost.volts[1] for ghost in found)
        values = f"{_span([ghost.volts[0] for ghost in found])} V, {f'{low:.1f}' if low >= 0.05 else 'under 0.1'} V"
        alike.setdefault(values, []).append(ref)
    naming = Naming(circuit)
    points = listed(
        [f"{listed([naming.point(ref) for ref in refs])} ({values})" for values, refs in alike.items()]
    )
    taken = dict.fromkeys(
        cable for found in seen.values() for ghost in found if ghost.assumed for cable in ghost.cables
    )
    length = (
        f", and {USUAL_LENGTH_M:g} m for a cable of no recorded length ({listed(list(taken))})"
        if taken
        else ""
    )
    yield (
        f"Ghost voltage: {points} can be joined to nothing beside a live core. The first figure is what a multimeter may "
        "then show, the second what a low-impedance tester shows at most; worked out with 100 pF a metre between cores, "
        f"from memory{length}. Commonly 60 to 120 V are told of (common practice, no source)."
    )


def _told(circuit: Circuit, ghost: Ghost) -> tuple[str, ...]:
    """The terminals of wiring centres among them, or all where there are none."""
    centres = {device.name for device in circuit.with_duty(Duty.CENTRE)}
    return tuple(ref for ref in ghost.refs if ref.split(".", 1)[0] in centres) or ghost.refs


def _span(values: Sequence[float]) -> str:
    low, high = f"{min(values):.0f}", f"{max(values):.0f}"
    return low if low == high else f"{low} to {high}"


def half_wave_notes(solution: Solution, read: Sequence[StateReadings]) -> Iterator[str]:
    """Terminals that hang on a diode in some shown state."""
    alike: dict[tuple[tuple[str, str], ...], list[StateReadings]] = {}
    for one in read:
        hanging = tuple(
            (ref, reading.shown) for ref, reading in one.by_terminal.items() if reading.word == "half-wave"
        )
        if hanging:
            alike.setdefault(hanging, []).append(one)
    naming = Naming(solution.circuit)
    for hanging, states in alike.items():
        by_range: dict[str, list[str]] = {}
        for ref, shown in hanging:
            by_range.setdefault(shown, []).append(naming.point(ref))
        values = listed([f"{listed(points)} ({shown} V)" for shown, points in by_range.items()])
        yield (
            f"Half-wave: while {_when(states)}, {values} hang on the diode of {_valves(solution.circuit, states[0])}. What "
            f"is shown depends on the meter and the motor{_direct(solution.circuit, states[0], hanging[0][0])}; no fault by "
            "itself."
        )


def _direct(circuit: Circuit, one: StateReadings, ref: str) -> str:
    """What the d.c. range of a multimeter shows at the first of them."""
    found = half_wave(circuit, one.volts, HIGH_IMPEDANCE, to=incoming_neutral(circuit)).get(ref)
    return "" if found is None else f" (on a d.c. range {found.mean[0]:.0f} to {found.mean[1]:.0f} V)"


def _when(states: Sequence[StateReadings]) -> str:
    words = [one.state.words for one in states]
    if len(words) > _MANY_STATES:
        return f"{words[0]} and in {len(words) - 1} more of the states shown"
    return listed(words, "or while") if len(words) > 1 else words[0]


def _valves(circuit: Circuit, one: StateReadings) -> str:
    names = {diode.split(".", 1)[0] for diode in one.volts.diodes}
    return listed([f"the {lower(device.words)}" for device in circuit.devices if device.name in names])
