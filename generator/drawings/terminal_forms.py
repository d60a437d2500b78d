"""The forms in which a page has one terminal drawing: whole, in parts that a phone shows, and in sheets that print.

It knows names and widths only, nothing electrical.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.drawings.part import SHARED, split_sheets, split_to_fit, take_between
from generator.drawings.reading_notes import GAP_NOTE, write_reading_notes
from generator.drawings.sizes import PHONE_PX
from generator.drawings.terminal_layout import layout_part
from generator.drawings.terminal_model import TerminalDrawing
from generator.drawings.terminal_svg import draw_terminal_drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPart:
    """One picture and what it shows, in a few words."""

    words: str
    svg: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TerminalForms:
    """All pictures of one drawing, and sentences on how to read them: all of them, and parts of it besides.

    `sheets` is empty where the whole drawing prints well on one.
    """

    desktop: str
    phone: tuple[DrawnPart, ...]
    sheets: tuple[DrawnPart, ...]
    notes: tuple[str, ...]
    part_note: str = GAP_NOTE


def draw_forms(
    drawing: TerminalDrawing, zones: Iterable[tuple[str, str]], *, state: str | None = None
) -> TerminalForms:
    """Draw every form.

    Args:
        drawing: the whole.
        zones: id and words of each zone, in order.
        state: the state shown until something around the drawings chooses another.
    """
    named = tuple(zones)
    return TerminalForms(
        notes=write_reading_notes(drawing),
        desktop=draw_terminal_drawing(drawing, form="desktop", state=state),
        phone=tuple(
            DrawnPart(
                words=words,
                svg=draw_terminal_drawing(drawing, form="phone", part=(f"part-{number}", part), state=state),
            )
            for number, (words, part) in enumerate(phone_parts(drawing, named), 1)
        ),
        sheets=tuple(
            DrawnPart(
                words=words,
                svg=draw_terminal_drawing(
                    drawing,
                    form="desktop",
                    part=(f"sheet-{number}", sheet),
                    state=state,
                    focusable=False,
                ),
            )
            for number, (words, sheet) in enumerate(print_sheets(drawing, named), 1)
        ),
    )


def phone_parts(
    drawing: TerminalDrawing, zones: Iterable[tuple[str, str]]
) -> Iterator[tuple[str, TerminalDrawing]]:
    """Yield every part that a phone shows, with its words: zone by zone, all else, and what joins the centres.

    Together they show every core.
    """

    def fits(part: TerminalDrawing) -> bool:
        return layout_part(drawing, part, form="phone").width <= PHONE_PX

    for group, words in (*zones, (SHARED, "Everything else")):
        parts = split_to_fit(drawing, group, fits)
        for part in parts:
            yield words if len(parts) == 1 else f"{words}: {_names(part, group)}", part
    between = take_between(drawing)
    if between is not None:
        yield f"Between {' and '.join(strip.name for strip in between.strips)}", between


def _names(part: TerminalDrawing, group: str) -> str:
    return ", ".join(box.name for box in part.devices if box.group == group)


def print_sheets(
    drawing: TerminalDrawing, zones: Iterable[tuple[str, str]]
) -> Iterator[tuple[str, TerminalDrawing]]:
    """Yield the sheets, with which zones each shows; none where one sheet holds the whole drawing."""
    sheets = split_sheets(drawing)
    if len(sheets) < 2:
        return
    words = dict(zones)
    for number, sheet in enumerate(sheets, 1):
        here = {box.group for box in sheet.devices}
        zones_here = ", ".join(text for group, text in words.items() if group in here)
        yield f"Sheet {number} of {len(sheets)}: {zones_here}", sheet
