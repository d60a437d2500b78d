"""Makes the content of the engineers' site from a folder of records: every page, every file.

The one place where records become pages of a site; knows neither frames nor how files are written.
"""

import os
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from shutil import rmtree
from typing import Generic, NamedTuple, TypeVar

from generator.kept.store import digest_of
from generator.pages.reference_pages import reference_pages
from generator.pages.tabs import TABS
from generator.pipeline import today
from generator.record.own_kinds import digests_of_own, kinds_of_own
from generator.site.bulk import PICTURES
from generator.site.config import FirmConfig
from generator.site.last_good import LastGood
from generator.site.late_pages import for_site
from generator.site.page import Later, SiteAsset, SiteContent, SitePage, made
from generator.site.stock_build import Places, StockBuild
from generator.site.stock_written import Have, StockWritten
from generator.site.stock_site import assets_of_stock, pages_of_stock
from generator.views.stock_model import StockRow
from generator.views.stock_shared import with_shared
from generator.views.stock_tables import Stock

Made = TypeVar("Made")

PROPERTIES = "p"
"""Folder of the properties' pages below the site's root."""


_DRAWINGS = "assets/drawings.css"
WAITS_FROM = 1_000
"""Pages about fewer properties than this take no time to speak of, and never wait."""


class _Held(NamedTuple, Generic[Made]):
    """A page or file, and by what it is known to be as it would be made again; empty where that is not known."""

    known_by: str
    one: Made


@dataclass(frozen=True, slots=True, kw_only=True)
class _Others:
    """The pages and files that are no property's, what they were made from, and what they and the properties' link to."""

    key: str
    links_to: frozenset[str]
    pages: tuple[_Held[SitePage], ...]
    assets: tuple[_Held[SiteAsset], ...]


class EngineersContent:
    """Makes everything on the engineers' site besides its hand-written pages.

    While one of it lives, as in a site that is served, a record that can no longer be solved keeps the pages of
    its last good state, with what is wrong now above it. The pages about a large stock as a whole then follow later than
    those of the record that was changed.
    """

    def __init__(self) -> None:
        self._last_good = LastGood()
        self._stock: StockBuild | None = None
        self._have: tuple[Path, Have] | None = None
        self._others: _Others | None = None
        self._due = False
        self.left = False
        """Whether the last build left the pages of the stock as they were; see `Rest`."""

    def due(self) -> None:
        """Have the next build make the pages of the stock, if they changed."""
        self._due = True

    def __call__(self, properties: Path, firm: FirmConfig) -> SiteContent:
        """The content as the records are now.

        Args:
            properties: the folder of records.
            firm: the firm's settings.
        """
        stock = StockBuild(properties, firm, today=today(), jobs=os.cpu_count() or 1)
        if self._stock is not None:
            stock.take_over(self._stock)
        self._stock = stock
        bulk = PropertyPages(stock, self)
        return SiteContent(
            bulk=bulk,
            pages=_later(lambda: self.others(bulk)[0]),
            assets=_later(lambda: self.others(bulk)[1]),
            key=bulk.key,
            rest=self,
        )

    def have(self, root: Path) -> Have:
        """What the site in a folder has from the last time."""
        return self._have[1] if self._have is not None and self._have[0] == root else Have()

    def keep(self, root: Path, have: Have) -> None:
        """Note what a site has now."""
        self._have = root, have

    def others(self, bulk: "PropertyPages") -> tuple[tuple[SitePage, ...], tuple[SiteAsset, ...]]:
        """The pages and files that are no property's: as they were, while nothing changed of what they are made from.

        Those of a large stock also stay while they may wait: where all that they and the properties' pages link to is there.
        """
        key, was = bulk.key(), self._others
        self.left = (
            was is not None
            and was.key != key
            and not self._due
            and len(was.links_to) >= WAITS_FROM
            and was.links_to == _links_to(bulk)
        )
        if was is None or (was.key != key and not self.left):
            self._due = False
            was = self._others = _Others(
                key=key,
                links_to=_links_to(bulk),
                pages=tuple(_held(_pages(bulk), was.pages if was else ())),
                assets=tuple(_held(_assets(bulk), was.assets if was else ())),
            )
        return tuple(each.one for each in was.pages), tuple(each.one for each in was.assets)

    @property
    def last_good(self) -> LastGood:
        """The good pages of records that broke."""
        return self._last_good


class PropertyPages:
    """The pages of all properties, written in bulk; see `Bulk`."""

    kinds: tuple[tuple[str, int], ...] = tuple((tab.kind, 2 + tab.folder.count("/")) for tab in TABS)
    tops: tuple[str, ...] = (PROPERTIES, PICTURES)

    def __init__(
        self,
        stock: StockBuild,
        session: EngineersContent | None = None,
    ) -> None:
        """Begin.

        Args:
            stock: The properties.
            session: Keeps what a site that is served has; None where the site is built once.
        """
        self.stock = stock
        self._session = session
        self.places = Places(root=Path())
        """Where the tenants' pages go, if anywhere; the other fields are given with each build."""
        self.have = Have()
        """What a site that is built once has already."""
        self.written: StockWritten | None = None
        self._all: tuple[StockWritten, Stock] | None = None

    def write(
        self,
        frames: dict[tuple[str, int], str],
        root: Path,
        *,
        older: Path | None,
        site_url: str | None,
    ) -> StockWritten:
        """Write them, and only what is not there."""
        have = self._session.have(root) if self._session is not None else self.have
        places = Places(
            root=root,
            older=older,
            site_url=site_url,
            tenants=self.places.tenants,
            tenants_older=self.places.tenants_older,
            secret=self.places.secret,
        )
        last_good = self._session.last_good if self._session is not None else None
        self.written = self.stock.write(frames, places, have, last_good=last_good)
        for stem in self.written.gone:
            rmtree(root / PROPERTIES / stem, ignore_errors=True)
        if self._session is not None:
            self._session.keep(root, self.written.have)
        return self.written

    @property
    def all(self) -> Stock:
        """The whole stock; there once the properties are written."""
        if self.written is None:
            raise AssertionError("the pages of the stock come after those of the properties")
        if self._all is None or self._all[0] is not self.written:
            self._all = self.written, Stock(with_shared(self.written.rows), self.stock.today)
        return self._all[1]

    def key(self) -> str:
        """A digest of all that the pages of the stock are made from, once the properties are written."""
        if self.written is None:
            raise AssertionError("the pages of the stock come after those of the properties")
        firm, day = self.stock.firm.firm.name, self.stock.today.isoformat()
        return digest_of(self.written.rowed, firm, day, digests_of_own(self.stock.properties))


def _links_to(bulk: PropertyPages) -> frozenset[str]:
    """Whatever comes and goes of what pages link to: the properties, and the firm's own kinds with their texts."""
    own = digest_of(digests_of_own(bulk.stock.properties))
    return frozenset((*(bulk.written.entries if bulk.written else ()), f"/{own}"))


def content_of(bulk: PropertyPages) -> SiteContent:
    """All content, with the pages of the stock made when those of the properties are written."""
    return SiteContent(bulk=bulk, pages=_pages(bulk), assets=_assets(bulk), key=bulk.key)


def _held(now: Iterable[Made | Later[Made]], before: Iterable[_Held[Made]]) -> Iterator[_Held[Made]]:
    """All of them, made only where they were not made before from the same."""
    known = {each.known_by: each for each in before}
    for one in now:
        known_by = f"{one.path} {one.made_from}" if isinstance(one, Later) else ""
        held = known.get(known_by) if known_by else None
        yield held if held is not None else _Held(known_by, made(one))


def _later(make: Callable[[], Iterable[Made]]) -> Iterator[Made]:
    """What is made, once somebody asks for the first of it."""
    yield from make()


def _pages(bulk: PropertyPages) -> Iterator[SitePage | Later[SitePage]]:
    yield from other_pages(bulk.all, firm=bulk.stock.firm.firm.name, properties=bulk.stock.properties)


def _assets(bulk: PropertyPages) -> Iterator[SiteAsset | Later[SiteAsset]]:
    yield from other_assets(bulk.all)


def other_pages(stock: Stock, *, firm: str, properties: Path) -> Iterator[SitePage | Later[SitePage]]:
    """Every page of ours besides those of properties.

    Args:
        stock: The whole stock.
        firm: The firm's name.
        properties: The folder of records.
    """
    yield from pages_of_stock(stock, firm=firm)
    found_in, used_in = _mentions(stock.rows)
    own_files = digest_of(digests_of_own(properties))
    own = kinds_of_own(properties)
    yield from map(for_site, reference_pages(found_in, own, used_in, own_files=own_files))


def other_assets(stock: Stock) -> Iterator[SiteAsset | Later[SiteAsset]]:
    """Every file of ours besides those of properties."""
    yield from assets_of_stock(stock)
    yield Later(path=_DRAWINGS, made_from=digest_of(_DRAWINGS), make=_drawings)


def _drawings() -> SiteAsset:
    """The style sheet of all drawings, which nothing but the program bears on."""
    from generator.drawings.drawing_css import drawing_css

    return SiteAsset(path=_DRAWINGS, data=drawing_css().encode())


def _mentions(rows: Iterable[StockRow]) -> tuple[dict[str, list[str]], dict[str, list[str]]]:
    """In which properties each rule finds something, and which use each kind of device."""
    found_in: dict[str, list[str]] = {}
    used_in: dict[str, list[str]] = {}
    for row in rows:
        for name in dict.fromkeys(finding.rule for finding in row.findings):
            found_in.setdefault(name, []).append(row.reference)
        for kind, _ in row.kinds:
            used_in.setdefault(kind, []).append(row.reference)
    return found_in, used_in
