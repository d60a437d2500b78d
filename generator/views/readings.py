"""What a meter shows at each terminal to neutral and to earth in each shown state, and what that means.

The numbers come from the volts solver, the words from the all-state solver; both are shown side by side.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.states.answer import Solution
from generator.states.half_wave import Band, HalfWave, half_wave
from generator.states.space import true_in
from generator.states.volts import VoltsResult, solve_volts
from generator.states.volts_meter import (
    HIGH_IMPEDANCE,
    Meter,
    incoming_earth,
    incoming_neutral,
    readings,
)
from generator.views.shown_states import ShownState, answer_for

BAND_V = (216.2, 253.0)
"""Supply voltage of 230 V +10 % -6 %: Electricity Safety, Quality and Continuity Regulations 2002."""


UNFED_BELOW_V = 10.0
"""Below this a terminal that only loads join to the supply is called not fed; our own choice, for wording only."""


RESTLESS = "may come and go"
"""In a state that never comes to rest nothing firm can be said of any terminal."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One terminal in one state: volts to neutral and to earth, what it is joined to, and a plain word.

    ``word``: live, neutral and earth are by metal; dead is joined to a supply by loads only and has no
    voltage worth the name, through a load has; half-wave hangs on a diode; apart has a small source of its own and
    nothing of the mains; open is joined to nothing. ``live`` is the all-state answer. ``band_v`` and
    ``band_to_earth_v`` are what meters of different sorts may show, and stand in place of the plain numbers, where
    the point hangs on a diode; None elsewhere.
    """

    to_neutral_v: float
    to_earth_v: float
    word: str
    live: bool
    band_v: Band | None = None
    band_to_earth_v: Band | None = None

    @property
    def shown(self) -> str:
        """The reading to neutral as it is printed, in whole volts; a band as ``60–190``."""
        return _printed(self.to_neutral_v, self.band_v)

    @property
    def shown_to_earth(self) -> str:
        """The reading to earth as it is printed, as to neutral."""
        return _printed(self.to_earth_v, self.band_to_earth_v)


def _printed(volts: float, band: Band | None) -> str:
    return f"{volts:.0f}" if band is None else f"{band[0]:.0f}–{band[1]:.0f}"


@dataclass(frozen=True, slots=True, kw_only=True)
class StateReadings:
    """All terminals in one shown state, and what the devices do there."""

    state: ShownState
    number: int
    by_terminal: Mapping[str, Reading]
    volts: VoltsResult


def state_number(solution: Solution, state: ShownState) -> int:
    """The number of a shown state in the solved space."""
    return solution.space.state(state.on)


def read_states(
    solution: Solution, states: Sequence[ShownState], *, meter: Meter = HIGH_IMPEDANCE
) -> tuple[StateReadings, ...]:
    """Solve every shown state in volts and read every terminal with one meter at a time."""
    return tuple(
        _read(solution, state, meter, metal)
        for state, metal in zip(states, _by_metal(solution, states), strict=True)
    )


def _by_metal(solution: Solution, states: Sequence[ShownState]) -> list[dict[str, str]]:
    """For each state, what metal joins each terminal to: live, neutral, earth, or not there where to nothing.

    Each vector is looked into once for all states that it answers; most terminals share theirs with others.
    """
    found: list[dict[str, str]] = [{} for _ in states]
    asked = [(answer_for(solution, state), state_number(solution, state)) for state in states]
    for answer in {id(answer): answer for answer, _ in asked}.values():
        rows = [at for at, (other, _) in enumerate(asked) if other is answer]
        numbers = [asked[at][1] for at in rows]
        for word, vectors in (("live", answer.line), ("neutral", answer.neutral), ("earth", answer.earth)):
            known: dict[int, list[bool]] = {}
            for place in solution.circuit.terminals:
                vector = vectors[place.ref]
                if id(vector) not in known:
                    known[id(vector)] = true_in(vector, numbers)
                for at, holds in zip(rows, known[id(vector)], strict=True):
                    if holds:
                        found[at].setdefault(place.ref, word)
    return found


def _read(solution: Solution, state: ShownState, meter: Meter, metal: Mapping[str, str]) -> StateReadings:
    circuit = solution.circuit
    number = state_number(solution, state)
    restless = bool(solution.hunting >> number & 1)
    inputs = solution.inputs_in(number)
    volts = solve_volts(circuit, inputs, start=dict.fromkeys(state.start, True))
    refs = [place.ref for place in circuit.terminals]
    if circuit.supplies:
        to_neutral = readings(circuit, volts, meter, refs, to=incoming_neutral(circuit))
        to_earth = readings(circuit, volts, meter, refs, to=incoming_earth(circuit))
    else:
        to_neutral = to_earth = dict.fromkeys(refs, 0.0)
    to_neutral_half: Mapping[str, HalfWave] = {}
    to_earth_half: Mapping[str, HalfWave] = {}
    if volts.diodes and circuit.supplies:
        to_neutral_half = half_wave(circuit, volts, meter, to=incoming_neutral(circuit))
        to_earth_half = half_wave(circuit, volts, meter, to=incoming_earth(circuit))
    return StateReadings(
        state=state,
        number=number,
        volts=volts,
        by_terminal={
            ref: Reading(
                to_neutral_v=to_neutral[ref],
                to_earth_v=to_earth[ref],
                word=RESTLESS
                if restless
                else metal.get(ref) or _word(ref, volts, to_neutral[ref], half=ref in to_neutral_half),
                live=not restless and metal.get(ref) == "live",
                band_v=to_neutral_half[ref].band if ref in to_neutral_half else None,
                band_to_earth_v=to_earth_half[ref].band if ref in to_earth_half else None,
            )
            for ref in refs
        },
    )


def _word(ref: str, result: VoltsResult, volts: float, *, half: bool) -> str:
    """The word for a point that no metal joins to a supply."""
    if half:
        return "half-wave"
    if ref in result.apart:
        return "apart"
    if ref in result.floating:
        return "open"
    return "not fed" if volts < UNFED_BELOW_V else "through a load"
