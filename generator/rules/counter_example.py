"""A counter-example that a person can follow: one state, the path in it, and the reading that would show it.

Knows states, paths and volts; no rule.
"""

from functools import partial

from generator.catalogue.kind import Duty
from generator.catalogue.parts import LoadKind
from generator.circuit.model import PlacedDevice
from generator.rules.behaviour import first_answer
from generator.rules.rule import Subject, When
from generator.rules.states_in_words import state_in_words
from generator.rules.words import device_of, the_device, way
from generator.states.answer import Answer, Solution
from generator.states.space import fewest_on
from generator.states.trace import path
from generator.states.volts import solve_volts
from generator.states.volts_meter import HIGH_IMPEDANCE, incoming_earth, incoming_neutral, readings

_TO_EARTH = "earth"


def live_at(answer: Answer, ref: str) -> int:
    """The states in which a point is live."""
    return answer.at & answer.line[ref]


def shown_live(subject: Subject, ref: str, solution: Solution | None = None) -> str:
    """The counter-example of a point that should not be live: the first state in which it is."""
    return counter_example(subject, subject.when(partial(live_at, ref=ref), solution), ref, solution=solution)


def counter_example(
    subject: Subject,
    when: When,
    ref: str,
    *,
    solution: Solution | None = None,
    to: str = "line",
    lead: str = "",
) -> str:
    """One state in which something is so: what is on, how a point is then joined, and what a meter shows there.

    Args:
        subject: the property.
        when: the states; empty gives an empty text.
        ref: the point that shows it; empty for none.
        solution: the scenario, the normal one when left out.
        to: what the point is, or is not, joined to: ``line``, ``neutral`` or ``earth``.
        lead: words before the state, such as ``during overrun``.
    """
    solution = solution or subject.solution
    if not ref or not subject.telling or not subject.circuit.supplies:
        return ""
    answer, state = _first(subject, when, solution)
    if state is None:
        return ""
    opening = _opening(subject, when, solution, lead)
    return f"{opening}: {_joined(subject, answer, state, ref, to)}{_reading(subject, solution, answer, state, ref, to)}"


def example_state(subject: Subject, when: When, *, solution: Solution | None = None, lead: str = "") -> str:
    """One state in which something is so that shows at no point: what is on, and what changed to lead there."""
    return _opening(subject, when, solution or subject.solution, lead)


def _first(subject: Subject, when: When, solution: Solution) -> tuple[Answer, int | None]:
    answer, vector = (
        first_answer(subject, when) if when.after and not when.settled else (solution.settled, when.settled)
    )
    return answer, fewest_on(vector)


def _opening(subject: Subject, when: When, solution: Solution, lead: str) -> str:
    answer, state = _first(subject, when, solution)
    if state is None:
        return ""
    words = state_in_words(state, solution.space, subject.circuit)
    history = ""
    if answer is not solution.settled:
        memory = next(each for each, _ in when.after if each.answer is answer)
        who = device_of(subject.circuit, memory.after)
        history = f", after {the_device(who)} changed"
    return f"{', '.join(part for part in (lead, words) if part)}{history}"


def drive_of(subject: Subject, opens: str) -> str:
    """The terminal that drives the part that lets water through; empty where it has none of its own."""
    if not opens:
        return ""
    device = device_of(subject.circuit, opens)
    outside = {place.ref for place in subject.circuit.terminals}
    drives = [
        load.a
        for load in device.parts.loads
        if load.kind in (LoadKind.MOTOR, LoadKind.PUMP, LoadKind.HEATER) and load.a in outside
    ]
    return drives[0] if drives else ""


def asking(subject: Subject, boiler: PlacedDevice | None = None) -> str:
    """The terminal at which a boiler is called; empty where that is none that can be read."""
    boilers = (boiler,) if boiler is not None else subject.circuit.with_duty(Duty.BOILER)
    demands = [load.a for each in boilers for load in each.parts.loads if load.kind is LoadKind.DEMAND]
    return demands[0] if demands else ""


def _joined(subject: Subject, answer: Answer, state: int, ref: str, to: str) -> str:
    supplies = subject.circuit.supplies
    starts = [getattr(supply, to) for supply in supplies]
    steps = path(subject.circuit, answer, state, starts, ref)
    if steps is None:
        return f"nothing joins `{ref}` to {to}"
    return f"{to} reaches it by {way(subject.circuit, steps)}" if steps else f"`{ref}` is {to} itself"


def _reading(subject: Subject, solution: Solution, answer: Answer, state: int, ref: str, to: str) -> str:
    circuit = subject.circuit
    if ref not in {place.ref for place in circuit.terminals}:
        return ""
    start = {name: bool(vector >> state & 1) for name, vector in answer.on.items()}
    result = solve_volts(circuit, solution.inputs_in(state), unsure=solution.unsure, start=start)
    earth = to == _TO_EARTH
    far = incoming_earth(circuit) if earth else incoming_neutral(circuit)
    volts = readings(circuit, result, HIGH_IMPEDANCE, [ref], to=far)[ref]
    return f"; a meter shows {volts:.0f} V from `{ref}` to {'earth' if earth else 'neutral'}"
