"""The ways in which the wiring of a house fails: a core off, two cores joined, a core on earth, two exchanged.

A core that joins line to neutral or earth in some state blows the fuse; that is what it is taken for.
"""

from collections.abc import Iterator
from itertools import combinations

from generator.catalogue.parts import Role
from generator.circuit.model import Circuit, Conductor
from generator.faults.fault import Change, Fault, Of
from generator.states.answer import Solution


def conductor_faults(solution: Solution) -> Iterator[Fault]:
    """Every fault of every conductor, in the order of the record.

    Args:
        solution: of the house without a fault; says which cores a joint would short.
    """
    circuit = solution.circuit
    earthed = {place.ref for place in circuit.terminals if place.terminal.role is Role.EARTH}
    for conductor in circuit.conductors:
        at = f"{conductor.a}:{conductor.b}"
        cut = Change(of=Of.CONDUCTOR, name=str(conductor.index))
        yield Fault(
            name=f"core-off:{at}", words=f"{_core(conductor)} off its terminal, or loose", changes=(cut,)
        )
        if not conductor.is_link and conductor.b not in earthed:
            yield Fault(
                name=f"core-to-earth:{at}",
                words=f"{_core(conductor)} touching earth",
                changes=_blown(solution, conductor.b),
            )
    for supply in circuit.supplies:
        yield from _reversed(circuit, supply.line, supply.neutral)
    for first, second in combinations(circuit.conductors, 2):
        if not first.cable or first.cable != second.cable:
            continue
        if first.b in earthed or second.b in earthed or _same_net(solution, first, second):
            continue
        at = f"{first.a}:{first.b}:{second.a}:{second.b}"
        yield Fault(
            name=f"core-to-core:{at}",
            words=f"{_core(first)} touching {_core(second)}",
            changes=_blown(solution, first.b, second.b)
            if _shorts(solution, first.b, second.b)
            else (Change(of=Of.BRIDGE, name=first.b, other=second.b),),
        )
        yield Fault(
            name=f"cores-exchanged:{at}",
            words=f"{_core(first)} and {_core(second)} exchanged",
            by_work=True,
            changes=(
                Change(of=Of.CONDUCTOR, name=str(first.index)),
                Change(of=Of.CONDUCTOR, name=str(second.index)),
                Change(of=Of.BRIDGE, name=first.a, other=second.b),
                Change(of=Of.BRIDGE, name=second.a, other=first.b),
            ),
        )


def _core(conductor: Conductor) -> str:
    what = f"core {conductor.core}" if conductor.core else "link"
    return f"{what} from {conductor.a} to {conductor.b}"


def _blown(solution: Solution, *points: str) -> tuple[Change, ...]:
    """The line broken, as by its fuse, of every supply that makes one of the points live in some state."""
    circuit = solution.circuit
    lines = {
        supply.line
        for supply in circuit.supplies
        if any(
            answer.joined[supply.line][point] & answer.at for answer in solution.answers for point in points
        )
    }
    return tuple(
        Change(of=Of.CONTACT, name=contact.name)
        for contact in circuit.contacts
        if {contact.a, contact.b} & lines
    )


def _reversed(circuit: Circuit, line: str, neutral: str) -> Iterator[Fault]:
    """Line and neutral exchanged at a supply."""
    ways = [(c, c.b if c.a == line else c.a) for c in circuit.contacts if line in (c.a, c.b)]
    backs = [(c, c.b if c.a == neutral else c.a) for c in circuit.contacts if neutral in (c.a, c.b)]
    device = line.split(".", 1)[0]
    if len(ways) != 1 or len(backs) != 1:
        return
    (way, out), (back, out_neutral) = ways[0], backs[0]
    yield Fault(
        name=f"polarity-reversed:{device}",
        words=f"{circuit.device(device).words}: line and neutral reversed",
        by_work=True,
        device=device,
        changes=(
            Change(of=Of.CONTACT, name=way.name),
            Change(of=Of.CONTACT, name=back.name),
            Change(of=Of.BRIDGE, name=line, other=out_neutral),
            Change(of=Of.BRIDGE, name=neutral, other=out),
        ),
    )


def _shorts(solution: Solution, a: str, b: str) -> bool:
    for answer in solution.answers:
        backs = [answer.neutral[point] | answer.earth[point] for point in (a, b)]
        if (answer.line[a] & backs[1] | answer.line[b] & backs[0]) & answer.at:
            return True
    return False


def _same_net(solution: Solution, first: Conductor, second: Conductor) -> bool:
    """Whether the cores are joined by metal in every state, so that joining or exchanging them changes nothing."""
    everywhere = solution.space.everywhere
    for supply in solution.circuit.supplies:
        for point in (supply.line, supply.neutral, supply.earth):
            reached = solution.settled.joined[point]
            if reached[first.b] == reached[second.b] == everywhere:
                return True
    return False
