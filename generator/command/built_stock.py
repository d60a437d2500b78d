"""What a build found in the records, as a check would tell it: nothing is examined a second time.

It must not know how findings are printed.
"""

from collections import Counter
from collections.abc import Mapping
from datetime import date
from pathlib import Path

from generator.command.files import ENDING, Listed, Sort
from generator.command.stock import Checked, Identity, StockCheck, check_file, check_together
from generator.findings.finding import Finding, Span
from generator.kept.store import digest_of
from generator.record.file_names import shown_path
from generator.record.load import HOUSE_TYPES
from generator.record.own_kinds import OWN_KINDS
from generator.site.ledger import Entry, Written, look_around
from generator.site.stock_build import StockBuild
from generator.site.stock_written import StockWritten
from generator.views.stock_model import StockFinding


def stock_check(written: StockWritten, stock: StockBuild, folder: Path) -> StockCheck:
    """The outcome of a check of everything in the folder.

    Args:
        written: What the build came to.
        stock: The build.
        folder: The folder of records.
    """
    shown = shown_path(folder / f"x{ENDING}").removesuffix(f"x{ENDING}")
    twice = _twice(written.entries)
    records = [
        _checked(f"{shown}{stem}{ENDING}", entry)
        if entry.row.findings or stem in twice
        else Checked(file=stem, sort=Sort.RECORD)
        for stem, entry in written.entries.items()
    ]
    others = _others(stock, folder, frozenset(entry.house_type for entry in written.entries.values()))
    return check_together([*records, *others], today=stock.today)


def _twice(entries: Mapping[str, Entry]) -> frozenset[str]:
    """The records that share a reference or a number with another; of the others these need not be compared."""
    twice: set[str] = set()
    for values in (
        {stem: _reference_value(entry.reference) for stem, entry in entries.items()},
        {stem: _uprn_value(entry.uprn) for stem, entry in entries.items()},
    ):
        times = Counter(values.values())
        twice |= {stem for stem, each in values.items() if each and times[each] > 1}
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


def _others(stock: StockBuild, folder: Path, used: frozenset[str]) -> list[Checked]:
    """House types and own kinds, each checked again only when it changed."""
    around = look_around(folder, "")
    key = digest_of(str(Path.cwd()), str(folder), around.everything, sorted(used))
    return stock.kept.remembered("others", key, lambda: _check_others(folder, stock.today))


def _check_others(folder: Path, today: date) -> list[Checked]:
    listed = [
        Listed(file, sort)
        for name, sort in ((HOUSE_TYPES, Sort.HOUSE_TYPE), (OWN_KINDS, Sort.KIND))
        for file in sorted((folder / name).glob(f"*{ENDING}"))
    ]
    return [check_file(each, today) for each in listed]
