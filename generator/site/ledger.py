"""What is known of every record from the last build: by what its pages can be told to be as they were.

Knows files by size and time first and by content where these differ. It must not know what is on a page.
"""

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

from generator.findings.errors import CannotReadFile
from generator.findings.finding import Span
from generator.kept.store import digest_of
from generator.record.load import HOUSE_TYPES
from generator.record.own_kinds import OWN_KINDS
from generator.views.stock_model import StockRow

Gate = tuple[int, int, int]
"""Size, time of change in ns and number of a file; all -1 where there is none."""
ABSENT: Gate = (-1, -1, -1)
ENDING = ".yaml"


class Written(NamedTuple):
    """Something as a record has it: the text, and where; the text is empty where there is none.

    A named tuple, as is all that there are many of in a ledger: it is read back many times as fast.
    """

    text: str
    file: str
    line: int
    column: int

    @property
    def span(self) -> Span:
        """Where it is written."""
        return Span(self.file, self.line, self.column)


class Entry(NamedTuple):
    """One record as it was when its pages were made.

    Attributes:
        gate: Of its file.
        source: A digest of the file.
        house_type: Name of the house type that it uses; empty for none.
        kinds: Names of the firm's own kinds that it uses.
        strict: Whether any house type or kind of the folder may matter: where something in the record is wrong.
        around: A digest of what else it depended on.
        photos: Its pictures, as it names them, with their gates.
        pictures: Those of them that could be published, by their path below the site.
        judged: The day by which its dates were judged.
        until: The first day on which a date of it is to be judged otherwise; None for never.
        pages: A digest of its pages without their frames, and of its tenants' page.
        rowed: A digest of its row.
        row: What the pages of the stock show of it.
        wanted: Places elsewhere that its pages link to, as (file, fragment).
        solved: Whether its circuit could be solved.
        reference: As the record has it.
        uprn: As the record has it.
        warnings: What is to be told to whoever builds.
    """

    gate: Gate
    source: str
    house_type: str
    kinds: tuple[str, ...]
    strict: bool
    around: str
    photos: tuple[tuple[str, Gate], ...]
    pictures: tuple[str, ...]
    judged: date
    until: date | None
    pages: str
    rowed: str
    row: StockRow
    wanted: tuple[tuple[str, str], ...]
    solved: bool
    reference: Written
    uprn: Written
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """What records depend on besides their own file: house types, own kinds and settings, by digest."""

    house_types: Mapping[str, str]
    kinds: Mapping[str, str]
    settings: str
    everything: str = field(default="")
    _known: dict[tuple[str, tuple[str, ...]], str] = field(default_factory=dict, repr=False)

    def of(self, house_type: str, kinds: tuple[str, ...], *, strict: bool) -> str:
        """A digest of what a record depends on that uses these."""
        if strict:
            return self.everything
        known = self._known.get((house_type, kinds))
        if known is None:
            used = [self.kinds.get(name) for name in kinds]
            type_ = self.house_types.get(house_type) if house_type else ""
            known = self._known[house_type, kinds] = digest_of(self.settings, type_, used)
        return known


def look_around(properties: Path, settings: str) -> Around:
    """What records depend on as it is now.

    Args:
        properties: The folder of records.
        settings: A digest of the firm's settings, as far as pages depend on them.
    """
    house_types = _digests(properties / HOUSE_TYPES)
    kinds = _digests(properties / OWN_KINDS)
    return Around(
        house_types=house_types,
        kinds=kinds,
        settings=settings,
        everything=digest_of(settings, house_types, kinds),
    )


def _digests(folder: Path) -> dict[str, str]:
    return {
        file.stem: sha256(file.read_bytes()).hexdigest()
        for file in sorted(folder.glob(f"*{ENDING}"))
        if file.is_file()
    }


def record_gates(properties: Path) -> dict[str, Gate]:
    """The records in a folder by name without ending, in order of reference, each with its gate."""
    with os.scandir(properties) as entries:
        found = {
            entry.name.removesuffix(ENDING): _gate(entry.stat())
            for entry in entries
            if _named_as_record(entry) and _is_file(entry)
        }
    return {stem: found[stem] for stem in sorted(found)}


def any_records(properties: Path) -> bool:
    """Whether there is any record in a folder.

    Raises:
        CannotReadFile: something there is named as a record and is none.
    """
    told = strays(properties)
    if told:
        raise CannotReadFile(told[0], STRAY)
    with os.scandir(properties) as entries:
        return any(map(_named_as_record, entries))


STRAY = "it is named as a record and is no file, or a link that leads to none"


def strays(properties: Path) -> tuple[str, ...]:
    """What is named as a record and is none: left out without a word, a home would vanish from both sites."""
    with os.scandir(properties) as entries:
        return tuple(
            sorted(entry.path for entry in entries if _named_as_record(entry) and not _is_file(entry))
        )


def _named_as_record(entry: os.DirEntry[str]) -> bool:
    return entry.name.endswith(ENDING) and not entry.name.startswith(".")


def _is_file(entry: os.DirEntry[str]) -> bool:
    try:
        return entry.is_file()
    except OSError:  # a link that leads to itself
        return False


def record_files(properties: Path) -> list[Path]:
    """The files of records in a folder, by reference."""
    return [properties / f"{stem}{ENDING}" for stem in record_gates(properties)]


def gate_of(file: Path) -> Gate:
    """The gate of one file."""
    try:
        return _gate(file.stat())
    except OSError:
        return ABSENT


def _gate(stat: os.stat_result) -> Gate:
    return stat.st_size, stat.st_mtime_ns, stat.st_ino


def still_holds(
    entry: Entry | None, gate: Gate, *, around: Around, today: date, properties: Path, slack_ns: int
) -> bool:
    """Whether the pages of a record are as they were when the entry was made.

    Args:
        entry: None where there is none.
        gate: Of the record's file now.
        around: What records depend on, now.
        today: The day by which dates are judged.
        properties: The folder of records.
        slack_ns: When the entry was written: a file changed at that moment may have changed since.
    """
    if entry is None:
        return False
    if entry.around != around.of(entry.house_type, entry.kinds, strict=entry.strict):
        return False
    if not (entry.judged <= today and (entry.until is None or today < entry.until)):
        return False
    for name, was in entry.photos:
        now = gate_of(properties / name)
        if now != was or now[1] >= slack_ns:
            return False
    if entry.gate == gate and gate[1] < slack_ns:
        return True
    try:
        source = (properties / f"{entry.row.reference}{ENDING}").read_bytes()
    except OSError:
        return False
    return sha256(source).hexdigest() == entry.source
