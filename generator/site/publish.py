"""Makes the content of the engineers' site from a folder of records: every page, every file.

The one place where records become pages of a site; knows neither frames nor how files are written.
"""

from collections.abc import Iterable, Iterator
from pathlib import Path
from shutil import rmtree

from generator.catalogue.kind import Kind
from generator.drawings.drawing_css import drawing_css
from generator.pages.reference_pages import reference_pages
from generator.pages.tabs import TABS
from generator.pipeline import today
from generator.record.own_kinds import kinds_of_own
from generator.site.bulk import PICTURES
from generator.site.config import FirmConfig
from generator.site.last_good import LastGood
from generator.site.page import SiteAsset, SiteContent, SitePage
from generator.site.stock_build import Have, Places, StockBuild, StockWritten
from generator.site.stock_site import assets_of_stock, pages_of_stock
from generator.views.stock_model import StockRow
from generator.views.stock_shared import with_shared

PROPERTIES = "p"
"""Folder of the properties' pages below the site's root."""


class EngineersContent:
    """Makes everything on the engineers' site besides its hand-written pages.

    While one of it lives, as in a site that is served, a record that can no longer be solved keeps the pages of
    its last good state, with what is wrong now above it.
    """

    def __init__(self) -> None:
        self._last_good = LastGood()
        self._have: tuple[Path, Have] | None = None

    def __call__(self, properties: Path, firm: FirmConfig) -> SiteContent:
        """The content as the records are now.

        Args:
            properties: the folder of records.
            firm: the firm's settings.
        """
        stock = StockBuild(properties, firm, today=today())
        return content_of(PropertyPages(stock, self))

    def have(self, root: Path) -> Have:
        """What the site in a folder has from the last time."""
        return self._have[1] if self._have is not None and self._have[0] == root else Have()

    def keep(self, root: Path, have: Have) -> None:
        """Note what a site has now."""
        self._have = root, have

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
    def rows(self) -> tuple[StockRow, ...]:
        """The row of every property; there once they are written."""
        if self.written is None:
            raise AssertionError("the pages of the stock come after those of the properties")
        return with_shared(self.written.rows)


def content_of(bulk: PropertyPages) -> SiteContent:
    """All content, with the pages of the stock made when those of the properties are written."""
    return SiteContent(bulk=bulk, pages=_pages(bulk), assets=_assets(bulk))


def _pages(bulk: PropertyPages) -> Iterator[SitePage]:
    stock = bulk.stock
    yield from pages_of_stock(bulk.rows, firm=stock.firm.firm.name, day=stock.today)
    yield from _reference(bulk.rows, kinds_of_own(stock.properties))


def _assets(bulk: PropertyPages) -> Iterator[SiteAsset]:
    stock = bulk.stock
    kept = None if stock.cache is None else stock.cache / "tables"
    yield from assets_of_stock(bulk.rows, day=stock.today, kept=kept)
    yield SiteAsset(path="assets/drawings.css", data=drawing_css().encode())


def _reference(rows: Iterable[StockRow], own: tuple[Kind, ...]) -> Iterator[SitePage]:
    found_in: dict[str, list[str]] = {}
    used_in: dict[str, list[str]] = {}
    for row in rows:
        for name in dict.fromkeys(finding.rule for finding in row.findings):
            found_in.setdefault(name, []).append(row.reference)
        for kind, _ in row.kinds:
            used_in.setdefault(kind, []).append(row.reference)
    for page in reference_pages(found_in, own, used_in):
        yield SitePage(
            url=page.url,
            title=page.title,
            kind="reference",
            body=page.html,
            description=page.description,
            search=True,
        )
