"""A drawing good enough to try pages with: a strip of terminals and what lands in them. Not one of the project's own."""

from html import escape

_COLOURS = {
    "BN": "#7d4b25",
    "BU": "#1f68c6",
    "GY": "#8c959e",
    "OG": "#ee8a1d",
    "BK": "#1b1b1b",
    "GNYE": "#2a8c3c",
}
_LEFT, _STRIP, _RIGHT, _ROW = 150, 300, 520, 34


def sample_drawing(
    rows: tuple[tuple[str, str, str, str, str], ...], live: dict[str, set[str]]
) -> tuple[str, str]:
    """Draw a strip.

    Args:
        rows: Terminal, its name, core, the device it goes to, that device's terminal.
        live: The terminals that are live, by state.

    Returns:
        The SVG, and the rules that light it.
    """
    height = len(rows) * _ROW + 40
    parts = []
    for number, (letter, name, core, device, end) in enumerate(rows):
        y = 20 + number * _ROW
        middle = y + _ROW / 2
        to_left = number % 2 == 0
        x, edge = (_LEFT, _STRIP) if to_left else (_RIGHT, _STRIP + 130)
        anchor, text_x = ("end", _LEFT - 8) if to_left else ("start", _RIGHT + 8)
        parts.append(
            f'<g class="hb-core t-{letter}" tabindex="0" role="img" data-conductor="{letter}"><title>{escape(name)}: {core}</title>'
            f'<path d="M{x} {middle}H{edge}" stroke="{_COLOURS[core]}" stroke-width="4" fill="none"/>'
            f'<rect class="cell" x="{_STRIP}" y="{y}" width="130" height="{_ROW - 4}"/>'
            f'<text x="{_STRIP + 10}" y="{middle + 3}" font-weight="700">{letter}</text>'
            f'<text x="{_STRIP + 32}" y="{middle + 3}">{escape(name)}</text>'
            f'<text x="{text_x}" y="{middle + 3}" text-anchor="{anchor}">{escape(device)} {escape(end)}</text>'
            f'<text x="{(x + edge) / 2}" y="{middle - 5}" text-anchor="middle" font-weight="700">{core}</text></g>'
        )
    svg = (
        f'<svg class="hb-drawing state-rest" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 680 {height}" width="680" '
        f'height="{height}" role="group" aria-labelledby="d-title"><title id="d-title">What lands in each terminal</title>'
        f'<g font-size="12" fill="currentColor">{"".join(parts)}</g></svg>'
    )
    rules = [".hb-drawing .cell{fill:var(--hb-fill);stroke:var(--hb-line)}"]
    for state, letters in live.items():
        rules += [
            f".state-{state} .t-{each} .cell{{fill:var(--hb-tint);stroke:var(--hb-live)}}"
            for each in sorted(letters)
        ]
        rules += [f".state-{state} .t-{each} path{{stroke-width:6}}" for each in sorted(letters)]
    return svg, "".join(rules)
