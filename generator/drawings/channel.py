"""Order of the vertical tracks in one channel between the devices and a wiring centre.

It knows rows and intervals only: a channel, the nets that cross it, and on which side each net leaves it. Every net is
one vertical on a track of its own, with a horizontal to each of its two ends. No two ends on one side share a row,
and the two sides use different rows (odd and even), so any order of the tracks is possible and none makes two
conductors touch: only crossings and width depend on it.

Track 0 is nearest to the devices ("near" side); the wiring centre is on the "far" side.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Net:
    """One conductor in one channel.

    `near` and `far` are the rows of its ends on the two sides, as bit masks; together they hold two bits. Both bits
    on one side make a net that turns back: from device to device, or from terminal to terminal.
    """

    near: int
    far: int
    span: int

    @classmethod
    def between(cls, near: tuple[int, ...], far: tuple[int, ...]) -> "Net":
        rows = (*near, *far)
        low, high = min(rows), max(rows)
        return cls(_mask(near), _mask(far), (1 << high + 1) - (1 << low))


def _mask(rows: tuple[int, ...]) -> int:
    mask = 0
    for row in rows:
        mask |= 1 << row
    return mask


def crossings_bound(nets: list[Net]) -> int:
    """Return the crossings that remain if every pair of nets is put in its better order.

    A lower bound on what any order gives, close to what `order_tracks` reaches. O(n²).
    """
    total = 0
    for index, one in enumerate(nets):
        span, near, far = one.span, one.near, one.far
        for other in nets[:index]:
            if span & other.span:
                first = (far & other.span).bit_count() + (other.near & span).bit_count()
                second = (other.far & span).bit_count() + (near & other.span).bit_count()
                total += min(first, second)
    return total


def density(nets: list[Net]) -> int:
    """Return the largest number of nets that any row is inside of: no fewer tracks can hold them."""
    changes: dict[int, int] = {}
    for net in nets:
        low, high = (net.span & -net.span).bit_length(), net.span.bit_length()
        changes[low] = changes.get(low, 0) + 1
        changes[high + 1] = changes.get(high + 1, 0) - 1
    now = most = 0
    for row in sorted(changes):
        now += changes[row]
        most = max(most, now)
    return most


def _gain_table(nets: list[Net]) -> list[list[int]]:
    """Return for each pair the crossings with the first nearer, less those with the second nearer."""
    table = [[0] * len(nets) for _ in nets]
    for i, one in enumerate(nets):
        for j in range(i):
            other = nets[j]
            if one.span & other.span:
                first = (one.far & other.span).bit_count() + (other.near & one.span).bit_count()
                second = (other.far & one.span).bit_count() + (one.near & other.span).bit_count()
                table[i][j] = first - second
                table[j][i] = second - first
    return table


def _best_place(order: list[int], gains: list[int]) -> int:
    """Return where in `order` a net with these gains crosses least; the nearest such place to the devices."""
    best = now = place = 0
    for position, other in enumerate(order, 1):
        # Passing one net outward: from "I am nearer" to "it is nearer".
        now -= gains[other]
        if now < best:
            best, place = now, position
    return place


def order_tracks(nets: list[Net]) -> list[int]:
    """Return the nets' indices from the near side to the far side, with few crossings.

    Linear ordering by insertion: each net in turn to the place that costs least, then again until nothing falls.
    Ends, since every accepted move lowers the number of crossings. O(n²) a pass.
    """
    table = _gain_table(nets)
    order: list[int] = []
    for index, gains in enumerate(table):
        order.insert(_best_place(order, gains), index)
    improved = True
    while improved:
        improved = False
        for index, gains in enumerate(table):
            before = order.index(index)
            others = order[:before] + order[before + 1 :]
            place = _best_place(others, gains)
            saved = sum(gains[net] for net in others[:before]) - sum(gains[net] for net in others[:place])
            # `saved` is negative where moving helps: gains are counted for "I am nearer".
            if saved < 0:
                others.insert(place, index)
                order, improved = others, True
    return order


def count_crossings(nets: list[Net], order: list[int]) -> int:
    """Return how often conductors of the channel cross with the tracks in this order."""
    total = 0
    for position, inner in enumerate(order):
        one = nets[inner]
        for outer in order[position + 1 :]:
            other = nets[outer]
            total += (one.far & other.span).bit_count() + (other.near & one.span).bit_count()
    return total


def assign_tracks(nets: list[Net], order: list[int]) -> list[int]:
    """Return the track of each net, with few tracks and no more crossings than `order` has.

    Nets whose rows overlap take different tracks. Two such nets keep their order if another would cross more or less;
    if not, either may be nearer. Filled track by track from the devices outwards (constrained left-edge): of the nets
    that wait for no other, those with the longest chain behind them first. O(n²) a track.
    """
    gains = _gain_table(nets)
    waits = [0] * len(nets)
    behind: list[list[int]] = [[] for _ in nets]
    for position, index in enumerate(order):
        behind[index] = [other for other in order[position + 1 :] if gains[index][other]]
        for other in behind[index]:
            waits[other] += 1
    chain = [0] * len(nets)
    for index in reversed(order):
        chain[index] = 1 + max((chain[other] for other in behind[index]), default=0)
    tracks = [0] * len(nets)
    left = sorted(order, key=lambda index: (-chain[index], nets[index].span & -nets[index].span))
    track = 0
    while left:
        taken = 0
        placed = []
        for index in left:
            if waits[index] == 0 and not nets[index].span & taken:
                taken |= nets[index].span
                tracks[index] = track
                placed.append(index)
        for index in placed:
            left.remove(index)
            for other in behind[index]:
                waits[other] -= 1
        track += 1
    return tracks
