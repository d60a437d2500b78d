"""Two-wire buses: which device hears which, worked out from what can call over a bus and what listens.

Goes by the parts of devices, never by their kinds. Whether both wires are there is left to the solver.
"""

from collections.abc import Mapping
from dataclasses import replace

from generator.catalogue.logic import All, Any, Expr, Joined, Not
from generator.catalogue.parts import Bus, DeviceParts


def with_buses(parts: Mapping[str, DeviceParts]) -> dict[str, DeviceParts]:
    """The parts of devices, by device and with whole names, with what is heard over buses filled in.

    A listening end hears a calling end to which both of its wires lead, either way round.
    """
    telling = [bus for each in parts.values() for bus in each.buses if bus.tells is not None]
    return {name: _with_heard(each, telling) for name, each in parts.items()}


def _with_heard(parts: DeviceParts, telling: list[Bus]) -> DeviceParts:
    heard = {bus.hears: bus for bus in parts.buses if bus.hears}
    if not heard:
        return parts
    return replace(
        parts,
        driven=tuple(
            replace(item, when=_heard(heard[item.name], telling)) if item.name in heard else item
            for item in parts.driven
        ),
    )


def _heard(here: Bus, telling: list[Bus]) -> Expr:
    calls: list[Expr] = []
    for there in telling:
        if there.tells is None:
            continue
        straight = All((Joined(here.a, there.a), Joined(here.b, there.b)))
        crossed = All((Joined(here.a, there.b), Joined(here.b, there.a)))
        calls.append(All((Any((straight, crossed)), there.tells)))
    # A bus whose two wires are joined carries no message.
    return All((Not(Joined(here.a, here.b)), Any(tuple(calls))))
