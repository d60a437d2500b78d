"""Whether a house is as it was once every control has been put back.

Where nothing in it remembers, that is so by itself: what it does follows from its controls alone. Where something does, every
history with the levers in it is gone through.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.circuit.model import Circuit
from generator.faults.fault import Fault
from generator.faults.simulate import Batch, simulate

AT_ONCE = 3
"""So many levers are moved in any order in one history; of more, each by itself."""
_Result = tuple[int, tuple[int, ...]]
"""In which states, and for every driven part where it is on there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Returned:
    """What was shown.

    ``not_shown`` names the faults with which a latched lever can leave something behind that no other history leaves.
    ``together`` says whether histories with several levers were gone through.
    """

    not_shown: frozenset[str]
    together: bool


def returned(circuit: Circuit, faults: Sequence[Fault], levers: Sequence[str]) -> Returned:
    """Go through every history with levers in it.

    Args:
        circuit: the house.
        faults: those with which something may depend on history; `SOUND` for the house itself.
        levers: inputs of the levers that may be latched.

    Complexity: one simulation with the levers as further inputs, or one for each lever.
    """
    together = len(levers) <= AT_ONCE
    if not levers or not faults:
        return Returned(not_shown=frozenset(), together=True)
    before = _results(circuit, faults, ())
    left: set[str] = set()
    for some in [tuple(levers)] if together else [(lever,) for lever in levers]:
        after = _results(circuit, faults, some)
        left |= {name for name, results in after.items() if _adds(results, before.get(name, []))}
    return Returned(not_shown=frozenset(left), together=together)


def _adds(after: Sequence[_Result], before: Sequence[_Result]) -> bool:
    """Whether there is a result in some state that was not there before."""
    for at, parts in after:
        known = 0
        for at_before, parts_before in before:
            differs = 0
            for one, other in zip(parts, parts_before, strict=True):
                differs |= one ^ other
            known |= at_before & ~differs
        if at & ~known:
            return True
    return False


def _results(circuit: Circuit, faults: Sequence[Fault], levers: Sequence[str]) -> dict[str, list[_Result]]:
    """The settled results with every lever at rest, by fault."""
    # The levers come last, so that their being at rest is the lower part of every block.
    last = [item for item in circuit.inputs if item.name in levers]
    circuit = replace(circuit, inputs=(*(item for item in circuit.inputs if item.name not in levers), *last))
    found: dict[str, list[_Result]] = {}
    for batch in simulate(circuit, faults, [frozenset()], free=levers):
        if not isinstance(batch, Batch):
            continue
        rest = (1 << (batch.free.size >> len(levers))) - 1
        for results in batch.outcomes:
            for result in results:
                ats = batch.blocks(result.answer.at)
                parts = [batch.blocks(vector) for vector in result.answer.on.values()]
                for number, fault in enumerate(batch.faults):
                    at = ats[number] & rest
                    if at:
                        on = tuple(part[number] & at for part in parts)
                        found.setdefault(fault.name, []).append((at, on))
    return found
