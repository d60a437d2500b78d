"""What a build found in the records, as a check would tell it: nothing is examined a second time.

It must not know where it is said.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from generator.command.files import ENDING, Listed, Sort
from generator.command.findings_text import gnu_line
from generator.command.stock import Checked, Identity, StockCheck, check_file, check_together
from generator.command.summary import summary
from generator.findings.finding import Finding, Severity, Span
from generator.kept.store import digest_of
from generator.record.file_names import shown_path
from generator.record.load import HOUSE_TYPES
from generator.record.own_kinds import OWN_KINDS
from generator.site.ledger import Entry, Written
from generator.site.stock_build import StockBuild
from generator.site.stock_written import StockWritten
from generator.views.stock_lines import settled
from generator.views.stock_model import StockFinding


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What is to be said of a check.

    Attributes:
        dangers: Each finding of danger in one line.
        summary: All of it in one line.
        found: Whether there is any finding.
        check: The check itself, where something in it could not be done to the end; else None.
    """

    dangers: tuple[str, ...]
    summary: str
    found: bool
    check: StockCheck | None = None


def told(written: StockWritten, stock: StockBuild, folder: Path) -> Told:
    """What is to be said of a check of everything in the folder; worked out anew only where anything to be said changed.

    Args:
        written: What the build came to.
        stock: The build.
        folder: The folder of records.
    """
    twice = _twice(written.entries)
    used = {entry.house_type for entry in written.entries.values()}
    around = written.around
    others = digest_of(str(Path.cwd()), str(folder), around.house_types, around.kinds, sorted(used))

    def say() -> Told:
        # House types and own kinds, each checked again only when any of them changed.
        checked = stock.kept.remembered("others", others, lambda: _check_others(folder, stock.today))
        records = _records(written, folder, twice)
        return _told(check_together([*records, *checked], today=stock.today))

    key = digest_of(
        [*written.entries],
        settled(written.rows, of=lambda digests: digests.findings),
        [[*entry.reference, *entry.uprn] for stem, entry in written.entries.items() if stem in twice],
        others,
    )
    return stock.kept.remembered("told", key, say)


def _told(check: StockCheck) -> Told:
    return Told(
        dangers=tuple(gnu_line(each) for each in check.findings if each.severity is Severity.DANGER),
        summary=summary(check),
        found=bool(check.findings),
        check=check if check.not_checked else None,
    )


def _records(written: StockWritten, folder: Path, twice: frozenset[str]) -> list[Checked]:
    """What a check makes of each record, as far as anything is to be said of it."""
    shown = shown_path(folder / f"x{ENDING}").removesuffix(f"x{ENDING}")
    return [
        _checked(f"{shown}{stem}{ENDING}", entry)
        if entry.row.findings or stem in twice
        else Checked(file=f"{shown}{stem}{ENDING}", sort=Sort.RECORD)
        for stem, entry in written.entries.items()
    ]


def _twice(entries: Mapping[str, Entry]) -> frozenset[str]:
    """The records that share a reference or a number with another; of the others these need not be compared."""
    twice: set[str] = set()
    for values in (
        {stem: _reference_value(entry.reference) for stem, entry in entries.items()},
        {stem: _uprn_value(entry.uprn) for stem, entry in entries.items()},
    ):
        written = [each for each in values.values() if each]
        if len(set(written)) < len(written):
            times = Counter(written)
            twice |= {stem for stem, each in values.items() if times[each] > 1}
    return frozenset(twice)


def _checked(shown: str, entry: Entry) -> Checked:
    return Checked(
        file=shown,
        sort=Sort.RECORD,
        reference=_reference(entry.reference),
        uprn=_uprn(entry.uprn),
        findings=tuple(_finding(each) for each in entry.row.findings),
    )


def _reference(written: Written) -> Identity | None:
    if not written.text:
        return None
    return Identity(
        rule="reference-twice",
        what="reference",
        value=_reference_value(written),
        written=written.text,
        span=written.span,
    )


def _reference_value(written: Written) -> str:
    return written.text.lower()


def _uprn_value(written: Written) -> str:
    return written.text.strip().lstrip("0")


def _uprn(written: Written) -> Identity | None:
    value = _uprn_value(written)
    if not value:
        return None
    what = "unique property reference number"
    return Identity(rule="uprn-twice", what=what, value=value, written=written.text, span=written.span)


def _finding(each: StockFinding) -> Finding:
    return Finding(
        rule=each.rule,
        severity=each.severity,
        message=each.message,
        fix=each.fix,
        span=Span(each.file, each.line, each.column),
        holds=each.holds,
        subject=each.subject,
        cure=each.cure,
        example=each.example,
    )


def _check_others(folder: Path, today: date) -> list[Checked]:
    listed = [
        Listed(file, sort)
        for name, sort in ((HOUSE_TYPES, Sort.HOUSE_TYPE), (OWN_KINDS, Sort.KIND))
        for file in sorted((folder / name).glob(f"*{ENDING}"))
    ]
    return [check_file(each, today) for each in listed]
