"""The states of a circuit that are held against a second method, solved in volts."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from itertools import islice, product
from random import Random

from generator.circuit.model import Circuit
from generator.states.solve import solve
from generator.states.space import states_in
from generator.states.volts import VoltsResult, solve_volts
from tests.stock import demo_circuits

EVERY_STATE_UP_TO = 4096
AT_RANDOM = 1000
MOST_OF_A_HISTORY = 64


@dataclass(frozen=True, slots=True)
class Solved:
    """A state with its answer; ``scenario`` names the input moved away from its normal value, or the history, if any."""

    scenario: str
    inputs: Mapping[str, bool]
    result: VoltsResult
    start: Mapping[str, bool] = field(default_factory=dict)


def has_many_states(circuit: Circuit) -> bool:
    return 1 << len(circuit.called_inputs) > EVERY_STATE_UP_TO


def called_states(circuit: Circuit) -> Iterator[dict[str, bool]]:
    """Every combination of the calls; where there are too many, the telling ones and 1,000 at random."""
    names = [item.name for item in circuit.called_inputs]
    if not has_many_states(circuit):
        for values in product((False, True), repeat=len(names)):
            yield dict(zip(names, values, strict=True))
        return
    yield from telling_states(circuit)
    chance = Random(20260314)  # noqa: S311 - a choice, not a secret
    for _ in range(AT_RANDOM):
        yield {name: chance.random() < 0.5 for name in names}


def telling_states(circuit: Circuit) -> Iterator[dict[str, bool]]:
    """Nothing calls, everything calls, each zone calls alone, each zone calls but for one of its inputs."""
    names = [item.name for item in circuit.called_inputs]
    rest = dict.fromkeys(names, False)
    yield rest
    yield dict.fromkeys(names, True)
    for zone in circuit.zones:
        call = rest | dict.fromkeys(zone.call_inputs, True)
        yield call
        for name in zone.call_inputs if len(zone.call_inputs) > 1 else ():
            yield call | {name: False}


@cache
def solved_states(name: str) -> tuple[Solved, ...]:
    """The states of the demo circuit of that name: its calls, its telling states in every scenario, every history."""
    circuit = demo_circuits()[name]
    solved = [
        Solved(scenario="", inputs=inputs, result=solve_volts(circuit, inputs))
        for inputs in called_states(circuit)
    ]
    solved += history_states(circuit)
    for item in circuit.inputs:
        if item.normal is None:
            continue
        for inputs in telling_states(circuit):
            moved = {**inputs, item.name: not item.normal}
            solved.append(Solved(scenario=item.name, inputs=moved, result=solve_volts(circuit, moved)))
    return tuple(solved)


def history_states(circuit: Circuit, *, unsure: bool = False) -> Iterator[Solved]:
    """Every state whose result depends on what came before, started from what the all-state solver says rests there."""
    solution = solve(circuit, unsure=unsure)
    for memory in solution.memories:
        for state in islice(states_in(memory.answer.at), MOST_OF_A_HISTORY):
            start = {name: bool(vector >> state & 1) for name, vector in memory.answer.on.items()}
            inputs = solution.inputs_in(state)
            yield Solved(
                scenario=f"after {memory.after}",
                inputs=inputs,
                result=solve_volts(circuit, inputs, start=start, unsure=unsure),
                start=start,
            )
