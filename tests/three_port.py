"""What tests on three-port valves share: a bare valve on two switches, whole houses, and where a valve stands."""

from generator.circuit.model import Circuit
from generator.pipeline import Examination, examine_text
from generator.rules.example_house import TODAY
from generator.rules.example_three_port import MID_POSITION
from generator.states.answer import Answer, Solution
from generator.states.timeline import Moment, run
from generator.views.history import half_wave_on
from generator.views.shown_states import parts_on
from tests.circuits import house

B, MID, A = "cylinder only", "both", "heating only"
"""Positions by what they do, never by the letters of the ports."""
STARTS = {
    B: ("valve.open-water",),
    MID: ("valve.past-1", "valve.open-heating", "valve.open-water"),
    A: ("valve.past-1", "valve.past-2", "valve.open-heating"),
}
NO_LEVER = ("three-port-mid-position-valve", {"lever": "none"})


def bare_valve() -> Circuit:
    """A mid-position valve of which white and grey each hang on a switch of their own."""
    return house(
        devices={
            "spur": "fused-spur",
            "white": "room-thermostat",
            "grey": "room-thermostat",
            "valve": NO_LEVER,
        },
        conductors=[
            ("spur.L", "white.common", "BN"),
            ("spur.L", "grey.common", "BN", "second"),
            ("white.call", "valve.heat", "WH"),
            ("grey.call", "valve.water-off", "GY"),
            ("valve.N", "spur.N", "BU"),
        ],
    )


def mid_position(record: str = MID_POSITION) -> Examination:
    """A house with a mid-position valve, examined."""
    examination = examine_text(record, today=TODAY, file="example.yaml", folder=None)
    assert examination.solution is not None, examination.findings
    return examination


def settled_from(solution: Solution, start: tuple[str, ...], on: set[str]) -> tuple[Answer, int]:
    """The settled result once exactly these inputs are on, from driven parts that were on before; and its state.

    Found by the simulation in time; the all-state solver must have listed it.
    """
    circuit = solution.circuit
    number = solution.space.state(on)
    before = Moment(
        inputs=solution.inputs_in(number), driven={part.name: part.name in start for part in circuit.driven}
    )
    timeline = run(circuit, before, [(0.0, {})])
    assert timeline.quiet
    ended = tuple(name for name, is_on in timeline.end.driven.items() if is_on)
    for answer in solution.answers:
        if answer.at >> number & 1 and parts_on(answer, number) == ended:
            return answer, number
    raise AssertionError(f"the solver does not list {ended}")


def position(answer: Answer, number: int, valve: str = "valve") -> str:
    """Where a three-port valve stands."""
    heating, water = (answer.on[f"{valve}.open-{way}"] >> number & 1 for way in ("heating", "water"))
    return {(0, 1): B, (1, 1): MID, (1, 0): A}[heating, water]


def drive(solution: Solution, answer: Answer, number: int, valve: str = "valve") -> str:
    """What a mid-position valve's motor has: ``none``, ``half`` the wave, or ``full``."""
    if answer.fed[f"{valve}.motor"] >> number & 1:
        return "full"
    device = solution.circuit.device(valve)
    return "half" if half_wave_on(solution.circuit, device, answer, number) else "none"


def is_live(answer: Answer, number: int, ref: str) -> bool:
    """Whether a point is joined to line."""
    return bool(answer.line[ref] >> number & 1)


def swapped_record(*changes: tuple[str, str]) -> str:
    """The record of the house with a mid-position valve, some text replaced."""
    record = MID_POSITION
    for old, new in changes:
        assert record.count(old) == 1, old
        record = record.replace(old, new)
    return record
