"""Where the words of a drawing stand, measured from the SVG itself."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from xml.etree import ElementTree

from generator.drawings.sizes import CODE_PX, NAME_PX, PLACE_PX, WORDS_PX
from generator.drawings.text_measure import measure

_SVG = "{http://www.w3.org/2000/svg}"
_SIZES = {
    "hb-name": (NAME_PX, True),
    "hb-label": (NAME_PX, True),
    "hb-words": (WORDS_PX, False),
    "hb-place": (PLACE_PX, False),
    "hb-code": (CODE_PX, True),
    "hb-when": (PLACE_PX, True),
}


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text and the box that it takes, in px; the box is that of small letters with their stems."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Words") -> bool:
        """Whether two lines lie over each other by more than a hair."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across > 0.5 and down > 0.5


def words_in(svg: str) -> Iterator[Words]:
    """Every line of text of a drawing."""
    root = ElementTree.fromstring(svg)  # noqa: S314 - our own output
    for element in root.iter(f"{_SVG}text"):
        size, bold = next(_SIZES[name] for name in str(element.get("class")).split() if name in _SIZES)
        width = measure("".join(element.itertext()).strip(), size, bold=bold)
        tail = element.find(f"{_SVG}tspan")
        if tail is not None:
            first = measure((element.text or "").strip(), size, bold=bold)
            width = first + 6 + measure((tail.text or "").strip(), PLACE_PX)
        x = float(str(element.get("x"))) + float(element.get("dx") or 0)
        y = float(str(element.get("y"))) + float(element.get("dy") or 0)
        left = x - {"middle": width / 2, "end": width}.get(str(element.get("text-anchor")), 0.0)
        yield Words("".join(element.itertext()), left, y - size * 0.74, left + width, y + size * 0.16)


def clashes(svg: str) -> list[str]:
    """Lines that lie over each other, and lines that leave the drawing."""
    root = ElementTree.fromstring(svg)  # noqa: S314 - our own output
    width, height = float(str(root.get("width"))), float(str(root.get("height")))
    found = list(words_in(svg))
    faults = [f"{a.text!r} lies over {b.text!r}" for a, b in combinations(found, 2) if a.meets(b)]
    faults += [
        f"{each.text!r} leaves the drawing"
        for each in found
        if each.left < -0.5 or each.top < -0.5 or each.right > width + 0.5 or each.bottom > height + 0.5
    ]
    return faults


def ids_in(svg: str) -> list[str]:
    """Every id of a drawing, in order."""
    return [str(e.get("id")) for e in ElementTree.fromstring(svg).iter() if e.get("id")]  # noqa: S314
