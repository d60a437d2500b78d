"""The pages of all properties, written straight from records by several processes, and only where anything changed.

A process makes a property, writes its pages and forgets it; what stays is an entry of the ledger each. It must not know
how frames are made, nor what becomes of the folders that it writes to.
"""

import signal
from collections.abc import Iterable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from multiprocessing import get_context
from pathlib import Path

from generator.findings.errors import HearthbookError
from generator.kept.store import Kept, digest_of
from generator.pages.links import links_of
from generator.record.load import LoadedRecord
from generator.record.own_kinds import kinds_of_own
from generator.record.wording import as_text
from generator.rules.record_itself import next_judged_otherwise
from generator.site.config import FirmConfig
from generator.site.ledger import ENDING, Around, Entry, Gate, Written, gate_of
from generator.site.links import LinkCheck
from generator.site.page import SitePage
from generator.site.pictures import BadPicture, published
from generator.site.property_pages import MadeProperty, make_property
from generator.site.publish_tenants import Sheets
from generator.site.shell import Shell
from generator.site.tenants import page_file
from generator.site.tree import Tree
from generator.views.tenant_wording import load_wordings

MANY = 24
"""More properties than this are shared out among processes; fewer are done sooner without."""
_AT_A_TIME = 8
PICTURES = "pictures"


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What is the same for all properties of one build.

    Attributes:
        properties: The folder of records.
        today: The day by which dates are judged.
        cache: Where results are kept; None to keep none.
        version: Of the program.
        firm: The firm's settings.
        around: What records depend on besides their own file.
        frames: The text of every frame by kind and depth.
        root: The engineers' site.
        older: A finished site whose unchanged files may be linked; None for none.
        site_url: Where the engineers' site will stand; None if that is not known.
        tenants: The tenants' site; None where that is not written.
    """

    properties: Path
    today: date
    cache: Path | None
    version: str
    firm: FirmConfig
    around: Around
    frames: Mapping[tuple[str, int], str]
    root: Path
    older: Path | None
    site_url: str | None
    tenants: Path | None = None
    tenants_older: Path | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One property: its file's name without ending, and the address of its tenants' page (empty where none is written)."""

    stem: str
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """What came of one property: its entry, and what was written.

    ``wanted`` and ``broken`` are links of whole pages, frames included, of the first page of each frame.
    """

    stem: str
    entry: Entry
    changed: int
    wanted: tuple[tuple[str, str], ...]
    broken: tuple[str, ...]


class WriterDied(HearthbookError):
    """A process that wrote pages ended without a word."""

    @property
    def message(self) -> str:
        return (
            "a part of the build was ended by the machine, often for want of memory; the old sites stay. "
            "Try again with `--jobs 1`"
        )


def write_properties(order: Order, tasks: Iterable[Task], *, jobs: int) -> Iterator[Done]:
    """Make properties and write their pages, in the order given.

    Args:
        order: What is the same for all.
        tasks: The properties.
        jobs: How many processes may work at once.

    Raises:
        WriterDied: the machine ended one of the processes.
        HearthbookError: pages cannot be written.
    """
    todo = list(tasks)
    if len(todo) <= MANY or jobs < 2:
        writer = Writer(order)
        for task in todo:
            yield writer.write(task)
        return
    pool = ProcessPoolExecutor(
        max_workers=jobs, mp_context=get_context("spawn"), initializer=_begin, initargs=(order,)
    )
    try:
        yield from pool.map(_write, todo, chunksize=_AT_A_TIME)
    except BrokenProcessPool as error:
        raise WriterDied from error
    finally:
        pool.shutdown(cancel_futures=True)


_writer: list["Writer"] = []
"""The writer of a process that was started for writing."""


def _begin(order: Order) -> None:
    # Ctrl-C reaches every process of the terminal; only the first is to speak of it.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _writer.append(Writer(order))


def _write(task: Task) -> Done:
    return _writer[0].write(task)


class Writer:
    """Makes and writes properties, one at a time."""

    def __init__(self, order: Order) -> None:
        self._order = order
        own = {kind.name: kind for kind in kinds_of_own(order.properties)}
        self._kept = Kept(order.cache, order.version, own_kinds=own)
        self._shells = {key: Shell(text, *key) for key, text in order.frames.items()}
        self._seen: set[tuple[str, int]] = set()
        wordings = load_wordings(order.properties)[0]
        self._sheets = Sheets(firm=order.firm, wordings=wordings, key=order.around.settings)

    def write(self, task: Task) -> Done:
        """Make one property and write what belongs to it."""
        order = self._order
        file = order.properties / f"{task.stem}{ENDING}"
        gate = gate_of(file)
        source = sha256(file.read_bytes()).hexdigest()
        warnings: list[str] = []
        tree = Tree(order.root, older=order.older)

        photos: dict[str, Gate] = {}

        def picture(name: str) -> bool:
            # Before it is read: what is put in its place meanwhile has another.
            photos[name] = gate_of(order.properties / name)
            return self._picture(name, tree, warnings, file)

        made = make_property(
            file,
            today=order.today,
            kept=self._kept,
            pictures=picture,
            sheets=self._sheets,
        )
        links, own = LinkCheck(order.site_url), LinkCheck(order.site_url)
        digest = sha256()
        for page in made.pages:
            body = self._page(page, tree, own, links)
            digest.update(repr((page.url, page.title, page.description, page.head)).encode())
            digest.update(body)
        # Counted where no site for tenants is written too: a served site and a built one go by the same ledger.
        html = made.sheet.encode()
        digest.update(html)
        if order.tenants is not None:
            sheets = Tree(order.tenants, older=order.tenants_older)
            sheets.put(page_file(task.address), html)
            tree.changed += sheets.changed
        paths = {page.path for page in made.pages}
        wanted = tuple(place for place in own.wanted() if place[1] or place[0] not in paths)
        entry = _entry(
            made,
            order,
            gate=gate,
            source=source,
            photos=photos,
            pages=digest.hexdigest(),
            wanted=wanted,
            warnings=tuple(warnings),
            pictures=tuple(sorted(tree.written - paths)),
        )
        return Done(
            stem=task.stem,
            entry=entry,
            changed=tree.changed,
            wanted=links.wanted(),
            broken=(*own.broken_at_once(), *links.broken_at_once()),
        )

    def _page(self, page: SitePage, tree: Tree, own: LinkCheck, links: LinkCheck) -> bytes:
        """Write one page, and return what is its own of it."""
        key = (page.kind, page.depth)
        shell = self._shells[key]
        filled = shell.fill(page)
        own.gather(page.path, filled.links, shell.places)
        if key not in self._seen:
            self._seen.add(key)
            links.gather(page.path, links_of(filled.html))
        tree.put(page.path, filled.html)
        return filled.body

    def _picture(self, name: str, tree: Tree, warnings: list[str], file: Path) -> bool:
        """Publish a picture; whether that could be done."""
        source = self._order.properties / name
        place = f"{PICTURES}/{name}"
        if not source.is_file():
            return False
        if place in tree.written:
            return True
        data = source.read_bytes()
        try:
            ready = self._kept.remembered(
                "picture", digest_of(name, sha256(data).hexdigest()), lambda: published(name, data)
            )
        except BadPicture as error:
            warnings.append(f"{file.name}: picture left out: {error}")
            return False
        tree.put(place, ready)
        return True


def _entry(
    made: MadeProperty,
    order: Order,
    *,
    gate: Gate,
    source: str,
    photos: Mapping[str, Gate],
    pages: str,
    wanted: tuple[tuple[str, str], ...],
    warnings: tuple[str, ...],
    pictures: tuple[str, ...],
) -> Entry:
    loaded, known = made.known.loaded, made.known
    record = loaded.record
    strict = not known.key or bool(loaded.findings)
    house_type = _house_type(loaded)
    used = {kind.name for kind in loaded.kinds.values()}
    kinds = tuple(name for name in order.around.kinds if name in used)
    named = tuple(photo.file for photo in record.photos) if record else ()
    return Entry(
        gate=gate,
        source=source,
        house_type=house_type,
        kinds=kinds,
        strict=strict,
        around=order.around.of(house_type, kinds, strict=strict),
        photos=tuple((name, photos.get(name) or gate_of(order.properties / name)) for name in named),
        pictures=pictures,
        judged=order.today,
        until=next_judged_otherwise(record, order.today) if record else None,
        pages=pages,
        rowed=sha256(repr(made.row).encode()).hexdigest()[:32],
        row=made.row,
        wanted=wanted,
        solved=bool(known.key),
        reference=_written(loaded, "reference"),
        uprn=_written(loaded, "uprn"),
        warnings=warnings,
    )


def _house_type(loaded: LoadedRecord) -> str:
    """The house type that a record names, read even where the rest of it is wrong; empty for none."""
    data = loaded.document.data if loaded.document is not None else None
    named = data.get("house_type") if isinstance(data, dict) else None
    return named if isinstance(named, str) else ""


def _written(loaded: LoadedRecord, key: str) -> Written:
    """A value below `property` as it is written, read even where the rest of the record is wrong."""
    data = loaded.document.data if loaded.document is not None else None
    section = data.get("property") if isinstance(data, dict) else None
    text = as_text(section.get(key)) if isinstance(section, dict) else None
    span = loaded.places.value(("property", key))
    return Written(text or "", span.file, span.line, span.column)
