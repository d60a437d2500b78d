"""What the water does that nobody asked for, in sentences: for readers who cannot see the drawing, and for print."""

from collections.abc import Callable, Iterator

from generator.rules.states_in_words import states_in_words
from generator.states.answer import Solution
from generator.states.water import CircuitFlow, WaterAnswer, water_answer
from generator.views.water_input import circuit_words
from generator.views.wording import lower


def water_sentences(solution: Solution) -> tuple[str, ...]:
    """What flows against what is asked, what has no way, and what no control stops; empty where all is as it should be.

    All states are looked at, every result of those that depend on what came before among them.
    """
    if not solution.circuit.water.circuits:
        return ()
    return tuple(_sentences(solution, [water_answer(solution, answer) for answer in solution.answers]))


def _sentences(solution: Solution, answers: list[WaterAnswer]) -> Iterator[str]:
    circuit = solution.circuit

    def when(of: Callable[[WaterAnswer], int]) -> str:
        vector = 0
        for answer in answers:
            vector |= of(answer)
        return states_in_words(vector, solution.space, circuit).text if vector else ""

    stuck = when(lambda answer: answer.dead_head)
    if stuck:
        yield f"A pump runs and the water has no way, {stuck}."
    unstopped = {source.name for source in circuit.water.sources if source.of == "solid fuel"}
    for item in circuit.water.circuits:
        name = lower(circuit_words(circuit, item))
        backward = when(_of(item.name, lambda flow: flow.backward))
        if backward:
            nothing = "nobody looked for a check valve" if item.check_valve is None else "nothing stops it"
            yield f"Another pump draws water backwards through {name}, since {nothing}: {backward}."
        if item.source in unstopped:
            yield f"No control stops the heat that goes to {name}."
            continue
        unasked = when(_of(item.name, lambda flow: flow.unasked & ~flow.backward))
        if unasked:
            yield f"The source heats {name} though it does not call, {unasked}."


def _of(circuit: str, what: Callable[[CircuitFlow], int]) -> Callable[[WaterAnswer], int]:
    return lambda answer: what(answer.flow(circuit))
