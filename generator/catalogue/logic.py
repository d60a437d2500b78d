"""Boolean expressions that say when a contact is made or a part has moved.

An expression speaks of one device (names as its kind gives them) or, once placed in a circuit, of
the whole house (names prefixed ``device.``). It knows nothing of how states are solved.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Is:
    """True while the named input or driven part is on."""

    name: str


@dataclass(frozen=True, slots=True)
class Fed:
    """True while the named load has line on one side and neutral on the other, by metal alone."""

    load: str


@dataclass(frozen=True, slots=True)
class Not:
    """The opposite of another expression."""

    of: "Expr"


@dataclass(frozen=True, slots=True)
class All:
    """True while every part is true; true when empty."""

    of: tuple["Expr", ...]


@dataclass(frozen=True, slots=True)
class Any:
    """True while at least one part is true; false when empty."""

    of: tuple["Expr", ...]


@dataclass(frozen=True, slots=True)
class Unsure:
    """Not known: every answer built on it must be right whichever it is."""


@dataclass(frozen=True, slots=True)
class Live:
    """True while the point is joined to a supply's line by metal."""

    point: str


@dataclass(frozen=True, slots=True)
class Back:
    """True while the point is joined to a supply's neutral or earth by metal."""

    point: str


@dataclass(frozen=True, slots=True)
class Joined:
    """True while the two points are joined to each other by metal, whatever they carry."""

    a: str
    b: str


Leaf = Is | Fed | Live | Back | Joined | Unsure
Expr = Leaf | Not | All | Any

ALWAYS = All(())
NEVER = Any(())


def renamed(expr: Expr, name: Callable[[str], str]) -> Expr:
    """The same expression with every input, part and load name passed through ``name``."""
    match expr:
        case Is(old):
            return Is(name(old))
        case Fed(old):
            return Fed(name(old))
        case Live(old):
            return Live(name(old))
        case Back(old):
            return Back(name(old))
        case Joined(first, second):
            return Joined(name(first), name(second))
        case Not(inner):
            return Not(renamed(inner, name))
        case All(parts):
            return All(tuple(renamed(part, name) for part in parts))
        case Any(parts):
            return Any(tuple(renamed(part, name) for part in parts))
        case Unsure():
            return expr


def atoms(expr: Expr) -> Iterator[Leaf]:
    """Every leaf of the expression, left to right, repeats included."""
    match expr:
        case Not(inner):
            yield from atoms(inner)
        case All(parts) | Any(parts):
            for part in parts:
                yield from atoms(part)
        case _:
            yield expr
