"""What a valve does by its own mechanism, whatever it is wired to: without supply, and with both outlets.

Works on one device's parts alone; knows neither wiring nor rules.
"""

from collections.abc import Iterator, Mapping
from itertools import product

from generator.catalogue.logic import All, Any, Expr, Is, Not
from generator.circuit.model import PlacedDevice

Position = Mapping[str, bool]


def _holds(expr: Expr, position: Position) -> bool:
    """Whether an expression holds in a position with nothing live, no load fed and no hand at the lever."""
    match expr:
        case Is(name):
            return position.get(name, False)
        case Not(inner):
            return not _holds(inner, position)
        case All(parts):
            return all(_holds(part, position) for part in parts)
        case Any(parts):
            return any(_holds(part, position) for part in parts)
        case _:
            return False


def _positions(valve: PlacedDevice) -> Iterator[dict[str, bool]]:
    names = [part.name for part in valve.parts.driven]
    for values in product((False, True), repeat=len(names)):
        yield dict(zip(names, values, strict=True))


def _without_supply(valve: PlacedDevice, start: Position) -> Position:
    """Where a valve comes to rest once its supply is lost: without drive each part moves at most once."""
    position = dict(start)
    for _ in position:
        position = {part.name: _holds(part.when, position) for part in valve.parts.driven}
    return position


def open_without_supply(valve: PlacedDevice, opens: str) -> bool:
    """Whether a way of the valve may be open once its supply is lost, from wherever it stood before."""
    return any(_without_supply(valve, start)[opens] for start in _positions(valve))


def never_both(valve: PlacedDevice) -> bool:
    """Whether a valve with two outlets has only one of them open at a time, the lever apart.

    True of a diverter valve; a mid-position valve has both open half-way.
    """
    ways = [part for part in valve.parts.driven if part.name.endswith((".open-heating", ".open-water"))]
    if len(ways) < 2:
        return False
    return not any(all(_holds(way.when, position) for way in ways) for position in _positions(valve))
