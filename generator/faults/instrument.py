"""A circuit with many faults built in, each of which is there in its own case only.

So that all are solved side by side, as words of bits (parallel fault simulation: Seshu, "On an improved diagnosis
program", IEEE Transactions on Electronic Computers EC-14, 1965).
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.catalogue.logic import All, Any, Expr, Fed, Is, Not
from generator.catalogue.parts import Contact
from generator.circuit.model import Circuit
from generator.faults.fault import Change, Fault, Of


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrumented:
    """The circuit with its faults, and in which of them each of the names that were put in is on.

    ``on`` maps such a name to the positions of the faults. ``faults`` are those that were asked for.
    """

    circuit: Circuit
    faults: tuple[Fault, ...]
    on: Mapping[str, tuple[int, ...]]

    def having(self, of: Of, name: str) -> tuple[int, ...]:
        """The positions of the faults that change this."""
        return tuple(
            at
            for at, fault in enumerate(self.faults)
            if any(change.of is of and change.name == name for change in fault.changes)
        )


def instrumented(circuit: Circuit, faults: Sequence[Fault]) -> Instrumented:
    """Build every fault into the circuit.

    Args:
        circuit: the house as it is.
        faults: what may fail; one without changes leaves the house as it is.
    """
    return _Builder(circuit, tuple(faults)).build()


class _Builder:
    def __init__(self, circuit: Circuit, faults: tuple[Fault, ...]) -> None:
        self.circuit = circuit
        self.faults = faults
        self.by: dict[tuple[Of, str, bool, str], list[int]] = {}
        for at, fault in enumerate(faults):
            for change in fault.changes:
                self.by.setdefault(_key(change), []).append(at)
        self.on: dict[str, tuple[int, ...]] = {}

    def switch(self, of: Of, name: str, on: bool = False, other: str = "") -> Expr | None:
        """True in the cases with this change; None where there is none."""
        at = self.by.get((of, name, on, other))
        if at is None:
            return None
        switch = f"fault: {of} {name} {other}{'+' if on else '-'}"
        self.on[switch] = tuple(at)
        return Is(switch)

    def stuck(self, of: Of, name: str, when: Expr) -> Expr:
        off, on = self.switch(of, name), self.switch(of, name, on=True)
        if off is not None:
            when = All((when, Not(off)))
        return when if on is None else Any((when, on))

    def leaves(self, expr: Expr) -> Expr:
        """The expression with stuck inputs and dead loads in it."""
        return _replaced(expr, self.leaf)

    def leaf(self, leaf: Expr) -> Expr:
        if isinstance(leaf, Is):
            return self.stuck(Of.INPUT, leaf.name, leaf)
        if isinstance(leaf, Fed):
            dead = self.switch(Of.LOAD, leaf.load)
            return leaf if dead is None else All((leaf, Not(dead)))
        return leaf

    def build(self) -> Instrumented:
        circuit = self.circuit
        contacts = [
            replace(each, when=self.stuck(Of.CONTACT, each.name, self.leaves(each.when)))
            for each in circuit.contacts
        ]
        kept = []
        for conductor in circuit.conductors:
            cut = self.switch(Of.CONDUCTOR, str(conductor.index))
            if cut is None:
                kept.append(conductor)
            else:
                contacts.append(_contact(f"conductor {conductor.index}", conductor.a, conductor.b, Not(cut)))
        for of, name, on, other in list(self.by):
            if of is Of.BRIDGE:
                bridge = self.switch(of, name, on, other)
                if bridge is not None:
                    contacts.append(_contact(f"bridge {name} {other}", name, other, bridge))
        circuit = replace(
            circuit,
            contacts=tuple(contacts),
            conductors=tuple(replace(each, index=at) for at, each in enumerate(kept)),
            driven=tuple(
                replace(each, when=self.stuck(Of.PART, each.name, self.leaves(each.when)))
                for each in circuit.driven
            ),
            diodes=tuple(replace(each, when=self.leaves(each.when)) for each in circuit.diodes),
        )
        return Instrumented(circuit=circuit, faults=self.faults, on=self.on)


def _key(change: Change) -> tuple[Of, str, bool, str]:
    return (change.of, change.name, change.on, change.other)


def _contact(name: str, a: str, b: str, when: Expr) -> Contact:
    return Contact(name=name, words=name, a=a, b=b, when=when)


def _replaced(expr: Expr, leaf: Callable[[Expr], Expr]) -> Expr:
    match expr:
        case Not(inner):
            return Not(_replaced(inner, leaf))
        case All(of):
            return All(tuple(_replaced(each, leaf) for each in of))
        case Any(of):
            return Any(tuple(_replaced(each, leaf) for each in of))
        case _:
            return leaf(expr)
