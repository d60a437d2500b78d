"""Whether a house is as it was once every control has been put back.

Where nothing in it remembers, that is so by itself: what it does follows from its controls alone. Where something does, every
history with the levers in it is gone through.
"""

from collections.abc import Sequence

from generator.catalogue.parts import InputKind
from generator.circuit.model import Circuit
from generator.faults.fault import Fault
from generator.faults.simulate import Batch, simulate

_Results = dict[str, set[tuple[int, tuple[bool, ...]]]]


def not_returned(circuit: Circuit, faults: Sequence[Fault], levers: Sequence[str]) -> frozenset[str]:
    """The faults with which a latched lever can leave something behind that no other history leaves.

    Args:
        circuit: the house.
        faults: those with which something may depend on history; `SOUND` for the house itself.
        levers: inputs of the levers that may be latched.

    Complexity: one simulation with the levers as further inputs.
    """
    if not levers or not faults:
        return frozenset()
    before, after = _results(circuit, faults, ()), _results(circuit, faults, levers)
    return frozenset(name for name, results in after.items() if results - before.get(name, set()))


def _results(circuit: Circuit, faults: Sequence[Fault], levers: Sequence[str]) -> _Results:
    """The settled results with every lever at rest, by fault."""
    every = [item.name for item in circuit.inputs if item.kind is InputKind.LEVER]
    found: _Results = {}
    # Levers that nobody latches stay at rest by their standing value.
    for batch in simulate(circuit, faults, [frozenset()], free=[name for name in every if name in levers]):
        if not isinstance(batch, Batch):
            continue
        rest = batch.free.everywhere
        for lever in levers:
            rest &= ~batch.free.where(lever)
        kept = [name for name in batch.free.inputs if name not in levers]
        for results in batch.outcomes:
            for result in results:
                ats = batch.blocks(result.answer.at)
                parts = [batch.blocks(vector & result.answer.at) for vector in result.answer.on.values()]
                for number, fault in enumerate(batch.faults):
                    here = ats[number] & rest
                    for state in range(batch.free.size):
                        if here >> state & 1:
                            values = batch.free.values(state)
                            small = sum(1 << i for i, name in enumerate(kept) if values[name])
                            pattern = tuple(bool(part[number] >> state & 1) for part in parts)
                            found.setdefault(fault.name, set()).add((small, pattern))
    return found
