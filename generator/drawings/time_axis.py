"""An axis of time that is to scale where things happen and broken where for long nothing does.

It knows seconds and px only, not what happens.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.drawings.sizes import PLACE_PX
from generator.drawings.text_measure import measure

LONGEST_S = 45.0
"""A stretch longer than this in which nothing happens is broken."""
_APART_PX = 6.0
BROKEN_S = 18.0
"""A broken stretch takes the room of this many seconds."""


@dataclass(frozen=True, slots=True)
class TimeAxis:
    """The places of moments: `times` ascending, with the px of each; between them it is linear."""

    times: tuple[float, ...]
    places: tuple[float, ...]
    breaks: tuple[float, ...]

    def at(self, time_s: float) -> float:
        """The px of a moment; beyond the ends, that of the end."""
        if time_s <= self.times[0]:
            return self.places[0]
        for (before, x), (after, next_x) in pairwise(zip(self.times, self.places, strict=True)):
            if time_s <= after:
                return x + (next_x - x) * (time_s - before) / (after - before)
        return self.places[-1]


def time_axis(moments: Iterable[float], left_px: float, width_px: float) -> TimeAxis:
    """An axis over the moments.

    Args:
        moments: when something happens, in seconds; at least one.
        left_px: where it begins.
        width_px: how long it is.
    """
    times = sorted({0.0, *moments})
    if len(times) == 1:
        times.append(times[0] + 10.0)
    rooms = [_room(after - before) for before, after in pairwise(times)]
    scale = width_px / sum(rooms)
    places = [left_px]
    for room in rooms:
        places.append(places[-1] + room * scale)
    breaks = tuple(
        (places[index] + places[index + 1]) / 2
        for index, (before, after) in enumerate(pairwise(times))
        if after - before > LONGEST_S
    )
    return TimeAxis(tuple(times), tuple(places), breaks)


def _room(seconds: float) -> float:
    return BROKEN_S if seconds > LONGEST_S else max(seconds, 0.4)


def labelled(axis: TimeAxis, wanted: Sequence[float], right_px: float) -> list[tuple[float, str]]:
    """Which of the moments get a label, with its px: the first named first.

    None touches another, or reaches beyond `right_px`.
    """
    kept: list[tuple[float, str, float]] = []
    for time_s in wanted:
        x, text = axis.at(time_s), duration(time_s)
        half = measure(text, PLACE_PX) / 2 + _APART_PX / 2
        if x + half <= right_px and all(abs(x - other) >= half + other_half for other, _, other_half in kept):
            kept.append((x, text, half))
    return sorted((x, text) for x, text, _ in kept)


def duration(seconds: float) -> str:
    """`12 s`, `90 s`, `6 min`: whole seconds below two minutes, minutes above."""
    if seconds < 120:
        return f"{seconds:.0f} s" if seconds >= 1 or seconds == 0 else f"{seconds:.1f} s"
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest} s" if rest else f"{minutes} min"
