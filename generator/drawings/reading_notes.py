"""How to read a terminal drawing: one sentence for each thing that this drawing shows, and none for what it does not.

It knows what was drawn, nothing electrical.
"""

from generator.drawings.core_colours import split_code
from generator.drawings.sizes import needs_marks
from generator.drawings.terminal_model import LINK, TerminalDrawing


def write_reading_notes(drawing: TerminalDrawing) -> tuple[str, ...]:
    """Return the notes for the caption, the most needed first; the first says what nobody may overlook."""
    cores = drawing.cores
    boxes = {box.id for box in drawing.devices}
    notes = [
        "One cell is one terminal, however many cores land in it.",
        "Each core shows the letters of its colour at both ends, and at the device the terminal it goes to.",
        "Where two cores cross, the upright one is broken; they do not touch.",
    ]
    if drawing.description and not any(cell.label for strip in drawing.strips for cell in strip.cells):
        # In the middle stands no wiring centre: what does is said by who made the drawing.
        notes[0] = drawing.description
    if any(core.assumed for core in cores):
        notes[0] += " A dashed core with a question mark is assumed: nobody has seen or tested it."
    if any(link.assumed for strip in drawing.strips for link in strip.links):
        notes[0] += " A dashed bar inside a wiring centre is a link that is assumed."
    if needs_marks(drawing):
        marks = ", ".join(f"{strip.mark} is {strip.name}" for strip in drawing.strips if strip.mark)
        notes.append(f"Before the colon stands the wiring centre: {marks}.")
    if any(strip.links for strip in drawing.strips):
        notes.append("A bar with dots inside a wiring centre is a metal link between terminals.")
    nameless = {(strip.id, cell.id) for strip in drawing.strips for cell in strip.cells if not cell.label}
    direct = [core for core in cores if core.to and core.to[0] in boxes and core.from_pin[0] in boxes]
    if direct or any(nameless & {core.from_pin, core.to} for core in cores):
        notes.append("An arrow in place of a terminal: the core goes straight to another device.")
    if any(core.sleeve for core in cores):
        notes.append(
            "A second colour in brackets is the sleeving at the ends: BU (BN) is a blue core sleeved brown."
        )
    if any(core.code == LINK for core in cores):
        notes.append("The word link stands for a metal link between two terminals, which has no colour.")
    loose = {(box.id, pin.id) for box in drawing.devices for pin in box.pins if pin.loose}
    if any(core.from_pin in loose for core in cores):
        notes.append("A short core between two bars is spare: it is landed in no terminal.")
    if any(core.to is None and core.from_pin not in loose for core in cores):
        notes.append("A short core that ends in a bar is spare: it is connected at one end only.")
    if any(split_code(core.code)[1] for core in cores):
        notes.append("Four letters are a core of two colours: GNYE is green and yellow.")
    if any(not core.code for core in cores):
        notes.append("A dash in place of letters: the colour was not recorded.")
    return tuple(notes)


GAP_NOTE = (
    "Three dots stand for terminals that are left out here, (+2) for two more cores that land in a terminal."
)
LIVE_NOTE = "Choose a state: what is then live is drawn thick, with filled ends; all else is faint."
