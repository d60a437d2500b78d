"""Both sites built from one pass over the records: whole, or as a patch of what is there where little changed.

It must not know which program makes frames; that is handed in.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from generator.kept.mapping import KeptMapping
from generator.kept.store import digest_of
from generator.site.page import SiteContent
from generator.site.patch import NotPatchable, patch_pages
from generator.site.publish import PropertyPages, content_of
from generator.site.stage import ENGINEERS, Framework, Others, Stage, Written
from generator.site.stock_build import Places, StockBuild
from generator.site.stock_written import Have, StockWritten
from generator.site.swap import Patch, patched, replaced, state_of, write_mark
from generator.site.tenancies import read_tenancies
from generator.site.tenant_address import tenant_address
from generator.site.tenants import TENANTS, tenants_rest
from generator.site.tree import Tree, digest_of_file

Write = Callable[[Path, Path | None, SiteContent], Stage]
"""Writes a whole engineers' site into an empty folder: that folder, the old site if there is one, and the content."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SitesState:
    """What two sites hold besides the pages of properties, as far as it must be known to patch them.

    Attributes:
        state: The digest that both are marked with.
        frames: See `Have`, as for the next.
        addressed: Likewise.
        others: What else of ours there is on the engineers' site.
        pictures: The pictures there.
        rest: A digest of every file of the tenants' site that is no property's page.
    """

    state: str
    frames: str
    addressed: str
    others: Others
    pictures: tuple[str, ...] = ()
    rest: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class BothWritten:
    """What a build did: on the engineers' site, for how many properties, and what was found in them."""

    engineers: Written
    stock: StockWritten
    patched: bool


class Sites:
    """Two sites in their folders, built from one folder of records."""

    def __init__(
        self,
        stock: StockBuild,
        *,
        engineers: Path,
        tenants: Path,
        secret: bytes,
        nowhere: str,
        frames_depend_on: str,
    ) -> None:
        """Begin.

        Args:
            stock: The properties.
            engineers: The engineers' site: absent, empty, or one that we made.
            tenants: The tenants' site, likewise.
            secret: Behind the tenants' addresses.
            nowhere: The page that a wrong or old address of a tenant leads to.
            frames_depend_on: A digest of everything besides the program that frames and hand-written pages depend on.
        """
        self.stock = stock
        self.engineers = engineers
        self.tenants = tenants
        self.secret = secret
        self._nowhere = nowhere
        self._pages = PropertyPages(stock)
        place = digest_of(str(engineers.resolve()), str(tenants.resolve()))[:16]
        self._framework = f"frames-{digest_of(frames_depend_on)[:16]}"
        self._held: KeptMapping[tuple[str, str]] = KeptMapping(
            stock.kept, f"sites-{place}-{digest_of(frames_depend_on)[:16]}"
        )
        """Of each property the digest of its pages and the address of its tenants' page."""

    def build(self, write: Write) -> BothWritten:
        """Build both; however it ends, each folder holds its old site or the new one.

        Raises:
            HearthbookError: they cannot be built or not be put in place; the old ones stay.
        """
        was, framework = self._known()
        if was is not None and framework is not None:
            try:
                return self._patch(was, framework)
            except NotPatchable:
                self._pages = PropertyPages(self.stock)
        return self._whole(write)

    def _known(self) -> tuple[SitesState | None, Framework | None]:
        """What is known of the sites that are there, if they are what was written last."""
        self._held.read()
        was, framework = self._held.about, self.stock.kept.read(self._framework)
        if not isinstance(was, SitesState) or not isinstance(framework, Framework):
            return None, None
        if {state_of(self.engineers), state_of(self.tenants)} != {was.state}:
            return None, None
        try:
            there = {each.name for each in (self.engineers / "p").iterdir()}
        except OSError:
            return None, None
        return (was, framework) if there == self._held.entries.keys() else (None, None)

    def _whole(self, write: Write) -> BothWritten:
        with (
            replaced(self.engineers, audience=ENGINEERS) as engineers,
            replaced(self.tenants, audience=TENANTS) as tenants,
        ):
            self._pages.places = Places(
                root=engineers,
                tenants=tenants,
                tenants_older=self.tenants if self.tenants.is_dir() else None,
                secret=self.secret,
            )
            old = self.engineers if self.engineers.is_dir() else None
            stage = write(engineers, old, content_of(self._pages))
            tree = Tree(tenants)
            rest = self._rest()
            for path, data in rest.items():
                tree.put(path, data)
            now = self._state(stage.others(self._pages.key()), rest)
            write_mark(engineers, audience=ENGINEERS, state=now.state)
            write_mark(tenants, audience=TENANTS, state=now.state)
        self._keep(now, stage.framework)
        return BothWritten(engineers=stage.written, stock=self._written, patched=False)

    def _patch(self, was: SitesState, framework: Framework) -> BothWritten:
        with (
            patched(self.engineers, audience=ENGINEERS) as engineers,
            patched(self.tenants, audience=TENANTS) as tenants,
        ):
            before = self._held.entries
            self._pages.have = Have(
                frames=was.frames,
                pages={stem: pages for stem, (pages, _) in before.items()},
                addresses={stem: address for stem, (_, address) in before.items()},
                addressed=was.addressed,
            )
            self._pages.places = Places(root=engineers.folder, tenants=tenants.folder, secret=self.secret)
            done = patch_pages(
                content_of(self._pages), framework, engineers, site=self.engineers, was=was.others
            )
            engineers.gone += [f"p/{stem}" for stem in self._written.gone]
            pictures = set(self._written.files)
            engineers.gone += [path for path in was.pictures if path not in pictures]
            rest = self._rest()
            self._patch_tenants(tenants, was, rest)
            now = self._state(done.others, rest)
            engineers.state = tenants.state = now.state
        if now != was:
            self._keep(now, None)
        return BothWritten(engineers=done.written, stock=self._written, patched=True)

    def _patch_tenants(self, patch: Patch, was: SitesState, rest: dict[str, bytes]) -> None:
        tree = Tree(patch.folder)
        for path, data in rest.items():
            if was.rest.get(path) != digest_of_file(data):
                tree.put(path, data)
        wanted = {*self._written.have.addresses.values(), *map(_folder, rest)}
        before = (*(address for _, address in self._held.entries.values()), *map(_folder, was.rest))
        patch.gone += [each for each in before if each not in wanted]

    @property
    def _written(self) -> StockWritten:
        if self._pages.written is None:
            raise AssertionError("the properties come first")
        return self._pages.written

    def _rest(self) -> dict[str, bytes]:
        """The files of the tenants' site that are no property's page; old addresses among them."""
        old = [
            tenant_address(stem, self.secret, tenancy=before)
            for stem, times in read_tenancies(self.stock.properties).items()
            if stem in self._written.entries
            for before in range(times)
        ]
        return tenants_rest(self._nowhere, old)

    def _state(self, others: Others, rest: dict[str, bytes]) -> SitesState:
        have = self._written.have
        digests = {path: digest_of_file(data) for path, data in rest.items()}
        held = [
            have.frames,
            *(f"{stem} {pages} {have.addresses[stem]}" for stem, pages in have.pages.items()),
            *(f"{path} {others.files[path].digest}" for path in sorted(others.files)),
            *(f"{path} {digests[path]}" for path in sorted(digests)),
        ]
        return SitesState(
            state=digest_of_file("\n".join(held).encode()),
            frames=have.frames,
            addressed=have.addressed,
            others=others,
            pictures=tuple(self._written.files),
            rest=digests,
        )

    def _keep(self, now: SitesState, framework: Framework | None) -> None:
        if framework is not None:
            self.stock.kept.write(self._framework, framework)
        have = self._written.have
        self._held.write({stem: (pages, have.addresses[stem]) for stem, pages in have.pages.items()}, now)
        self.stock.tidy()


def _folder(path: str) -> str:
    """The folder of a page's file; another file itself."""
    return path.removesuffix("/index.html")
