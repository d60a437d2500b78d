"""Search for the order of the devices that makes a drawing easy to follow.

It knows numbers only (see `rows`). Two starting arrangements are known to be good: controls on one side and plant on
the other; and each zone's devices together, the zones shared over both sides. Each is then improved by swapping
neighbours. The work is counted, not timed, so the same input gives the same drawing on every machine.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache

from generator.drawings.channel import crossings_bound, density
from generator.drawings.rows import NOWHERE, Rows, Wiring, lay_rows

Order = tuple[int, ...]
Columns = tuple[Order, Order]

# Comparisons of two nets that a search may make; about 0.2 s.
_BUDGET = 600_000

# What one core that goes round from column to column is held to cost, in crossings.
_PASSAGE_COST = 8

# What a zone whose devices stand in both columns is held to cost, in crossings: the eye looks for them together.
_SPLIT_COST = 4

# A crossing costs as much as this area (in units of 8 x 8 px): 20,000 px².
_AREA_PER_CROSSING = 312.5

# Where all stands on one side, for a phone, a track costs this many crossings: width is what a phone lacks.
_TRACK_COST = 6

# Width of everything but the tracks, in units of 8 px.
_FIXED_WIDTH = 52


@dataclass(frozen=True, slots=True, kw_only=True)
class Hints:
    """What the devices are to each other: for each its zone (empty: none), and whether it controls."""

    groups: tuple[str, ...]
    controls: tuple[bool, ...]


@dataclass(slots=True)
class _Search:
    wiring: Wiring
    hints: Hints
    budget: int = _BUDGET
    seen: dict[Columns, tuple[float, Rows]] = field(default_factory=dict)

    def cost(self, columns: Columns) -> float:
        return self.visit(columns)[0]

    def visit(self, columns: Columns) -> tuple[float, Rows]:
        if columns not in self.seen:
            rows = lay_rows(self.wiring, *columns)
            self.budget -= sum(len(nets) ** 2 // 2 for nets in rows.nets)
            crossings = sum(crossings_bound(nets) for nets in rows.nets)
            width = _FIXED_WIDTH + sum(density(nets) for nets in rows.nets)
            cost = (
                crossings + _PASSAGE_COST * len(rows.passage_row) + width * rows.height / _AREA_PER_CROSSING
            )
            self.seen[columns] = cost, rows
        return self.seen[columns]


@lru_cache(maxsize=512)
def place_devices(wiring: Wiring, hints: Hints) -> Rows:
    """Return the rows of the best arrangement found within the budget of work.

    Remembered, since houses of one type are wired alike: nothing but numbers decides.
    """
    search = _Search(wiring, hints)
    starts = sorted(dict.fromkeys(_starts(wiring, hints)), key=search.cost)
    best = starts[0]
    for start in starts:
        found = _improve(search, start)
        if search.cost(found) < search.cost(best):
            best = found
    return search.visit(best)[1]


def _starts(wiring: Wiring, hints: Hints) -> Iterator[Columns]:
    boxes = tuple(range(len(wiring.box_rows)))
    if wiring.one_sided:
        yield (), boxes
        yield (), _by_terminal(wiring, boxes)
        return
    for first in (_controls(boxes, hints), *_zones_shared(wiring, boxes, hints)):
        left = tuple(box for box in boxes if box in first)
        right = tuple(box for box in boxes if box not in first)
        yield left, right
        yield _by_terminal(wiring, left), _by_terminal(wiring, right)


def _controls(boxes: Order, hints: Hints) -> set[int]:
    return {box for box in boxes if hints.controls[box]}


def _zones_shared(wiring: Wiring, boxes: Order, hints: Hints) -> Iterator[set[int]]:
    """Yield the left columns that hold the first zones: the split that balances the columns, and the next one."""
    zones = list(dict.fromkeys(group for group in hints.groups if group))
    tall = [wiring.box_head[box] + wiring.box_rows[box] for box in boxes]
    found = []
    for count in range(len(zones) + 1):
        first = set(zones[:count])
        left = {
            box for box in boxes if (hints.groups[box] in first if hints.groups[box] else hints.controls[box])
        }
        balance = abs(sum(tall) - 2 * sum(tall[box] for box in left))
        found.append((balance, count, left))
    found.sort(key=lambda entry: entry[:2])
    yield from (left for _, _, left in found[:2])


def _by_terminal(wiring: Wiring, boxes: Order) -> Order:
    """Sort devices by the mean terminal that their cores go to; a device without any stays last."""
    reached: dict[int, list[int]] = {box: [] for box in boxes}
    for end, box in enumerate(wiring.box_of):
        if box in reached and wiring.cell_of[end ^ 1] != NOWHERE:
            reached[box].append(wiring.cell_of[end ^ 1])
    last = len(wiring.cell_lead)
    return tuple(
        sorted(boxes, key=lambda box: sum(reached[box]) / len(reached[box]) if reached[box] else last)
    )


def _improve(search: _Search, columns: Columns) -> Columns:
    """Swap neighbours, then move single devices to other places, while that lowers the cost and the budget lasts."""
    kinds = (_swaps,) if search.wiring.one_sided else (_swaps, _moves_across)
    improved = True
    while improved and search.budget > 0:
        improved = False
        for moves in kinds:
            for step in range(len(search.wiring.box_rows)):
                changed = moves(columns, step)
                if changed is None or search.budget <= 0:
                    continue
                if search.cost(changed) < search.cost(columns):
                    columns, improved = changed, True
    return columns


def _swaps(columns: Columns, step: int) -> Columns | None:
    """Swap the device at `step`, counted down the left column and then the right one, with the next one below."""
    left, right = columns
    if step < len(left) - 1:
        return _swapped(left, step), right
    step -= len(left)
    if 0 <= step < len(right) - 1:
        return left, _swapped(right, step)
    return None


def _swapped(order: Order, index: int) -> Order:
    return (*order[:index], order[index + 1], order[index], *order[index + 2 :])


def _moves_across(columns: Columns, step: int) -> Columns | None:
    """Move the device at `step`, counted as in `_swaps`, to the same height of the other column."""
    left, right = columns
    if step < len(left):
        place = round(step / len(left) * len(right))
        return (*left[:step], *left[step + 1 :]), (*right[:place], left[step], *right[place:])
    step -= len(left)
    if step < len(right):
        place = round(step / len(right) * len(left))
        return (*left[:place], right[step], *left[place:]), (*right[:step], *right[step + 1 :])
    return None
