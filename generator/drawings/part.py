"""A part of a terminal drawing: the devices of some zones and what they share, with marks where something is left out.

It knows names and joins only. What a shared device has to do with a zone is read from the terminals they meet at.
"""

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from generator.drawings.terminal_model import Box, Core, End, Strip, TerminalDrawing

# The "zone" of all devices that belong to none.
SHARED = ""

# A terminal in which more shared devices than this meet is the house's (its neutral), even if one zone alone uses it.
_FEW = 2


def list_groups(drawing: TerminalDrawing) -> tuple[str, ...]:
    """Return the zones in the order of their first device; last the empty one, if some devices belong to none."""
    groups = dict.fromkeys(box.group for box in drawing.devices)
    return tuple(group for group in groups if group != SHARED) + ((SHARED,) if SHARED in groups else ())


def take_zone(drawing: TerminalDrawing, group: str) -> TerminalDrawing:
    """Return the drawing of one zone's devices, or of the shared devices alone if `group` is empty.

    With a zone come the shared devices that meet it, few at a time, at a terminal no other zone uses (its timer
    channel), but of these only the terminals that have to do with the zone; and whatever a core joins to it directly. Cores from one wiring
    centre to another do not come with it.
    """
    return take_devices(drawing, {box.id for box in drawing.devices if box.group == group})


def take_devices(
    drawing: TerminalDrawing, own: Collection[str], pins: Collection[End] | None = None
) -> TerminalDrawing:
    """Return the drawing of some devices of one zone, or of some shared ones, and what meets them.

    Args:
        drawing: the whole.
        own: ids of the devices, all of one zone or of none.
        pins: the only terminals of theirs to show; None for all.
    """
    shown = [box for box in drawing.devices if box.id in own]
    ends = set(pins) if pins is not None else {(box.id, pin.id) for box in shown for pin in box.pins}
    mine = [core for core in drawing.cores if not ends.isdisjoint(_ends(core))]
    whole = set(own) if pins is None else set()
    zones = {box.group for box in shown} - {SHARED}
    if not zones:
        # What leads straight to a zone's device is shown with that zone.
        zoned = {box.id for box in drawing.devices if box.group != SHARED}
        whole -= {owner for core in mine if zoned & _owners(core) for owner in _owners(core)}
        mine = [core for core in mine if not zoned & _owners(core)]
    else:
        users = _users(drawing)
        shared = {box.id for box in drawing.devices if box.group == SHARED}
        busy = Counter(end for core in drawing.cores if shared & _owners(core) for end in _ends(core))
        alone = {end for core in mine for end in _ends(core) if users.get(end) == zones and busy[end] <= _FEW}
        helpers = {owner for core in drawing.cores if alone & _ends(core) for owner in shared & _owners(core)}
        used = {end for core in mine for end in _ends(core) if end in users}
        helped = [core for core in drawing.cores if used & _ends(core) and helpers & _owners(core)]
        mine = [core for core in drawing.cores if core in mine or core in helped]
    return _restrict(drawing, whole, mine)


def take_between(drawing: TerminalDrawing) -> TerminalDrawing | None:
    """Return the drawing of the cores from one wiring centre to another, without any device; None without any."""
    strips = {strip.id for strip in drawing.strips}
    cores = [core for core in drawing.cores if core.to is not None and _owners(core) <= strips]
    return _restrict(drawing, (), cores) if cores else None


def split_to_fit(
    drawing: TerminalDrawing, group: str, fits: Callable[[TerminalDrawing], bool]
) -> tuple[TerminalDrawing, ...]:
    """Return the drawing of one zone (empty: of the shared devices), in as few parts as each needs to fit.

    Devices stay in their order and whole as long as one by itself fits; else its terminals are parted. A single
    terminal is never parted, whether it fits or not. Nothing is returned for a zone without devices of its own.
    """
    boxes = [box for box in drawing.devices if box.group == group]
    if not boxes:
        return ()
    whole = take_zone(drawing, group)
    if fits(whole):
        return (whole,)
    parts: list[TerminalDrawing] = []
    waiting: list[str] = []
    best: TerminalDrawing | None = None
    for box in boxes:
        tried = take_devices(drawing, [*waiting, box.id])
        if best is not None and not fits(tried):
            parts.append(best)
            waiting, tried = [], take_devices(drawing, [box.id])
        if waiting or fits(tried):
            waiting, best = [*waiting, box.id], tried
        else:
            parts += _split_box(drawing, box, fits)
            waiting, best = [], None
    return (*parts, best) if best is not None else tuple(parts)


def _split_box(
    drawing: TerminalDrawing, box: Box, fits: Callable[[TerminalDrawing], bool]
) -> Iterator[TerminalDrawing]:
    """Yield the drawings of one device's terminals, as many at a time as fit."""
    waiting: list[End] = []
    best: TerminalDrawing | None = None
    for pin in box.pins:
        tried = take_devices(drawing, {box.id}, [*waiting, (box.id, pin.id)])
        if best is not None and not fits(tried):
            yield best
            waiting, tried = [], take_devices(drawing, {box.id}, [(box.id, pin.id)])
        waiting, best = [*waiting, (box.id, pin.id)], tried
    if best is not None:
        yield best


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

        kept = [core for core in drawing.cores if is_here(core)]
        left_out = {owner for core in drawing.cores if core not in kept for owner in _owners(core)}
        # A shared device is whole on the sheet that has all of its cores, with the terminals that have none.
        sheet = _restrict(drawing, own | {box.id for box in drawing.devices if box.id not in left_out}, kept)
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


def _restrict(drawing: TerminalDrawing, whole: Collection[str], kept: Sequence[Core]) -> TerminalDrawing:
    """Keep some cores, the devices `whole` with all their terminals, and of all else only where a kept core ends."""
    ends = _with_links(drawing, {end for core in kept for end in _ends(core)})
    more = Counter(end for core in drawing.cores for end in _ends(core))
    more.subtract(end for core in kept for end in _ends(core))
    boxes = (box if box.id in whole else _fewer_pins(box, ends, more) for box in drawing.devices)
    strips = (_fewer_cells(strip, ends, more) for strip in drawing.strips)
    return replace(
        drawing,
        devices=tuple(box for box in boxes if box.pins),
        strips=tuple(strip for strip in strips if strip.cells),
        cores=tuple(kept),
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


def _counted(words: str, more: int) -> str:
    """The words of a terminal with how many cores that land in it are left out."""
    return f"{words} (+{more})".strip() if more else words


def _fewer_pins(box: Box, ends: Collection[End], more: Mapping[End, int]) -> Box:
    kept, gap = _kept_with_gaps(tuple(pin.id for pin in box.pins), box.id, ends)
    # Pins without an order of their own are sorted later: one mark at the end says that some are left out.
    some = len(kept) < len(box.pins)
    pins = tuple(
        replace(pin, gap_before=box.ordered and kept[pin.id], label=_counted(pin.label, more[box.id, pin.id]))
        for pin in box.pins
        if pin.id in kept
    )
    return replace(box, pins=pins, gap_after=gap if box.ordered else some)


def _fewer_cells(strip: Strip, ends: Collection[End], more: Mapping[End, int]) -> Strip:
    kept, gap = _kept_with_gaps(tuple(cell.id for cell in strip.cells), strip.id, ends)
    cells = tuple(
        replace(cell, gap_before=kept[cell.id], words=_counted(cell.words, more[strip.id, cell.id]))
        for cell in strip.cells
        if cell.id in kept
    )
    links = tuple(link for link in strip.links if set(link.cells) <= kept.keys())
    return replace(strip, cells=cells, gap_after=gap, links=links)
