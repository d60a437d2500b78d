"""One build of all properties: which of them have to be made anew, and what all of them come to.

Goes by the ledger of the last build. It must not know what is on a page, nor who makes frames.
"""

import gc
from collections.abc import Callable, Container, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from hashlib import sha256
from pathlib import Path
from time import time_ns
from typing import TypeVar, cast

from generator.kept.mapping import KeptMapping
from generator.kept.store import Kept, digest_of, drop_older
from generator.kept.version import program_version
from generator.site.bulk import Done, Order, Task, write_properties
from generator.site.config import FirmConfig
from generator.site.last_good import LastGood
from generator.site.ledger import STRAY, Around, Entry, Gate, look_around, record_gates, still_holds, strays
from generator.site.stock_written import Have, StockWritten
from generator.site.tenancies import read_tenancies
from generator.site.tenant_address import tenant_address

_RACY_NS = 2_000_000_000
"""A file changed so shortly before it was read may have been changed again since without its time telling."""
WORDING = "wording"
"""Folder of the tenants' sentences in other languages, beside the records."""
Value = TypeVar("Value")


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """Where one build writes, and what is there: for each field see `Order`."""

    root: Path
    older: Path | None = None
    site_url: str | None = None
    tenants: Path | None = None
    tenants_older: Path | None = None
    secret: bytes = b""


class StockBuild:
    """Builds the properties of one folder, again and again."""

    def __init__(
        self,
        properties: Path,
        firm: FirmConfig,
        *,
        today: date,
        jobs: int = 1,
        kept: bool = True,
        step: Callable[[int, int], None] = lambda *_: None,
    ) -> None:
        """Begin.

        Args:
            properties: The folder of records.
            firm: The firm's settings.
            today: The day by which dates are judged.
            jobs: How many processes may work at once.
            kept: Whether results are kept in the firm's cache folder.
            step: Told after each property how many of how many are done.
        """
        self.properties = properties
        self.firm = firm
        self.today = today
        self.jobs = jobs
        self.cache = firm.cache_dir if kept else None
        self.version = program_version()
        self.step = step
        self.kept = Kept(self.cache, self.version)
        self._ledger: KeptMapping[Entry] = KeptMapping(
            self.kept, f"ledger-{digest_of(str(properties.resolve()), str(Path.cwd()))[:16]}"
        )
        self._known = False

    @property
    def ledger(self) -> KeptMapping[Entry]:
        """What is known from the last build, by name of the record; with it, when that build began in ns."""
        if not self._known:
            self._known = True
            self._ledger.read()
            # All of it stays to the end: nothing of it is to be looked through for garbage again and again.
            gc.freeze()
        return self._ledger

    def take_over(self, before: "StockBuild") -> None:
        """Spare reading the ledger where an earlier build of the same records has it and nobody wrote it since."""
        held = before.ledger
        if before.version == self.version and held.name == self._ledger.name and held.holds():
            self._ledger, self._known = held, True

    def write(
        self,
        frames: Mapping[tuple[str, int], str],
        places: Places,
        have: Have,
        *,
        last_good: LastGood | None = None,
    ) -> StockWritten:
        """Make what has to be made and write its pages.

        Args:
            frames: The text of every frame of a property's page, by kind and depth.
            places: Where to write.
            have: What is there; only what differs is written.
            last_good: Keeps the pages of records that break, in a site that is served; None to show only what is wrong.
        """
        began_ns = time_ns()
        around = look_around(self.properties, self._settings())
        gates = record_gates(self.properties)
        framed = frames_digest(frames)
        if have.frames != framed:
            have = Have(frames=framed)
        addressed, addresses = self._addresses(gates, places, have)
        entries = self._holding(gates, around)
        tasks = [
            Task(stem=stem, address=addresses.get(stem, ""))
            for stem in gates
            if stem not in entries
            or have.pages.get(stem) != entries[stem].pages
            or have.addresses.get(stem, "") != addresses.get(stem, "")
        ]
        order = Order(
            properties=self.properties,
            today=self.today,
            cache=self.cache,
            version=self.version,
            firm=self.firm,
            around=around,
            frames=frames,
            root=places.root,
            older=places.older,
            site_url=places.site_url,
            tenants=places.tenants,
            tenants_older=places.tenants_older,
        )
        if last_good is not None:
            last_good.before([task.stem for task in tasks], self.ledger.entries, places.root)
        changed = 0
        wanted: dict[tuple[str, str], str] = {}
        broken: list[str] = []
        same: dict[object, object] = {}
        for number, done in enumerate(self._done(order, tasks), start=1):
            entry = done.entry
            if last_good is not None:
                entry = last_good.after(done.stem, entry, places.root)
            entries[done.stem] = _alike(entry, same)
            changed += done.changed
            broken += done.broken
            for place in done.wanted:
                wanted.setdefault(place, f"p/{done.stem}/index.html")
            self.step(number, len(tasks))
        entries = {stem: entries[stem] for stem in gates}
        for entry in {entry.wanted: entry for entry in reversed(entries.values())}.values():
            for place in entry.wanted:
                wanted.setdefault(place, f"p/{entry.row.folder}/index.html")
        before = self.ledger.entries
        if len(before) != len(entries) or any(before.get(stem) is not each for stem, each in entries.items()):
            self.ledger.write(entries, began_ns)
        return StockWritten(
            entries=entries,
            around=around,
            written=tuple(task.stem for task in tasks),
            gone=tuple(stem for stem in have.pages if stem not in gates),
            have=Have(
                frames=framed,
                pages={stem: entry.pages for stem, entry in entries.items()},
                addresses=addresses,
                addressed=addressed,
            ),
            kept=bool(have.pages),
            changed=changed,
            wanted=wanted,
            broken=tuple(broken),
            warnings=(
                *(f"{path} is left out: {STRAY}" for path in self._strays(last_good)),
                *dict.fromkeys(each for entry in entries.values() for each in entry.warnings),
            ),
        )

    def _strays(self, last_good: LastGood | None) -> tuple[str, ...]:
        """What came while a site is served; a build that is asked for does not begin with any."""
        return strays(self.properties) if last_good is not None else ()

    def holding(self) -> dict[str, Entry]:
        """The entries of the last build that still hold, by name of the record."""
        return self._holding(record_gates(self.properties), look_around(self.properties, self._settings()))

    def tidy(self) -> None:
        """Remove what earlier states of the program kept."""
        if self.cache is not None:
            drop_older(self.cache, self.version)

    def _done(self, order: Order, tasks: list[Task]) -> Iterator[Done]:
        return write_properties(order, tasks, jobs=self.jobs)

    def _holding(self, gates: Mapping[str, Gate], around: Around) -> dict[str, Entry]:
        """The entries that still hold."""
        known, made_ns = self.ledger.entries, self.ledger.about or 0
        holding: dict[str, Entry] = {}
        for stem, gate in gates.items():
            entry = known.get(stem)
            if entry is not None and still_holds(
                entry,
                gate,
                around=around,
                today=self.today,
                properties=self.properties,
                slack_ns=made_ns - _RACY_NS,
            ):
                holding[stem] = entry if entry.gate == gate else entry._replace(gate=gate)
        return holding

    def _addresses(
        self, gates: Mapping[str, Gate], places: Places, have: Have
    ) -> tuple[str, dict[str, str]]:
        """The address of each tenants' page, and a digest of what all of them are made from besides the references."""
        if places.tenants is None:
            return "", {}
        tenancies = read_tenancies(self.properties)
        addressed = digest_of(sha256(places.secret).hexdigest(), sorted(tenancies.items()))
        known = have.addresses if have.addressed == addressed else {}
        return addressed, {
            stem: known.get(stem) or tenant_address(stem, places.secret, tenancy=tenancies.get(stem, 0))
            for stem in gates
        }

    def _settings(self) -> str:
        """A digest of all settings and sentences that a property's pages may depend on."""
        said = self.firm.model_dump_json(exclude={"outputs": True, "base": True})
        wordings = [
            (file.name, sha256(file.read_bytes()).hexdigest())
            for file in sorted((self.properties / WORDING).glob("*.yaml"))
        ]
        return digest_of(said, wordings)


def frames_digest(frames: Mapping[tuple[str, int], str]) -> str:
    """A digest of frames."""
    return digest_of([[*key, frames[key]] for key in sorted(frames)])


def _alike(entry: Entry, same: dict[object, object]) -> Entry:
    """The entry with what it has in common with others held once."""
    row = entry.row
    return entry._replace(
        row=row._replace(
            kinds=_once(row.kinds, same),
            unusual=_once(row.unusual, same),
            orange=_once(row.orange, same),
            arrangement=_once(row.arrangement, same),
            cylinders=_once(row.cylinders, same),
            parts=_once(row.parts, same),
        ),
        wanted=_once(entry.wanted, same),
        around=_once(entry.around, same),
    )


def _once(value: Value, same: dict[object, object]) -> Value:
    return cast(Value, same.setdefault(value, value))
