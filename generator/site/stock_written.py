"""What one build of all properties came to: their entries, their pages and files, and what is to be told of them.

It must not know how any of it was made.
"""

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, field

from generator.findings.finding import Severity
from generator.kept.store import digest_of
from generator.pages.tabs import TABS
from generator.site.ledger import Around, Entry
from generator.site.page import HOME, page_path
from generator.views.stock_model import StockRow


@dataclass(frozen=True, slots=True, kw_only=True)
class Have:
    """What a site has already: the digest of each property's pages, in the frames of that digest.

    ``addresses`` is the address of each property's tenants' page, empty where there is no tenants' site, and
    ``addressed`` a digest of what all of them are made from besides the references.
    """

    frames: str = ""
    pages: Mapping[str, str] = field(default_factory=dict)
    addresses: Mapping[str, str] = field(default_factory=dict)
    addressed: str = ""


@dataclass(frozen=True, slots=True)
class _Paths:
    """The files of properties: told from their names, since there are very many."""

    entries: Container[str]
    pictures: frozenset[str]

    def __contains__(self, path: object) -> bool:
        if not isinstance(path, str):
            return False
        top, _, rest = path.partition("/")
        stem, _, place = rest.partition("/")
        return (top == "p" and place in _PLACES and stem in self.entries) or path in self.pictures


_PLACES = frozenset(page_path(tab.folder or HOME) for tab in TABS)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockWritten:
    """What all properties came to.

    Attributes:
        entries: Of every property, in order of reference.
        around: What they depend on besides their records.
        written: Those whose pages were made anew.
        gone: Those that the site had and that have no record any more.
        have: What the site has now.
        kept: Whether pages that were there were left alone.
        changed: How many files were not already there with the same bytes.
        wanted: Where pages link to, as (file, fragment), with the first page that does.
        broken: Links that are broken whatever the site has.
        warnings: What is to be told to whoever builds.
    """

    entries: Mapping[str, Entry]
    around: Around
    written: tuple[str, ...]
    gone: tuple[str, ...]
    have: Have
    kept: bool
    changed: int
    wanted: Mapping[tuple[str, str], str]
    broken: tuple[str, ...]
    warnings: tuple[str, ...]

    @property
    def urls(self) -> Iterator[str]:
        """The address of every page."""
        for entry in self.entries.values():
            folder = entry.row.folder
            for tab in TABS:
                yield f"p/{folder}/{tab.folder}"

    @property
    def pages(self) -> int:
        """How many pages there are."""
        return len(TABS) * len(self.entries)

    @property
    def paths(self) -> Container[str]:
        """Every file, pages and pictures."""
        return _Paths(self.entries, frozenset(self.files))

    @property
    def files(self) -> Iterator[str]:
        """Every picture that is there."""
        return iter(dict.fromkeys(each for entry in self.entries.values() for each in entry.pictures))

    @property
    def faults(self) -> tuple[str, ...]:
        """What is wrong in the records whose pages were made anew beside others that were not."""
        if not self.kept:
            return ()
        return tuple(
            f"{each.file}:{each.line}:{each.column}: {each.severity}: {each.message} ({each.rule})"
            for stem in self.written
            for each in self.entries[stem].row.findings
            if each.severity >= Severity.ERROR
        )

    @property
    def rowed(self) -> str:
        """A digest of all rows."""
        return digest_of("".join(entry.rowed for entry in self.entries.values()))

    @property
    def rows(self) -> tuple[StockRow, ...]:
        """The row of every property, in order of reference."""
        return tuple(entry.row for entry in self.entries.values())
