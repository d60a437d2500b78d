"""What a terminal drawing is made from: wiring centres, devices, cores, and the states that light them.

It holds names and joins as plain data. It knows nothing electrical: why a core is live in a state is not asked here.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

# What stands in place of a colour for a metal link between terminals of one device or of two.
LINK = "link"

# (id of a box, id of its pin) or (id of a strip, id of its cell)
End: TypeAlias = tuple[str, str]


class Role(StrEnum):
    """What a device does for the placing of it: nothing else follows from it but a class name."""

    CONTROL = "control"
    PLANT = "plant"
    VALVE = "valve"
    SUPPLY = "supply"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One terminal of a wiring centre.

    `label` is what is printed beside the terminal ("A", "12"), `words` what it is for ("Hall call"). Without a label
    the words name the terminal.
    `gap_before` says that terminals between this one and the one before are left out of the drawing. `ref` is what a
    page calls the terminal, empty for none.
    """

    id: str
    label: str
    words: str = ""
    live_in: tuple[str, ...] = ()
    gap_before: bool = False
    ref: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """A metal link that joins two or more terminals of one wiring centre."""

    id: str
    cells: tuple[str, ...]
    title: str = ""
    live_in: tuple[str, ...] = ()
    assumed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One wiring centre, or a device that stands in the middle like one.

    `mark` is put before the terminal's label wherever a core names its terminal (`X1:4`), if the drawing has two
    terminals of the same label; else it is not shown.
    """

    id: str
    name: str
    cells: tuple[Cell, ...]
    place: str = ""
    mark: str = ""
    links: tuple[Link, ...] = ()
    gap_after: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """One terminal of a device; `gap_before` and `ref` as in `Cell`.

    A `loose` one is no terminal: a core hangs there that is landed nowhere, and `label` says so.
    """

    id: str
    label: str
    live_in: tuple[str, ...] = ()
    gap_before: bool = False
    ref: str = ""
    loose: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One device.

    `ordered` keeps the pins as they stand (terminals printed in that order); otherwise, as for the cores of a
    flex, they are sorted by the terminal they go to. `group` is the zone it belongs to, empty if it serves all.
    """

    id: str
    name: str
    pins: tuple[Pin, ...]
    role: Role = Role.CONTROL
    place: str = ""
    group: str = ""
    ordered: bool = True
    gap_after: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Core:
    """One core of one cable.

    `code` is its colour by IEC 60757, empty if it was not recorded; `sleeve` the colour put over its ends.
    `to` is None for a spare core that ends in nothing. `code` may be `LINK` for a metal link. `title` is the whole sentence that names it.
    """

    id: str
    code: str
    from_pin: End
    to: End | None
    cable: str = ""
    assumed: bool = False
    sleeve: str | None = None
    title: str = ""
    live_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TerminalDrawing:
    """Everything one terminal drawing shows.

    `prefix` begins every id, so that drawings with different prefixes can share a page: a letter, then letters,
    digits or hyphens. `states` are the ids that `live_in` may name. The order of everything is kept as given.
    """

    prefix: str
    title: str
    strips: tuple[Strip, ...]
    devices: tuple[Box, ...]
    cores: tuple[Core, ...]
    description: str = ""
    states: tuple[str, ...] = ()

    def every_live_in(self) -> Iterator[tuple[str, ...]]:
        """Yield what each part of the drawing says it is live in, in the order of the drawing."""
        for strip in self.strips:
            yield from (cell.live_in for cell in strip.cells)
            yield from (link.live_in for link in strip.links)
        for box in self.devices:
            yield from (pin.live_in for pin in box.pins)
        yield from (core.live_in for core in self.cores)


class DrawingInputError(ValueError):
    """The input of a drawing contradicts itself; a fault of the code that made it, never of a record."""

    def __init__(self, drawing: str, faults: tuple[str, ...]) -> None:
        self.faults = faults
        super().__init__(f"drawing {drawing!r}: {'; '.join(faults)}")


def check_drawing(drawing: TerminalDrawing) -> None:
    """Check that all ids are unique and that everything named exists.

    Raises:
        DrawingInputError: with every fault found.
    """
    faults = [*_repeated(drawing), *_unknown_ends(drawing), *_bad_links(drawing), *_unknown_states(drawing)]
    if faults:
        raise DrawingInputError(drawing.prefix, tuple(faults))


def _repeated(drawing: TerminalDrawing) -> Iterable[str]:
    owners = [*(strip.id for strip in drawing.strips), *(box.id for box in drawing.devices)]
    lists = {"a strip or device": owners, "a core": [core.id for core in drawing.cores]}
    for strip in drawing.strips:
        lists[f"a terminal of {strip.id}"] = [cell.id for cell in strip.cells]
        lists[f"a link of {strip.id}"] = [link.id for link in strip.links]
    for box in drawing.devices:
        lists[f"a terminal of {box.id}"] = [pin.id for pin in box.pins]
    for what, ids in lists.items():
        if len(ids) != len(set(ids)):
            yield f"the id of {what} is used twice"


def _unknown_ends(drawing: TerminalDrawing) -> Iterable[str]:
    known = {(strip.id, cell.id) for strip in drawing.strips for cell in strip.cells}
    known |= {(box.id, pin.id) for box in drawing.devices for pin in box.pins}
    for core in drawing.cores:
        for end in (core.from_pin, core.to):
            if end is not None and end not in known:
                yield f"core {core.id!r} ends at {end!r}, which is not drawn"
        if core.from_pin == core.to:
            yield f"core {core.id!r} has both ends at {core.to!r}"


def _bad_links(drawing: TerminalDrawing) -> Iterable[str]:
    for strip in drawing.strips:
        known = {cell.id for cell in strip.cells}
        for link in strip.links:
            if len(set(link.cells)) < 2 or not known.issuperset(link.cells):
                yield f"link {link.id!r} of {strip.id!r} needs two terminals of that strip or more"


def _unknown_states(drawing: TerminalDrawing) -> Iterable[str]:
    known = set(drawing.states)
    for live_in in drawing.every_live_in():
        for state in live_in:
            if state not in known:
                yield f"something is live in state {state!r}, which the drawing does not list"
