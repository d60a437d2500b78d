"""How large the parts of a terminal drawing are, measured from the words in them.

It knows words and px only, not where anything is placed.
"""

import math
from dataclasses import dataclass, replace
from typing import Literal

from generator.drawings.core_colours import UNKNOWN, split_code
from generator.drawings.terminal_model import Box, Core, End, Strip, TerminalDrawing
from generator.drawings.text_measure import measure, shorten, wrap

Form = Literal["desktop", "phone"]

ROW_PX = 8
MARGIN_PX = 8

# Font sizes in px. The style sheet takes them from here.
CODE_PX = 10.0
WORDS_PX = 11.0
NAME_PX = 12.0
PLACE_PX = 10.5

NAME_LINE_PX = 14
WORDS_LINE_PX = 13
PLACE_LINE_PX = 12

PILL_HEIGHT_PX = 13
PILL_PAD_PX = 2.5

# From the edge of a device or a strip to the pill: room for the dot; and for the sleeving, where a core has any.
DOT_ROOM_PX = 6
SLEEVE_ROOM_PX = 8
# From the pill to the first track.
_TAIL_PX = {"desktop": 8, "phone": 7}
# What a spare core shows beyond its pill.
SPARE_TAIL_PX = 6

LANE_PX = 11
PIN_PAD_PX = 8
LABEL_PAD_PX = 7

# Longer letters and terminal names than any real one are cut, so that no record can stretch a drawing.
MOST_LABEL_PX = 64.0
_MOST_CODE_PX = 90.0

_LEAST_BOX_PX = 52
_MOST_BOX_PX = 118
# A phone's strip may be narrowed until its longest single word still fits, but to no less and no more than this.
_LEAST_WORDS_PX = (46.0, 66.0)

_PHONE_WIDTHS_PX = (302, 310)
_PITCHES_PX = {"desktop": (8.0,), "phone": (8.0, 7.5, 7.0, 6.5)}
_MOST_WORDS_PX = {"desktop": 150.0, "phone": 104.0}
_CODE_UNKNOWN = "–"


@dataclass(frozen=True, slots=True, kw_only=True)
class EndText:
    """What the pill at one end of a core says: the colour's letters, and where the other end is."""

    code: str
    where: str

    @property
    def width_px(self) -> float:
        where = measure(f" {self.where}", CODE_PX) if self.where else 0.0
        return measure(self.code, CODE_PX, bold=True) + where + 2 * PILL_PAD_PX


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadText:
    """The lines over a device or a strip, and the height they need in rows (even)."""

    name: tuple[str, ...]
    place: tuple[str, ...]
    rows: int

    @property
    def rise_px(self) -> int:
        """How far the baseline of the first line is above that of the last."""
        return NAME_LINE_PX * max(len(self.name) - 1, 0) + PLACE_LINE_PX * len(self.place)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """Widths in px; `near_stub_px` runs from a device to the first track, `far_stub_px` from the last to a strip."""

    box_px: float
    near_stub_px: float
    far_stub_px: float
    label_px: float
    words_px: float
    least_words_px: float
    lanes: int
    end_room_px: float
    pitch_px: float

    @property
    def strip_px(self) -> float:
        return self.strip_with(self.words_px)

    def strip_with(self, words_px: float) -> float:
        return self.label_px + words_px + self.lanes * LANE_PX + (LABEL_PAD_PX if words_px else 0)


def write_ends(drawing: TerminalDrawing) -> dict[tuple[str, int], EndText]:
    """Return the text of the pill at each end (0, 1) of each core, by the core's id."""
    marked = needs_marks(drawing)
    terminals = {
        (strip.id, cell.id): f"{strip.mark}:{cell.label}" if marked and strip.mark else cell.label
        for strip in drawing.strips
        for cell in strip.cells
    }
    texts = {}
    for core in drawing.cores:
        for number, (end, other) in enumerate(((core.from_pin, core.to), (core.to, core.from_pin))):
            if end is not None:
                where = shorten(_where(end, other, terminals), MOST_LABEL_PX, CODE_PX)
                code = shorten(_code(core), _MOST_CODE_PX, CODE_PX, bold=True)
                texts[core.id, number] = EndText(code=code, where=where)
    return texts


def needs_marks(drawing: TerminalDrawing) -> bool:
    """Tell whether a terminal's label alone does not say which wiring centre it is in."""
    labels = [label for strip in drawing.strips for label in {cell.label for cell in strip.cells}]
    return len(labels) != len(set(labels))


def _code(core: Core) -> str:
    code = core.code.upper() or _CODE_UNKNOWN
    if split_code(core.code)[0] == UNKNOWN:
        code = core.code or _CODE_UNKNOWN
    sleeve = f" ({core.sleeve.upper()})" if core.sleeve else ""
    return f"{code}{sleeve}{'?' if core.assumed else ''}"


def _where(end: End, other: End | None, terminals: dict[End, str]) -> str:
    if other is None:
        return ""
    if end in terminals and other not in terminals:
        return ""
    # An arrow where a core goes straight to another device.
    return terminals.get(other, "→")


def write_head(name: str, place: str, width_px: float, *, lead_px: int = 4) -> HeadText:
    lines = wrap(name, width_px, NAME_PX, lines=2, bold=True) if name else ()
    where = wrap(place, width_px, PLACE_PX, lines=2) if place else ()
    height = lead_px + NAME_LINE_PX * len(lines) + PLACE_LINE_PX * len(where)
    return HeadText(name=lines, place=where, rows=2 * -(-height // (2 * ROW_PX)))


def fit_sizes(
    drawing: TerminalDrawing, form: Form, texts: dict[tuple[str, int], EndText], *, lanes: int
) -> Sizes:
    """Return sizes at which every word of the drawing fits, as far as the form has room for it."""
    strips = {strip.id for strip in drawing.strips}
    near, far = [0.0], [0.0]
    for core in drawing.cores:
        for number, end in enumerate((core.from_pin, core.to)):
            if end is not None:
                spare = SPARE_TAIL_PX if core.to is None else 0
                (far if end[0] in strips else near).append(texts[core.id, number].width_px + spare)
    sleeved = any(core.sleeve for core in drawing.cores)
    end_room = DOT_ROOM_PX + (SLEEVE_ROOM_PX if sleeved else 0)
    return Sizes(
        box_px=_box_width(drawing.devices),
        near_stub_px=math.ceil(end_room + max(near) + _TAIL_PX[form]),
        far_stub_px=math.ceil(end_room + max(far) + _TAIL_PX[form]),
        label_px=_label_width(drawing.strips),
        words_px=_words_width(drawing.strips, _MOST_WORDS_PX[form]),
        least_words_px=_least_words(drawing.strips),
        lanes=lanes,
        end_room_px=end_room,
        pitch_px=_PITCHES_PX[form][0],
    )


def strip_head_px(sizes: Sizes, form: Form) -> float:
    """Return the width that the name over a strip may have: it may reach over the stubs, where no core runs."""
    if form == "phone":
        return sizes.strip_with(min(sizes.least_words_px, sizes.words_px)) + sizes.far_stub_px
    return sizes.strip_px + sizes.far_stub_px


def fit_phone(sizes: Sizes, tracks: int) -> Sizes:
    """Narrow or widen the strip, then bring the tracks closer, until the drawing is as wide as a phone shows.

    More tracks than a phone has room for give a wider drawing: it scrolls, since nothing may come closer still.
    """
    least, most = _PHONE_WIDTHS_PX
    for pitch in _PITCHES_PX["phone"]:
        rest = sizes.strip_px - sizes.words_px + sizes.box_px + sizes.near_stub_px + sizes.far_stub_px
        rest += 2 * MARGIN_PX + pitch * max(tracks - 1, 0)
        words = min(max(sizes.words_px, least - rest), most - rest)
        if words >= sizes.words_px:
            break
    words = max(words, min(sizes.least_words_px, sizes.words_px))
    return replace(sizes, words_px=words, pitch_px=pitch)


def _box_width(boxes: tuple[Box, ...]) -> float:
    widest = max((measure(pin.label, WORDS_PX) for box in boxes for pin in box.pins), default=0.0)
    return math.ceil(min(max(widest + 2 * PIN_PAD_PX, _LEAST_BOX_PX), _MOST_BOX_PX))


def _label_width(strips: tuple[Strip, ...]) -> float:
    widest = max(
        (measure(cell.label, NAME_PX, bold=True) for strip in strips for cell in strip.cells), default=0
    )
    return math.ceil(min(max(widest, 10.0), MOST_LABEL_PX) + 2 * LABEL_PAD_PX)


def _words_width(strips: tuple[Strip, ...], most_px: float) -> float:
    widest = max((measure(cell.words, WORDS_PX) for strip in strips for cell in strip.cells), default=0.0)
    return math.ceil(min(widest, most_px)) if widest else 0.0


def _least_words(strips: tuple[Strip, ...]) -> float:
    words = {word for strip in strips for cell in strip.cells for word in cell.words.split()}
    least, most = _LEAST_WORDS_PX
    return math.ceil(min(max(least, *(measure(word, WORDS_PX) for word in words), least), most))
