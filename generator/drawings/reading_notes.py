"""How to read a terminal drawing: one sentence for each thing that this drawing shows, and none for what it does not.

It knows what was drawn, nothing electrical.
"""

from collections.abc import Iterator

from generator.drawings.core_colours import split_code
from generator.drawings.sizes import loose_ends, needs_marks
from generator.drawings.terminal_model import LINK, TerminalDrawing


def write_reading_notes(drawing: TerminalDrawing) -> tuple[str, ...]:
    """Return the notes for the caption, the most needed first; the first says what nobody may overlook."""
    return (
        " ".join(_first(drawing)),
        "Each core shows the letters of its colour at both ends, and at the device the terminal it goes to.",
        "Where two cores cross, the upright one is broken; they do not touch.",
        *_on_strips(drawing),
        *_on_cores(drawing),
    )


def _first(drawing: TerminalDrawing) -> Iterator[str]:
    if drawing.description and not any(cell.label for strip in drawing.strips for cell in strip.cells):
        # In the middle stands no wiring centre: what does is said by who made the drawing.
        yield drawing.description
    else:
        yield "One cell is one terminal, however many cores land in it."
    if any(core.assumed for core in drawing.cores):
        yield "A dashed core with a question mark is assumed: nobody has seen or tested it."
    if any(link.assumed for strip in drawing.strips for link in strip.links):
        yield "A dashed bar inside a wiring centre is a link that is assumed."


def _on_strips(drawing: TerminalDrawing) -> Iterator[str]:
    if needs_marks(drawing):
        marks = ", ".join(f"{strip.mark} is {strip.name}" for strip in drawing.strips if strip.mark)
        yield f"Before the colon stands the wiring centre: {marks}."
    if any(strip.links for strip in drawing.strips):
        yield "A bar with dots inside a wiring centre is a metal link between terminals."
    boxes = {box.id for box in drawing.devices}
    nameless = {(strip.id, cell.id) for strip in drawing.strips for cell in strip.cells if not cell.label}
    for core in drawing.cores:
        direct = core.to is not None and core.to[0] in boxes and core.from_pin[0] in boxes
        if direct or nameless & {core.from_pin, core.to}:
            yield "An arrow in place of a terminal: the core goes straight to another device."
            break


def _on_cores(drawing: TerminalDrawing) -> Iterator[str]:
    cores = drawing.cores
    loose = loose_ends(drawing)
    if any(core.sleeve for core in cores):
        yield "A second colour in brackets is the sleeving at the ends: BU (BN) is a blue core sleeved brown."
    if any(core.code == LINK for core in cores):
        yield "The word link stands for a metal link between two terminals, which has no colour."
    if any(core.from_pin in loose for core in cores):
        yield "A short core between two bars is spare: it is landed in no terminal."
    if any(core.to is None and core.from_pin not in loose for core in cores):
        yield "A short core that ends in a bar is spare: it is connected at one end only."
    if any(split_code(core.code)[1] for core in cores):
        yield "Four letters are a core of two colours: GNYE is green and yellow."
    if any(not core.code for core in cores):
        yield "A dash in place of letters: the colour was not recorded."


GAP_NOTE = (
    "Three dots stand for terminals that are left out here, (+2) for two more cores that land in a terminal."
)
