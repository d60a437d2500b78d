"""In which of the shown states something is so, asked of vectors over all states.

Knows shown states and answers, nothing of what is asked.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from generator.states.answer import Answer, Solution
from generator.states.space import true_in
from generator.views.shown_states import ShownState, answer_for


@dataclass(frozen=True, slots=True)
class Place:
    """A shown state: its id, its number, and the answer that it stands for."""

    id: str
    number: int
    answer: Answer


def places_of(solution: Solution, states: Sequence[ShownState]) -> tuple[Place, ...]:
    """The shown states with the answer of each, in order."""
    return tuple(
        Place(state.id, solution.space.state(state.on), answer_for(solution, state)) for state in states
    )


def shown_in(places: Sequence[Place], of: Callable[[Answer], int]) -> tuple[str, ...]:
    """The ids of the shown states in which something is so, in order.

    Args:
        places: the shown states.
        of: the vector of an answer; asked once for each answer, since a vector may be long.
    """
    found: dict[str, bool] = {}
    for answer in {id(place.answer): place.answer for place in places}.values():
        here = [place for place in places if place.answer is answer]
        values = true_in(of(answer), [place.number for place in here])
        found |= {place.id: value for place, value in zip(here, values, strict=True)}
    return tuple(place.id for place in places if found[place.id])
