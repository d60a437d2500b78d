"""Makes the content of the engineers' site from a folder of records: every page, every file.

The one place where records become pages of a site; knows neither frames nor how files are written.
"""

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

from generator.catalogue.kind import Kind
from generator.drawings.drawing_css import drawing_css
from generator.findings.findings_csv import findings_csv
from generator.pages.environment import environment
from generator.pages.findings_page import findings_page
from generator.pages.pieces import ShownPhoto
from generator.pages.property_pages import property_bodies
from generator.pages.reference_pages import reference_pages
from generator.pipeline import examine, today
from generator.record.own_kinds import kinds_of_own
from generator.rules.rules import ALL
from generator.site.config import FirmConfig
from generator.site.page import HOME, SiteAsset, SiteContent, SitePage
from generator.site.pictures import BadPicture, published
from generator.views.property import PropertyView, property_view
from generator.views.stock_findings import stock_findings


class EngineersContent:
    """Makes everything on the engineers' site besides its hand-written pages.

    While one of it lives, as in a site that is served, a record that can no longer be solved keeps the page of
    its last good state, with what is wrong now above it.
    """

    def __init__(self) -> None:
        self._good: dict[str, PropertyView] = {}

    def __call__(self, properties: Path, firm: FirmConfig) -> SiteContent:
        """The content as the records are now.

        Args:
            properties: the folder of records.
            firm: the firm's settings.
        """
        day = today()
        views = [self._view(file, day) for file in record_files(properties)]
        pictures, warnings = _pictures(views, properties)
        stock = stock_findings(views)
        table = findings_csv((one.where.reference, one.finding) for one in stock.found)
        return SiteContent(
            pages=_pages(views, frozenset(pictures), firm, kinds_of_own(properties)),
            assets=(
                SiteAsset(path="findings.csv", data=table.encode()),
                SiteAsset(path="assets/drawings.css", data=drawing_css().encode()),
                _index(views),
                *(SiteAsset(path=f"pictures/{name}", data=data) for name, data in pictures.items()),
            ),
            warnings=warnings,
        )

    def _view(self, file: Path, day: date) -> PropertyView:
        try:
            view = property_view(examine(file, today=day), stem=file.stem)
        except Exception as error:
            error.add_note(f"record: {file}")
            raise
        if view.solved is not None:
            self._good[str(file)] = view
            return view
        last = self._good.get(str(file))
        return view if last is None else replace(last, newer=view.findings)


def record_files(properties: Path) -> list[Path]:
    """The files of records in a folder, by reference."""
    return sorted(
        file for file in properties.glob("*.yaml") if not file.name.startswith(".") and file.is_file()
    )


def _pages(
    views: list[PropertyView], pictures: frozenset[str], firm: FirmConfig, own: tuple[Kind, ...]
) -> Iterator[SitePage]:
    yield _home(views, firm)
    yield from _reference(views, own)
    rules = {rule.name: rule for rule in ALL}
    yield _findings(views, frozenset(rules))
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


def _findings(views: list[PropertyView], rules: frozenset[str]) -> SitePage:
    return SitePage(
        url="findings/",
        title="Findings",
        kind="findings",
        body=findings_page(stock_findings(views), rules=rules),
        description="What is wrong in the stock: by severity, by rule and by property.",
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


def _home(views: list[PropertyView], firm: FirmConfig) -> SitePage:
    html = (
        environment()
        .get_template("pages/stock.html.j2")
        .render(views=views, firm=firm.firm.name, finds={view.reference: find_text(view) for view in views})
    )
    return SitePage(
        url=HOME,
        title="Properties",
        kind="stock",
        body=html,
        description="Every property, with what is fitted there, what is unusual and what is wrong.",
    )


def find_text(view: PropertyView) -> str:
    """What a property is found by: reference, UPRN, address, arrangement, devices, what is unusual."""
    parts = [view.reference, view.address]
    if view.record and view.record.property.uprn:
        parts.append(view.record.property.uprn)
    if view.glance:
        parts.append(view.glance.arrangement)
        parts += [f"{one.device} {one.kind} {one.place}" for one in view.glance.where]
        parts += [one.key.replace("-", " ") for one in view.glance.unusual or ()]
    return " ".join(dict.fromkeys(" ".join(parts).lower().split()))


def _photos(view: PropertyView, pictures: frozenset[str]) -> Iterator[ShownPhoto]:
    for photo in view.record.photos if view.record else ():
        if photo.file in pictures:
            yield ShownPhoto(url=f"pictures/{photo.file}", caption=photo.caption, on=photo.on)


def _index(views: list[PropertyView]) -> SiteAsset:
    index = [{"ref": v.reference, "address": v.address, "url": f"p/{v.folder}/"} for v in views]
    return SiteAsset(path="find/index.json", data=json.dumps(index, ensure_ascii=False).encode())


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
