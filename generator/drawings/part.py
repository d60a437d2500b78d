"""A part of a terminal drawing: the devices of some zones and what they share, with marks where something is left out.

It knows names and joins only. What a shared device has to do with a zone is read from the terminals they meet at.
"""

from collections.abc import Callable, Collection
from dataclasses import replace

from generator.drawings.terminal_model import Box, Core, End, Strip, TerminalDrawing

# The "zone" of all devices that belong to none.
SHARED = ""


def list_groups(drawing: TerminalDrawing) -> tuple[str, ...]:
    """Return the zones in the order of their first device; last the empty one, if some devices belong to none."""
    groups = dict.fromkeys(box.group for box in drawing.devices)
    return tuple(group for group in groups if group != SHARED) + ((SHARED,) if SHARED in groups else ())


def take_zone(drawing: TerminalDrawing, group: str) -> TerminalDrawing:
    """Return the drawing of one zone's devices, or of the shared devices alone if `group` is empty.

    With a zone come the shared devices that meet it at a terminal no other zone uses (its timer channel), but of these
    only the terminals that have to do with the zone; and whatever a core joins to it directly.
    """
    own = {box.id for box in drawing.devices if box.group == group}
    if group == SHARED:
        return _restrict(drawing, own, lambda core: bool(own & _owners(core)))
    users = _users(drawing)
    used = {cell for cell, zones in users.items() if group in zones}
    alone = {cell for cell in used if users[cell] == {group}}
    shared = {box.id for box in drawing.devices if box.group == SHARED}
    helpers = {owner for core in drawing.cores if alone & _ends(core) for owner in shared & _owners(core)}
    helpers |= {strip.id for strip in drawing.strips}
    return _restrict(drawing, own, lambda core: _concerns(core, own, used, helpers))


def split_sheets(drawing: TerminalDrawing, *, zones_per_sheet: int = 4) -> tuple[TerminalDrawing, ...]:
    """Share the zones over drawings that print well; a drawing with no more zones than that stays whole.

    Every core is on one of the sheets at least; what no zone has to do with is on the first.
    """
    zones = [group for group in list_groups(drawing) if group != SHARED]
    if len(zones) <= zones_per_sheet:
        return (drawing,)
    users = _users(drawing)
    helpers = {box.id for box in drawing.devices if box.group == SHARED} | {
        strip.id for strip in drawing.strips
    }
    zoned = {box.id for box in drawing.devices if box.group != SHARED}
    sheets: list[TerminalDrawing] = []
    for start in range(0, len(zones), zones_per_sheet):
        here = set(zones[start : start + zones_per_sheet])
        own = {box.id for box in drawing.devices if box.group in here}
        used = {cell for cell, there in users.items() if here & there}

        def is_here(
            core: Core, own: set[str] = own, used: set[End] = used, *, first: bool = start == 0
        ) -> bool:
            rest = first and not zoned & _owners(core) and not users.keys() & _ends(core)
            return rest or _concerns(core, own, used, helpers)

        sheet = _restrict(drawing, own, is_here)
        sheets.append(replace(sheet, prefix=f"{drawing.prefix}-sheet{len(sheets) + 1}"))
    return tuple(sheets)


def _ends(core: Core) -> set[End]:
    return {core.from_pin} if core.to is None else {core.from_pin, core.to}


def _owners(core: Core) -> set[str]:
    return {owner for owner, _ in _ends(core)}


def _users(drawing: TerminalDrawing) -> dict[End, set[str]]:
    """Return which zones have a core at each terminal of a wiring centre; terminals without are not in it."""
    groups = {box.id: box.group for box in drawing.devices}
    users: dict[End, set[str]] = {}
    for core in drawing.cores:
        zones = {groups.get(owner, SHARED) for owner in _owners(core)} - {SHARED}
        for end in _ends(core):
            if zones and end[0] not in groups:
                users.setdefault(end, set()).update(zones)
    return users


def _concerns(core: Core, own: set[str], used: set[End], helpers: set[str]) -> bool:
    """Tell whether a core is one of the devices `own`, or leads from a helper to a terminal that they use."""
    return bool(own & _owners(core)) or (bool(used & _ends(core)) and _owners(core) <= helpers)


def _restrict(drawing: TerminalDrawing, own: set[str], keep: Callable[[Core], bool]) -> TerminalDrawing:
    """Keep some cores, the devices `own` whole, and of all else only where a kept core ends."""
    cores = tuple(core for core in drawing.cores if keep(core))
    ends = _with_links(drawing, {end for core in cores for end in _ends(core)})
    boxes = (box if box.id in own else _fewer_pins(box, ends) for box in drawing.devices)
    strips = (_fewer_cells(strip, ends) for strip in drawing.strips)
    return replace(
        drawing,
        devices=tuple(box for box in boxes if box.pins),
        strips=tuple(strip for strip in strips if strip.cells),
        cores=cores,
    )


def _with_links(drawing: TerminalDrawing, ends: set[End]) -> set[End]:
    """Add the terminals that metal links join to these, so that no link is cut in two."""
    links = [{(strip.id, cell) for cell in link.cells} for strip in drawing.strips for link in strip.links]
    for _ in links:
        for cells in links:
            if cells & ends:
                ends = ends | cells
    return ends


def _kept_with_gaps(ids: tuple[str, ...], owner: str, ends: Collection[End]) -> tuple[dict[str, bool], bool]:
    """Return the ids kept, each with whether something before it is left out; and whether something after is."""
    kept: dict[str, bool] = {}
    gap = False
    for point in ids:
        here = (owner, point) in ends
        if here:
            kept[point] = gap
        gap = not here
    return kept, gap


def _fewer_pins(box: Box, ends: Collection[End]) -> Box:
    kept, gap = _kept_with_gaps(tuple(pin.id for pin in box.pins), box.id, ends)
    # Pins without an order of their own are sorted later: one mark at the end says that some are left out.
    some = len(kept) < len(box.pins)
    pins = tuple(replace(pin, gap_before=box.ordered and kept[pin.id]) for pin in box.pins if pin.id in kept)
    return replace(box, pins=pins, gap_after=gap if box.ordered else some)


def _fewer_cells(strip: Strip, ends: Collection[End]) -> Strip:
    kept, gap = _kept_with_gaps(tuple(cell.id for cell in strip.cells), strip.id, ends)
    cells = tuple(replace(cell, gap_before=kept[cell.id]) for cell in strip.cells if cell.id in kept)
    links = tuple(link for link in strip.links if set(link.cells) <= kept.keys())
    return replace(strip, cells=cells, gap_after=gap, links=links)
