"""Rules on the record itself: what does not belong in it, what cannot be, and what is out of date.

Knows these rules only.
"""

import re
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from generator.catalogue.kind import Duty
from generator.circuit.conductors import certainty
from generator.circuit.model import Certainty, Conductor
from generator.findings.finding import Severity
from generator.record.model import Record
from generator.record.places import Path
from generator.rules.example_house import HOUSE, change
from generator.rules.rule import COMMON_PRACTICE, FROM_MEMORY, Family, Rule, Seen, Subject
from generator.rules.secrets import secrets_in
from generator.rules.words import and_so_on, the_conductor

_NO_PROSE = {"wiring", "reference", "uprn", "part", "file", "kind", "settings", "arrangement", "postcode"}
"""Keys under which no prose stands; numbers there are no telephone numbers."""
ASSUMED_FOR = timedelta(days=365)


def _values(value: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _values(inner, (*path, key))
    elif isinstance(value, list | tuple):
        for index, inner in enumerate(value):
            yield from _values(inner, (*path, index))
    else:
        yield path, value


def _written(subject: Subject) -> tuple[tuple[Path, Any], ...]:
    return tuple(_values(subject.record.model_dump()))


def _secret(subject: Subject) -> Iterator[Seen]:
    for path, value in subject.once(_written):
        if not isinstance(value, str) or _NO_PROSE & set(path):
            continue
        for words in secrets_in(value):
            yield Seen(
                path=path,
                subject=str(path[1]) if path[0] == "devices" else "",
                message=f"this text seems to give away {words}",
            )


SECRET_IN_RECORD = Rule(
    name="secret-in-record",
    family=Family.RECORD,
    severity=Severity.ERROR,
    summary="A secret or a person's data is in the record",
    why="Records are copied, printed and read by many, for years. A key-safe number lets a stranger in; a name or a "
    "telephone number with an address is personal data.",
    fix="Take it out, and out of the history of the file too; keep it where the firm keeps such things. Change a code that "
    "was written here.",
    source=FROM_MEMORY,
    limits="Goes by patterns of text; it cannot know a name without a title. The gas emergency numbers may stand.",
    right=HOUSE,
    wrong=HOUSE + "\nnotes: Key safe beside the back door, 4821\n",
    own=True,
    look=_secret,
)


def _future(subject: Subject) -> Iterator[Seen]:
    for path, value in subject.once(_written):
        if isinstance(value, date) and value > subject.today:
            yield Seen(path=path, message=f"{value.isoformat()} is in the future")


DATE_IN_FUTURE = Rule(
    name="date-in-future",
    family=Family.RECORD,
    severity=Severity.ERROR,
    summary="A date is in the future",
    why="A slip of the pen makes old knowledge look new.",
    fix="Correct the date.",
    source=COMMON_PRACTICE,
    limits="By the day on which the record is judged.",
    right=HOUSE,
    wrong=change(HOUSE, ("on: 2026-03-14, by: heating engineer }", "on: 2062-03-14, by: heating engineer }")),
    own=True,
    look=_future,
)


def _photo(subject: Subject) -> Iterator[Seen]:
    if subject.folder is None:
        return
    for index, photo in enumerate(subject.record.photos):
        if not (subject.folder / photo.file).is_file():
            yield Seen(
                path=("photos", index, "file"),
                subject=photo.shows or "",
                message=f"there is no file `{photo.file}`",
            )


_PHOTO = (
    "\nphotos:\n  - { file: photos/EX-0001-centre.svg, caption: The wiring centre open, shows: centre }\n"
)

PHOTO_MISSING = Rule(
    name="photo-missing",
    family=Family.RECORD,
    severity=Severity.WARNING,
    summary="A photo is missing",
    why="The page has a gap where the engineer looks for the picture.",
    fix="Put the file beside the record, or correct its name.",
    source=COMMON_PRACTICE,
    limits="Whether the file is there; not whether it shows what it should.",
    right=HOUSE + _PHOTO,
    wrong=HOUSE + _PHOTO.replace("-centre.svg", "-center.svg"),
    own=True,
    look=_photo,
)


def _uprn(subject: Subject) -> Iterator[Seen]:
    uprn = subject.record.property.uprn
    if uprn is not None and not (re.fullmatch(r"\d{1,12}", uprn, re.ASCII) and uprn.strip("0")):
        yield Seen(path=("property", "uprn"), message=f"`{uprn}` is no UPRN: that is 1 to 12 digits")


UPRN_MALFORMED = Rule(
    name="uprn-malformed",
    family=Family.RECORD,
    severity=Severity.ERROR,
    summary="The UPRN is malformed",
    why="The property cannot be matched with the landlord's or the council's lists.",
    fix="Copy the number again, digits only; or leave it out.",
    source=FROM_MEMORY,
    limits="Its form only: whether it is that property's is not known.",
    right=change(HOUSE, ("  reference: EX-0001\n", "  reference: EX-0001\n  uprn: 100012345678\n")),
    wrong=change(HOUSE, ("  reference: EX-0001\n", "  reference: EX-0001\n  uprn: 1000-12345678\n")),
    own=True,
    look=_uprn,
)


def _assumed(subject: Subject) -> Iterator[Seen]:
    groups: dict[Certainty, list[Conductor]] = {}
    for item in subject.circuit.conductors:
        if item.assumed and subject.today - item.certainty.on > ASSUMED_FOR:
            groups.setdefault(item.certainty, []).append(item)
    for sure, items in groups.items():
        whole = sure == certainty(subject.record.sure)
        many = (
            f"{len(items)} conductors have been" if len(items) > 1 else f"{the_conductor(items[0])} has been"
        )
        yield Seen(
            path=("sure", "on") if whole else items[0].path,
            message=f"{many} assumed since {sure.on.isoformat()}, and nobody has looked",
            related=() if whole else tuple((item.path, "another of them") for item in items[1:]),
        )


ASSUMED_OVER_A_YEAR = Rule(
    name="assumed-over-a-year",
    family=Family.RECORD,
    severity=Severity.WARNING,
    summary="Wiring has been assumed for over a year",
    why="No override step is ever given from assumed wiring, and an engineer must test everything anew.",
    fix="At the next visit open the centre, look, and record `seen` or `tested` with the date.",
    source=COMMON_PRACTICE,
    limits="By the dates in the record.",
    right=HOUSE,
    wrong=change(HOUSE, ("sure: { how: tested, on: 2026-03-14,", "sure: { how: assumed, on: 2024-03-14,")),
    own=True,
    look=_assumed,
)

_HEAT = (Duty.BOILER, Duty.IMMERSION, Duty.SOLAR, Duty.UNCONTROLLED_HEAT)


def _nothing(subject: Subject) -> Iterator[Seen]:
    circuit = subject.circuit
    missing = [
        words
        for words, there in (
            ("no zone", bool(circuit.zones)),
            ("no supply", bool(circuit.with_duty(Duty.SUPPLY))),
            ("nothing that gives heat", any(circuit.with_duty(duty) for duty in _HEAT)),
            ("no wiring", bool(circuit.conductors)),
        )
        if not there
    ]
    if missing:
        yield Seen(
            path=("property", "reference"),
            message=f"the record has {and_so_on(missing)}: what depends on that was not looked for",
        )


NOTHING_RECORDED = Rule(
    name="nothing-recorded",
    family=Family.RECORD,
    severity=Severity.WARNING,
    summary="Something that every installation has is not recorded",
    why="No finding then means little: rules on calls go by the zones, and all rules on wiring by the supply and the "
    "conductors. A clean record that is empty looks like a house that is sound.",
    fix="Record the zones with their controls, the supply, the boiler or what else gives heat, and the wiring.",
    source=COMMON_PRACTICE,
    limits="Whether there is any, not whether it is all there.",
    right=HOUSE,
    wrong=HOUSE[: HOUSE.index("\nzones:\n")] + HOUSE[HOUSE.index("\nwater:\n") :],
    look=_nothing,
)

_JUDGED_OTHERWISE = (timedelta(days=0), ASSUMED_FOR + timedelta(days=1))
"""How long after a day that a record states a rule here may find otherwise, though nothing in the record changed."""


def next_judged_otherwise(record: Record, today: date) -> date | None:
    """The first day after today on which the rules may find otherwise in the same record; None where there is none."""
    days = {value for _, value in _values(record.model_dump()) if isinstance(value, date)}
    return min(
        (
            day + after
            for day in days
            for after in _JUDGED_OTHERWISE
            if after <= date.max - day and day + after > today
        ),
        default=None,
    )


RECORD: tuple[Rule, ...] = (
    SECRET_IN_RECORD,
    DATE_IN_FUTURE,
    PHOTO_MISSING,
    UPRN_MALFORMED,
    ASSUMED_OVER_A_YEAR,
    NOTHING_RECORDED,
)
