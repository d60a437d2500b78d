"""Makes the content of the engineers' site from a folder of records: every page, every file.

The one place where records become pages of a site; knows neither frames nor how files are written.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from itertools import chain
from pathlib import Path

from generator.catalogue.kind import Kind
from generator.drawings.drawing_css import drawing_css
from generator.pages.pieces import ShownPhoto
from generator.pages.property_pages import property_bodies
from generator.pages.reference_pages import reference_pages
from generator.pipeline import examine, today
from generator.record.own_kinds import kinds_of_own
from generator.rules.rules import ALL
from generator.site.config import FirmConfig
from generator.site.page import SiteAsset, SiteContent, SitePage
from generator.site.pictures import BadPicture, published
from generator.site.stock_site import assets_of_stock, pages_of_stock
from generator.views.property import PropertyView, property_view
from generator.views.stock_model import StockRow
from generator.views.stock_row import still_shown, stock_row


class EngineersContent:
    """Makes everything on the engineers' site besides its hand-written pages.

    While one of it lives, as in a site that is served, a record that can no longer be solved keeps the page of
    its last good state, with what is wrong now above it.
    """

    def __init__(self) -> None:
        self._good: dict[str, tuple[PropertyView, StockRow]] = {}

    def __call__(self, properties: Path, firm: FirmConfig) -> SiteContent:
        """The content as the records are now.

        Args:
            properties: the folder of records.
            firm: the firm's settings.
        """
        day = today()
        made = [self._made(file, day) for file in record_files(properties)]
        views, rows = [view for view, _ in made], [row for _, row in made]
        pictures, warnings = _pictures(views, properties)
        return SiteContent(
            pages=chain(
                pages_of_stock(rows, firm=firm.firm.name, day=day),
                _pages(views, frozenset(pictures), kinds_of_own(properties)),
            ),
            assets=(
                *assets_of_stock(rows, day=day, kept=firm.cache_dir / "tables"),
                SiteAsset(path="assets/drawings.css", data=drawing_css().encode()),
                *(SiteAsset(path=f"pictures/{name}", data=data) for name, data in pictures.items()),
            ),
            warnings=warnings,
        )

    def _made(self, file: Path, day: date) -> tuple[PropertyView, StockRow]:
        """What the property's own pages show, and its row for those of the stock."""
        try:
            examination = examine(file, today=day)
            view = property_view(examination, stem=file.stem)
            row = stock_row(examination, stem=file.stem)
        except Exception as error:
            error.add_note(f"record: {file}")
            raise
        if view.solved is not None:
            self._good[str(file)] = view, row
            return view, row
        last = self._good.get(str(file))
        if last is None:
            return view, row
        return replace(last[0], newer=view.findings), still_shown(last[1], row)


def record_files(properties: Path) -> list[Path]:
    """The files of records in a folder, by reference."""
    return sorted(
        file for file in properties.glob("*.yaml") if not file.name.startswith(".") and file.is_file()
    )


def _pages(views: list[PropertyView], pictures: frozenset[str], own: tuple[Kind, ...]) -> Iterator[SitePage]:
    yield from _reference(views, own)
    rules = {rule.name: rule for rule in ALL}
    for view in views:
        photos = tuple(_photos(view, pictures))
        for body in property_bodies(view, rules=rules, photos=photos):
            yield SitePage(
                url=f"p/{view.folder}/{body.tab.folder}",
                title=body.title,
                kind=body.tab.kind,
                body=body.html,
                description=body.description,
                head=body.head,
                printed_foot=_foot(view),
            )


def _reference(views: list[PropertyView], own: tuple[Kind, ...]) -> Iterator[SitePage]:
    found_in: dict[str, list[str]] = {}
    for view in views:
        for name in dict.fromkeys(finding.rule for finding in view.findings):
            found_in.setdefault(name, []).append(view.reference)
    used_in: dict[str, list[str]] = {}
    for view in views:
        for kind in dict.fromkeys(
            device.kind for device in (view.record.devices if view.record else {}).values()
        ):
            used_in.setdefault(kind, []).append(view.reference)
    for page in reference_pages(found_in, own, used_in):
        yield SitePage(
            url=page.url,
            title=page.title,
            kind="reference",
            body=page.html,
            description=page.description,
            search=True,
        )


def _foot(view: PropertyView) -> str:
    visit = view.glance.last_visit.isoformat() if view.glance and view.glance.last_visit else "none recorded"
    return f"{view.reference}, record revision {view.revision}, last visit {visit}"


def _photos(view: PropertyView, pictures: frozenset[str]) -> Iterator[ShownPhoto]:
    for photo in view.record.photos if view.record else ():
        if photo.file in pictures:
            yield ShownPhoto(url=f"pictures/{photo.file}", caption=photo.caption, on=photo.on)


def _pictures(views: list[PropertyView], properties: Path) -> tuple[dict[str, bytes], tuple[str, ...]]:
    """The pictures that the records name, ready to publish, and a warning for each that cannot be."""
    ready: dict[str, bytes] = {}
    warnings = []
    for view in views:
        for photo in view.record.photos if view.record else ():
            source = properties / photo.file
            if photo.file in ready or not source.is_file():
                continue
            try:
                ready[photo.file] = published(photo.file, source.read_bytes())
            except BadPicture as error:
                warnings.append(f"{view.file}: picture left out: {error}")
    return ready, tuple(warnings)
