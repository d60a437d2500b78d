"""What was worked out of a circuit as far as a record's own pages and its row tell of it: sentences and counts, no state.

The same for all records that are alike, and small: whoever has it needs no solution.
"""

from dataclasses import dataclass

from generator.kept.store import Kept
from generator.pipeline import Examination, Known, alike
from generator.states.answer import Solution
from generator.states.space import fewest_on
from generator.views.proofs import Proofs, proofs
from generator.views.unusual import Unusual, unusual, valves_by_live_core


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedOut:
    """What was worked out.

    Attributes:
        unusual: Everything unusual, what can hurt first.
        orange: The valves whose permanent live is on the orange core, in words.
        covered: What was solved, in one or more sentences.
        proofs: What was proved over all states; None where nothing was asked.
    """

    unusual: tuple[Unusual, ...]
    orange: tuple[str, ...]
    covered: str
    proofs: Proofs | None


def worked_out(examination: Examination) -> WorkedOut | None:
    """What was worked out of an examined record; None where its circuit could not be solved."""
    record, solution = examination.record, examination.solution
    if record is None or solution is None:
        return None
    return WorkedOut(
        unusual=unusual(record, solution),
        orange=tuple(valve.words for valve in valves_by_live_core(solution)[0]),
        covered=covered(solution),
        proofs=proofs(examination),
    )


def known_worked_out(known: Known, kept: Kept) -> WorkedOut | None:
    """What was worked out of a record, once for all records that are alike; None where it could not be solved.

    Args:
        known: The record.
        kept: What it was examined with.
    """
    if not known.key:
        return None
    return kept.remembered("worked-out", known.key, lambda: _worked_out_alike(known, kept))


def _worked_out_alike(known: Known, kept: Kept) -> WorkedOut:
    told = worked_out(alike(known, kept))
    if told is None:
        raise AssertionError(known.loaded.file)
    return told


def covered(solution: Solution) -> str:
    """What was solved, in one or more sentences: how many states, and which of them hunt or depend on history."""
    count = solution.space.size
    sentence = (
        f"Solved in all {count:,} combinations of {len(solution.space.inputs)} controls."
        if count > 1
        else "Solved in its only state."
    )
    if solution.hunting:
        first = fewest_on(solution.hunting)
        sentence += (
            f" In {solution.hunting.bit_count():,} of them it never comes to rest"
            f"{'' if first is None else f' (state {first})'}."
        )
    remembered = 0
    for memory in solution.memories:
        remembered |= memory.answer.at
    if remembered:
        sentence += f" In {remembered.bit_count():,} of them the result depends on what came before."
    return sentence
