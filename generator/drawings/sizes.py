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
# At the left and the right of the sheet: width is what a phone lacks.
_SIDES_PX = {"desktop": 8, "phone": 3}

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
_TAIL_PX = {"desktop": 8, "phone": 5}
# What a spare core shows beyond its pill, and before it if it is landed nowhere.
SPARE_TAIL_PX = 5
LOOSE_ROOM_PX = 5
# From the tip of a spare core to the first track.
_TIP_ROOM_PX = 8

LANE_PX = 10
PIN_PAD_PX = 7
LABEL_PAD_PX = 6

# Longer letters and terminal names than any real one are cut, so that no record can stretch a drawing.
MOST_LABEL_PX = 64.0
_MOST_CODE_PX = 90.0

_LEAST_BOX_PX = 52
_MOST_BOX_PX = 118
# A phone's strip may be narrowed to this: long words are then broken.
_LEAST_WORDS_PX = 42.0

PHONE_PX = 302
"""As wide as a drawing may be on a phone: the narrowest in use show 360 px, less the margins of a page."""

_PITCHES_PX = {"desktop": (8.0,), "phone": (8.0, 7.5, 7.0, 6.5)}
_MOST_WORDS_PX = {"desktop": 150.0, "phone": 104.0}
# A name, or a place, over a device or a strip.
_MOST_HEAD_LINES = 5
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
    """Widths in px; `near_stub_px` runs from a device to the first track, `far_stub_px` from the last to a strip.

    `end_room_px` is what lies before a pill, `sleeve_room_px` what lies there besides at a core with sleeving.
    """

    box_px: float
    near_stub_px: float
    far_stub_px: float
    label_px: float
    words_px: float
    lanes: int
    end_room_px: float
    sleeve_room_px: float
    side_px: float
    pitch_px: float

    @property
    def strip_px(self) -> float:
        return self.strip_with(self.words_px)

    def strip_with(self, words_px: float) -> float:
        return self.label_px + words_px + self.lanes * LANE_PX + (LABEL_PAD_PX if words_px else 0)


def write_ends(drawing: TerminalDrawing, form: Form) -> dict[tuple[str, int], EndText]:
    """Return the text of the pill at each end (0, 1) of each core, by the core's id.

    On a phone the sleeving is named at one end only, where no terminal is: both ends show its colour.
    """
    marked = needs_marks(drawing)
    terminals = {
        (strip.id, cell.id): f"{strip.mark}:{cell.label}"
        if marked and strip.mark and cell.label
        else cell.label
        for strip in drawing.strips
        for cell in strip.cells
    }
    texts = {}
    for core in drawing.cores:
        for number, (end, other) in enumerate(((core.from_pin, core.to), (core.to, core.from_pin))):
            if end is not None:
                where = shorten(_where(end, other, terminals), MOST_LABEL_PX, CODE_PX)
                named = form == "desktop" or number == 1 or core.to is None
                code = shorten(_code(core, sleeve=named), _MOST_CODE_PX, CODE_PX, bold=True)
                texts[core.id, number] = EndText(code=code, where=where)
    return texts


def needs_marks(drawing: TerminalDrawing) -> bool:
    """Tell whether a terminal's label alone does not say which wiring centre it is in."""
    labels = [
        label for strip in drawing.strips for label in {cell.label for cell in strip.cells if cell.label}
    ]
    return len(labels) != len(set(labels))


def _code(core: Core, *, sleeve: bool) -> str:
    code = core.code.upper() or _CODE_UNKNOWN
    if split_code(core.code)[0] == UNKNOWN:
        code = core.code or _CODE_UNKNOWN
    over = f" ({core.sleeve.upper()})" if core.sleeve and sleeve else ""
    return f"{code}{over}{'?' if core.assumed else ''}"


def _where(end: End, other: End | None, terminals: dict[End, str]) -> str:
    if other is None:
        return ""
    if end in terminals and other not in terminals:
        return ""
    # An arrow where a core goes straight to another device, whose terminals have no short label.
    return terminals.get(other) or "→"


def write_head(name: str, place: str, width_px: float, *, lead_px: int = 4) -> HeadText:
    lines = wrap(name, width_px, NAME_PX, lines=_MOST_HEAD_LINES, bold=True) if name else ()
    where = wrap(place, width_px, PLACE_PX, lines=_MOST_HEAD_LINES) if place else ()
    height = lead_px + NAME_LINE_PX * len(lines) + PLACE_LINE_PX * len(where)
    return HeadText(name=lines, place=where, rows=2 * -(-height // (2 * ROW_PX)))


def fit_sizes(
    drawing: TerminalDrawing, form: Form, texts: dict[tuple[str, int], EndText], *, lanes: int
) -> Sizes:
    """Return sizes at which every word of the drawing fits, as far as the form has room for it."""
    strips = {strip.id for strip in drawing.strips}
    loose = loose_ends(drawing)
    # On a desktop all pills stand under each other; on a phone only the sleeved ones stand farther out.
    every = SLEEVE_ROOM_PX if form == "desktop" and any(core.sleeve for core in drawing.cores) else 0
    near, far = [0.0], [0.0]
    for core in drawing.cores:
        for number, end in enumerate((core.from_pin, core.to)):
            if end is not None:
                more = SPARE_TAIL_PX + _TIP_ROOM_PX - _TAIL_PX[form] if core.to is None else 0
                more += LOOSE_ROOM_PX if end in loose else 0
                more += SLEEVE_ROOM_PX if core.sleeve and not every else 0
                (far if end[0] in strips else near).append(texts[core.id, number].width_px + more)
    end_room = DOT_ROOM_PX + every
    return Sizes(
        box_px=_box_width(drawing.devices),
        near_stub_px=math.ceil(end_room + max(near) + _TAIL_PX[form]),
        far_stub_px=math.ceil(end_room + max(far) + _TAIL_PX[form]),
        label_px=_label_width(drawing.strips),
        words_px=_words_width(drawing.strips, _MOST_WORDS_PX[form]),
        lanes=lanes,
        end_room_px=end_room,
        sleeve_room_px=SLEEVE_ROOM_PX - every,
        side_px=_SIDES_PX[form],
        pitch_px=_PITCHES_PX[form][0],
    )


def loose_ends(drawing: TerminalDrawing) -> frozenset[End]:
    """Return the ends that are no terminals."""
    return frozenset((box.id, pin.id) for box in drawing.devices for pin in box.pins if pin.loose)


def strip_head_px(sizes: Sizes, form: Form) -> float:
    """Return the width that the name over a strip may have: it may reach over the stubs, where no core runs."""
    if form == "phone":
        return sizes.strip_with(min(_LEAST_WORDS_PX, sizes.words_px)) + sizes.far_stub_px
    return sizes.strip_px + sizes.far_stub_px


def fit_phone(sizes: Sizes, tracks: int) -> Sizes:
    """Narrow or widen the strip, then bring the tracks closer, until the drawing is as wide as a phone shows.

    More tracks than a phone has room for give a wider drawing, since nothing may come closer still.
    """
    pitches = _PITCHES_PX["phone"]
    fixed = sizes.box_px + sizes.near_stub_px + sizes.far_stub_px + 2 * sizes.side_px
    fixed += sizes.strip_px - sizes.words_px
    for pitch in pitches:
        words = PHONE_PX - fixed - pitch * max(tracks - 1, 0)
        if words >= sizes.words_px:
            break
    if not sizes.words_px:
        # Without words beside the labels, or without any strip, there is nothing to widen.
        return replace(sizes, pitch_px=pitch)
    return replace(sizes, words_px=max(words, min(_LEAST_WORDS_PX, sizes.words_px)), pitch_px=pitch)


def _box_width(boxes: tuple[Box, ...]) -> float:
    widest = max((measure(pin.label, WORDS_PX) for box in boxes for pin in box.pins), default=0.0)
    return math.ceil(min(max(widest + 2 * PIN_PAD_PX, _LEAST_BOX_PX), _MOST_BOX_PX))


def _label_width(strips: tuple[Strip, ...]) -> float:
    if not any(cell.label for strip in strips for cell in strip.cells):
        return LABEL_PAD_PX if strips else 0.0
    widest = max(
        (measure(cell.label, NAME_PX, bold=True) for strip in strips for cell in strip.cells), default=0
    )
    return math.ceil(min(max(widest, 10.0), MOST_LABEL_PX) + 2 * LABEL_PAD_PX)


def _words_width(strips: tuple[Strip, ...], most_px: float) -> float:
    widest = max((measure(cell.words, WORDS_PX) for strip in strips for cell in strip.cells), default=0.0)
    return math.ceil(min(max(widest, _LEAST_WORDS_PX), most_px)) if widest else 0.0
