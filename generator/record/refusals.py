"""Why a record is refused before any rule is held against it: every finding of the reader, by its permanent name.

What each found, and what to do, stands in the finding itself. Must not know how any of them is found.
"""

from dataclasses import dataclass
from enum import StrEnum


class Stage(StrEnum):
    """Where on its way a record is refused."""

    FILE = "the file"
    LAYOUT = "the layout of the file"
    SHAPE = "the shape of the record"
    NAMES = "the names in the record"
    STATES = "the states to solve"
    STOCK = "the records side by side"


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """A finding of the reader.

    Attributes:
        name: Its permanent slug.
        stage: Where on its way the record is refused.
        summary: The fault in a few words, as a title.
        why: Why it is refused rather than guessed at.
    """

    name: str
    stage: Stage
    summary: str
    why: str


def _refusals(stage: Stage, *texts: tuple[str, str, str]) -> tuple[Refusal, ...]:
    return tuple(Refusal(name=name, stage=stage, summary=summary, why=why) for name, summary, why in texts)


_FILE = _refusals(
    Stage.FILE,
    (
        "unreadable-file",
        "The file cannot be read",
        "A property whose record cannot be read has no page, and nobody would be told.",
    ),
    (
        "wrong-ending",
        "The file's name has another ending",
        "Records are files that end in `.yaml`. One named nearly so was meant as one, and would be passed over.",
    ),
    (
        "folder-not-read",
        "A folder inside the folder of records holds files named like records",
        "Only the folder of records itself is read. Those houses have no page, and nobody would be told.",
    ),
    (
        "file-too-long",
        "The file is far longer than any record",
        "No house needs as much. It is another file, or one that was made to hold up the program.",
    ),
    (
        "not-utf8",
        "The file is not UTF-8 text",
        "Text in another encoding turns letters and signs into others, in addresses and on printed pages.",
    ),
    (
        "hidden-character",
        "There is a character that nobody can see",
        "It makes two names that look alike differ, or shows text in another order than it is stored.",
    ),
    (
        "tab",
        "There is a tab in a line",
        "How far a tab indents depends on who looks, and the indentation says what belongs to what.",
    ),
)

_LAYOUT = _refusals(
    Stage.LAYOUT,
    (
        "yaml-syntax",
        "The layout cannot be made out",
        "From this place on nobody can say what belongs to what.",
    ),
    (
        "yaml-alias",
        "A value is repeated from elsewhere",
        "A reader would have to look in two places to know what one conductor does.",
    ),
    (
        "yaml-anchor",
        "A value is marked for being repeated",
        "Values are written where they are needed; a house type or the short way says what houses have in common.",
    ),
    (
        "yaml-tag",
        "A value carries a tag",
        "A tag asks the program to read the value in a way of its own, which no record needs.",
    ),
    ("several-documents", "The file holds several records", "One property, one file, one page."),
    (
        "too-deep",
        "The file is nested far too deep",
        "No record is; something is indented that should not be.",
    ),
    (
        "duplicate-key",
        "A key is given twice",
        "Only one of the two can be so, and which one is for whoever was there to say.",
    ),
    ("key-not-text", "A key is no text", "Keys are names: of fields, devices, terminals."),
    (
        "not-a-number",
        "A number cannot be one",
        "It is too long or too large, or stands for no number at all.",
    ),
)

_SHAPE = _refusals(
    Stage.SHAPE,
    ("not-a-record", "The file holds no record", "A record is a mapping of keys, from `format` on."),
    (
        "newer-format",
        "The file is of a newer format",
        "Its keys may mean something else than this program takes them for.",
    ),
    ("unknown-format", "There is no such format", "Nothing can be said about what its keys mean."),
    (
        "unknown-key",
        "A key that nothing reads",
        "A misspelt key would look as if it had been taken in, and what stands under it would be lost.",
    ),
    ("missing-key", "A key that must be there is missing", "Without it no page, or no check, can be right."),
    (
        "wrong-condition",
        "A condition says nothing, or several things at once",
        "When a contact is made must not be open to more than one reading.",
    ),
    (
        "wrong-type",
        "A value of another sort is wanted",
        "Text for a number, or a list for one thing: guessing what was meant would hide a mistake.",
    ),
    (
        "not-allowed-value",
        "The word is none of those allowed",
        "Rules and pages go by these words. One they do not know would be passed over.",
    ),
    ("out-of-range", "The figure cannot be right", "No house has it; a digit too many, as a rule."),
    ("wrong-value", "The value cannot be right", "It contradicts another, or cannot stand here."),
    ("bad-form", "The text has not the form wanted", "Its form is what makes it findable, or safe to use."),
    ("bad-core", "No such colour of a core", "Colours are written by the code letters of IEC 60757."),
    ("bad-date", "No such day", "Days are written year-month-day, as in 2026-03-14, and exist."),
    (
        "bad-end",
        "A conductor's end is not written as one",
        "An end is a device and a terminal, with a full stop between them.",
    ),
    (
        "bad-name",
        "The name cannot be one",
        "Parts of a record speak of each other by small letters, digits and hyphens only.",
    ),
    (
        "bad-terminal",
        "The mark cannot be that of a terminal",
        "It would not fit on a drawing or in an address.",
    ),
    ("empty-text", "The text is empty", "Leave the key out where there is nothing to say."),
    (
        "blanks-around-text",
        "The text begins or ends with a blank",
        "Two texts that look alike would not be found alike.",
    ),
    ("several-lines", "The text has several lines", "It goes where one line fits."),
    ("text-too-long", "The text is too long", "It would not fit where it is shown."),
    ("text-too-short", "The text is too short", "It cannot say what it is there to say."),
)

_NAMES = _refusals(
    Stage.NAMES,
    (
        "not-the-file-name",
        "The reference is not the file's name",
        "A record is found by its file, and a page by its reference.",
    ),
    (
        "setting-unlike-short-way",
        "A setting of a valve does not fit the wiring that its arrangement gives it",
        "The short way wires a valve of the usual sort. Another sort is wired in another way, and which nobody has said.",
    ),
    (
        "unknown-house-type",
        "There is no such house type",
        "All that the record leaves to its house type is missing.",
    ),
    (
        "unknown-kind",
        "There is no such kind of device",
        "What is not known cannot be solved. A device of no kind here has to be added to the kinds first.",
    ),
    (
        "unknown-device",
        "There is no such device in the record",
        "A conductor to nowhere would be left out, and everything would be worked out for another house.",
    ),
    (
        "unknown-terminal",
        "The device has no such terminal",
        "A conductor to nowhere would be left out, and everything would be worked out for another house.",
    ),
    (
        "unknown-part",
        "A kind of your own speaks of a part that it does not have",
        "A contact that nothing moves, or that ends nowhere, would be solved as if it were not there.",
    ),
    (
        "name-twice",
        "Two parts of a kind of your own have one name",
        "A condition or a conductor that names it could mean either.",
    ),
    (
        "duty-needs-part",
        "A kind of your own lacks the part that its duty is known by",
        "Rules would take the device for one that never opens, fires or calls.",
    ),
    (
        "kind-name-taken",
        "A kind of your own has the name of another kind",
        "Every record that uses the name would change its meaning.",
    ),
    ("unknown-channel", "The timer has no such channel", "The zone could never call."),
    (
        "unknown-heat-source",
        "No source of heat has that name",
        "Where the circuit's heat comes from, and so which pump moves it, would be unknown.",
    ),
    (
        "wrong-kind-of-device",
        "The device named does other work",
        "A zone is served by a timer's channel, a thermostat and a valve, each in its own place.",
    ),
    (
        "not-a-wiring-centre",
        "The device is no wiring centre",
        "Conductors are listed where they land in a wiring centre, or as direct ones.",
    ),
    (
        "both-ends-alike",
        "Both ends of a conductor are one terminal",
        "One of the two ends is somewhere else in the house.",
    ),
    (
        "link-between-devices",
        "A link goes from one device to another",
        "A link is a short wire or bar inside one box. What goes from device to device has a core, and is judged by it.",
    ),
    (
        "core-written-twice",
        "A core is written in two places",
        "A core has one place, and a cable lists it once. Of two, one is wrong, and nobody can tell which is meant.",
    ),
    (
        "removes-nothing",
        "An item of what is removed names nothing, or two things",
        "It would be passed over, and what was meant to be gone would still be in the circuit.",
    ),
    (
        "nothing-to-remove",
        "What is to be taken away is not there",
        "The house type or the short way does not give it, so the record differs from something else than was meant.",
    ),
)

_STATES = _refusals(
    Stage.STATES,
    (
        "too-many-states",
        "There are too many controls to solve every state",
        (
            "Every state is solved or none: a sample would look like an answer, and the state that hurts somebody may be the one "
            "left out."
        ),
    ),
)

_STOCK = _refusals(
    Stage.STOCK,
    (
        "reference-twice",
        "Two records have one reference",
        "Capitals do not count: on many machines the two files, and the two pages, are one.",
    ),
    (
        "uprn-twice",
        "Two records have one unique property reference number",
        "The number stands for one property. The engineer would be sent to one and read about the other.",
    ),
)

REFUSALS: tuple[Refusal, ...] = (*_FILE, *_LAYOUT, *_SHAPE, *_NAMES, *_STATES, *_STOCK)


def refusal_named(name: str) -> Refusal | None:
    """The refusal of that name, None where there is none."""
    return next((each for each in REFUSALS if each.name == name), None)
