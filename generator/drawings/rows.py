"""Which row every conductor's end stands on, for a given order of the devices.

It knows numbers only: devices, terminals and ends are indices. A row is 8 px. Device terminals stand on odd rows and
landings at a wiring centre on even rows, so that no two horizontals in one channel can ever meet.

An end is numbered `2 * core` or `2 * core + 1`; a core without a second end is spare.
"""

from dataclasses import dataclass

from generator.drawings.channel import Net

LEFT, RIGHT = 0, 1
NOWHERE = -1

# Rows from one terminal, or one landing in it, to the next: 16 px.
PITCH = 2

# The most rows that are added between two devices of a short column.
_MOST_SLACK = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Wiring:
    """The drawing as numbers. All heights are even numbers of rows.

    `box_head` is the height of a device's name above its terminals, `box_rows` that of its terminals.
    `box_of`, `offset_of`: for each end its device and the row below that device's top edge; `cell_of`: its terminal.
    `cell_lead` is what stands above a terminal: the name of its wiring centre, or a mark for those left out.
    `cell_least` is the height that a terminal's words need; its cores may need more.
    `tail` is what stands below the last terminal. `one_sided` puts everything to the right.
    """

    box_head: tuple[int, ...]
    box_rows: tuple[int, ...]
    box_of: tuple[int, ...]
    offset_of: tuple[int, ...]
    cell_of: tuple[int, ...]
    cell_lead: tuple[int, ...]
    cell_least: tuple[int, ...]
    tail: int = 0
    one_sided: bool = False

    @property
    def ends(self) -> int:
        return len(self.box_of)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """Where everything stands.

    `end_row` and `end_side` are per end; `passage_row` per core that goes round from one column to the other;
    `nets` are the conductors of the left and of the right channel, each with the core it belongs to.
    """

    order: tuple[tuple[int, ...], tuple[int, ...]]
    height: int
    box_top: tuple[int, ...]
    cell_top: tuple[int, ...]
    cell_height: tuple[int, ...]
    end_row: tuple[int, ...]
    end_side: tuple[int, ...]
    passage_row: dict[int, int]
    nets: tuple[list[Net], list[Net]]
    net_core: tuple[list[int], list[int]]


def lay_rows(wiring: Wiring, left: tuple[int, ...], right: tuple[int, ...]) -> Rows:
    """Place the devices of both columns, and give every end its row. O(n log n) in the number of ends."""
    side_of_box = [LEFT] * len(wiring.box_rows)
    for box in right:
        side_of_box[box] = RIGHT
    end_side, round_about = _choose_sides(wiring, side_of_box)
    at_cell: list[tuple[list[int], list[int]]] = [([], []) for _ in wiring.cell_lead]
    for end, cell in enumerate(wiring.cell_of):
        if cell != NOWHERE:
            at_cell[cell][end_side[end]].append(end)
    cell_height = tuple(
        max(PITCH * max(len(ends[LEFT]), len(ends[RIGHT]), 1), least)
        for ends, least in zip(at_cell, wiring.cell_least, strict=True)
    )

    above, below = _split_passages(round_about, wiring, left, right)
    strip_height = sum(cell_height) + sum(wiring.cell_lead) + wiring.tail + PITCH * len(round_about)
    columns = [_column_height(wiring, order) for order in (left, right)]
    # One row more, since terminals of the centre begin on an odd row.
    height = max(*columns, strip_height + PITCH)
    box_top = [0] * len(wiring.box_rows)
    for order, tall in zip((left, right), columns, strict=True):
        _stack(wiring, order, height - tall, box_top)

    row = (height - strip_height) // 2 | 1
    passage_row = {core: row + 1 + PITCH * index for index, core in enumerate(above)}
    row += PITCH * len(above)
    cell_top = []
    for lead, tall in zip(wiring.cell_lead, cell_height, strict=True):
        cell_top.append(row + lead)
        row += lead + tall
    row += wiring.tail
    passage_row |= {core: row + 1 + PITCH * index for index, core in enumerate(below)}

    end_row = [
        NOWHERE if box == NOWHERE else box_top[box] + offset
        for box, offset in zip(wiring.box_of, wiring.offset_of, strict=True)
    ]
    _land(wiring, at_cell, cell_top, cell_height, end_row)
    nets, net_core = _gather_nets(wiring, end_side, end_row, passage_row)
    return Rows(
        order=(left, right),
        height=height,
        box_top=tuple(box_top),
        cell_top=tuple(cell_top),
        cell_height=cell_height,
        end_row=tuple(end_row),
        end_side=tuple(end_side),
        passage_row=passage_row,
        nets=nets,
        net_core=net_core,
    )


def _choose_sides(wiring: Wiring, side_of_box: list[int]) -> tuple[list[int], list[int]]:
    """Return the side of every end, and the cores that go round from one column to the other.

    What a device does not settle (a core from terminal to terminal, a spare core at a terminal) goes where less is.
    """
    side = [RIGHT] * wiring.ends
    used = [0, 0]
    free: list[int] = []
    round_about: list[int] = []
    for end in range(0, wiring.ends, 2):
        boxes = [box for box in wiring.box_of[end : end + 2] if box != NOWHERE]
        if not boxes:
            free.append(end)
            continue
        first, last = side_of_box[boxes[0]], side_of_box[boxes[-1]]
        if first != last:
            round_about.append(end // 2)
            side[end], side[end + 1] = first, last
        else:
            side[end] = side[end + 1] = first
        used[first] += 1
    for end in free:
        lesser = RIGHT if wiring.one_sided or used[RIGHT] <= used[LEFT] else LEFT
        side[end] = side[end + 1] = lesser
        used[lesser] += 1
    return side, round_about


def _split_passages(
    round_about: list[int], wiring: Wiring, left: tuple[int, ...], right: tuple[int, ...]
) -> tuple[list[int], list[int]]:
    """Part the cores that go round into those above and those below, by how high their devices stand."""
    place = {
        box: (position + 0.5) / len(order) for order in (left, right) for position, box in enumerate(order)
    }
    above: list[int] = []
    below: list[int] = []
    for core in round_about:
        first, last = wiring.box_of[2 * core], wiring.box_of[2 * core + 1]
        (above if place[first] + place[last] < 1 else below).append(core)
    return above, below


def _column_height(wiring: Wiring, order: tuple[int, ...]) -> int:
    return sum(wiring.box_head[box] + wiring.box_rows[box] for box in order)


def _stack(wiring: Wiring, order: tuple[int, ...], slack: int, box_top: list[int]) -> None:
    """Write the tops of one column's devices, spread a little where there is room, the rest of it outside."""
    gap = 0
    if len(order) > 1:
        gap = min(_MOST_SLACK, slack // (len(order) - 1)) // PITCH * PITCH
    row = (slack - gap * max(len(order) - 1, 0)) // 2 // PITCH * PITCH
    for box in order:
        row += wiring.box_head[box]
        box_top[box] = row
        row += wiring.box_rows[box] + gap


def _land(
    wiring: Wiring,
    at_cell: list[tuple[list[int], list[int]]],
    cell_top: list[int],
    cell_height: tuple[int, ...],
    end_row: list[int],
) -> None:
    """Give every end at a terminal its own landing, in the order of the other ends' rows."""

    def other_row(end: int) -> int:
        other = end ^ 1
        if wiring.box_of[other] != NOWHERE:
            return end_row[other]
        return cell_top[wiring.cell_of[other]] if wiring.cell_of[other] != NOWHERE else 1 << 30

    for cell, both in enumerate(at_cell):
        for ends in both:
            first = (cell_height[cell] // PITCH - len(ends)) // 2
            landing = {
                end: cell_top[cell] + 1 + PITCH * (first + index)
                for index, end in enumerate(sorted(ends, key=other_row))
            }
            for end, row in landing.items():
                end_row[end] = row


def _gather_nets(
    wiring: Wiring, end_side: list[int], end_row: list[int], passage_row: dict[int, int]
) -> tuple[tuple[list[Net], list[Net]], tuple[list[int], list[int]]]:
    nets: tuple[list[Net], list[Net]] = ([], [])
    cores: tuple[list[int], list[int]] = ([], [])
    for core in range(wiring.ends // 2):
        ends = (2 * core, 2 * core + 1)
        if any(end_row[end] == NOWHERE for end in ends):
            continue
        near = tuple(end_row[end] for end in ends if wiring.box_of[end] != NOWHERE)
        far = tuple(end_row[end] for end in ends if wiring.box_of[end] == NOWHERE)
        if core in passage_row:
            for end in ends:
                nets[end_side[end]].append(Net.between((end_row[end],), (passage_row[core],)))
                cores[end_side[end]].append(core)
        else:
            nets[end_side[ends[0]]].append(Net.between(near, far))
            cores[end_side[ends[0]]].append(core)
    return nets, cores
