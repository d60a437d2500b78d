"""What every conductor is called, on drawings and in tables alike: by its cable and core, never by its place in a list.

Knows the circuit's names; nothing of how a page shows them.
"""

from collections import Counter

from generator.circuit.model import Circuit, SpareCore


def conductor_names(circuit: Circuit) -> tuple[str, ...]:
    """The name of each conductor by its index: ``cable.core``, and ``one.A+one.B`` for a link.

    No two are alike. A conductor that is put in or taken out leaves the names of all others as they are, unless
    several links join the same two terminals.
    """
    seen: Counter[str] = Counter()
    names = []
    for conductor in circuit.conductors:
        name = f"{conductor.a}+{conductor.b}" if conductor.is_link else f"{conductor.cable}.{conductor.core}"
        seen[name] += 1
        names.append(name if seen[name] == 1 else f"{name}+{seen[name]}")
    return tuple(names)


def spare_name(spare: SpareCore) -> str:
    """The name of a spare core: like that of a conductor, since a core is in one place only."""
    return f"{spare.cable}.{spare.core}"
