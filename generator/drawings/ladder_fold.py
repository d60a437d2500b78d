"""Where a rung of a ladder goes on in a second line, so that the whole ladder fits a phone.

It knows widths only, not what stands in a rung.
"""

from generator.drawings.ladder_model import Element, Series
from generator.drawings.ladder_sizes import element_extent

TURN_PX = 10.0
"""From the last part of a line to where its wire turns down, and from the left rail to where it turns up again."""


def fold_series(series: Series, whole_px: float, last_px: float) -> tuple[Series, ...]:
    """Part a series into lines.

    Args:
        series: the parts of a rung.
        whole_px: the room of a line that another follows.
        last_px: the room of a line that ends in the loads; of one that follows another it is less by a turn.

    Returns:
        One line or more; the last is empty where not even its last part leaves room for the loads.
    """
    if _width(series) <= last_px:
        return (series,)
    lines: list[list[Element]] = [[]]
    for part in series:
        if lines[-1] and _width((*lines[-1], part)) > whole_px:
            lines.append([])
        lines[-1].append(part)
    last = lines.pop()
    kept = next(count for count in range(len(last) + 1) if _width(last[count:]) <= last_px - TURN_PX)
    lines += [last[:kept], last[kept:]] if kept else [last]
    return tuple(tuple(line) for line in lines)


def _width(parts: Series | list[Element]) -> float:
    return sum(element_extent(part).width for part in parts)
