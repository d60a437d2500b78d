"""What a site is made of: finished pages and files, each with its address. The contract between content and sites.

It must not know what is on a page, nor which program writes the frame around it.
"""

from collections.abc import Callable, Container, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Generic, Protocol, TypeVar
from urllib.parse import unquote

from generator.pages.links import Links
from generator.site.errors import BadPage

HOME = "./"
"""The address of the first page of a site."""

Made = TypeVar("Made")


@dataclass(frozen=True, slots=True, kw_only=True)
class SitePage:
    """One page, finished but for the frame that all pages of a site share.

    Attributes:
        url: Address below the site's root, always ending in a slash: ``p/HB-0001/wiring/``, ``./`` for the home page.
            Where a hand-written page with ``generated: true`` in its head has the same address, this fills it.
        title: Plain text, for the window's title and for search. The heading itself is in the body.
        kind: What sort of page, a slug such as ``property-wiring``. The frame is made once per kind and depth.
        body: Finished HTML, trusted as it is, with exactly one ``<h1>``.
        description: One plain sentence; empty means the title serves.
        head: Finished HTML for the page's head, such as a ``<style>`` with the colours of its states; usually empty.
        search: Whether the words of the page can be found by the search of the hand-written pages.
        printed_foot: Plain text at the foot of every printed sheet: reference, revision, last visit. Empty for none.
        links: Those of its body, where they are known from many pages alike; None to have them looked for.
    """

    url: str
    title: str
    kind: str
    body: str
    description: str
    head: str = ""
    search: bool = False
    printed_foot: str = ""
    links: Links | None = None

    def __post_init__(self) -> None:
        if self.url != HOME:
            if not self.url.endswith("/"):
                raise BadPage(self.url, "its address does not end in a slash")
            _check_path(self.url, self.url.rstrip("/"))
        if self.body.count("<h1") != 1:
            raise BadPage(self.url, f"its body has {self.body.count('<h1')} first-level headings, not one")

    @property
    def depth(self) -> int:
        """How many folders deep the page is: 0 for the home page, 2 for ``p/HB-0001/``."""
        return 0 if self.url == HOME else self.url.count("/")

    @property
    def path(self) -> str:
        """Its file below the site's root."""
        return page_path(self.url)


def page_path(url: str) -> str:
    """The file of a page below the site's root, from its address."""
    return "index.html" if url == HOME else f"{unquote(url)}index.html"


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteAsset:
    """One file that pages refer to: an index for the finder, a drawing, a photo.

    Attributes:
        path: Where it goes below the site's root, with forward slashes.
        data: The file's bytes.
    """

    path: str
    data: bytes

    def __post_init__(self) -> None:
        _check_path(self.path, self.path)


@dataclass(frozen=True, slots=True, kw_only=True)
class Later(Generic[Made]):
    """A page or a file that is made only where it is not there already.

    Attributes:
        path: Its file below the site's root.
        made_from: A digest of everything that it is made from besides the program: the same digest, the same bytes.
        make: Makes it.
    """

    path: str
    made_from: str
    make: Callable[[], Made]


def made(one: Made | Later[Made]) -> Made:
    """The page or file itself."""
    return one.make() if isinstance(one, Later) else one


class BulkWritten(Protocol):
    """What pages written in bulk came to.

    Attributes:
        urls: The address of every page.
        pages: How many pages there are.
        files: Every file besides them.
        paths: Every file, those of pages among them.
        kept: Whether pages that were there already were left alone; then those that are gone have been removed.
        changed: How many files were not already there with the same bytes.
        wanted: Where the pages link to, as (file, fragment), with the first page that does.
        broken: Links that are broken whatever the site has.
        warnings: What is to be told to whoever builds the site.
        faults: What is wrong in records that changed since the last time, one line each; of a first time nothing.
    """

    @property
    def urls(self) -> Iterable[str]: ...
    @property
    def pages(self) -> int: ...
    @property
    def files(self) -> Iterable[str]: ...
    @property
    def paths(self) -> Container[str]: ...
    @property
    def kept(self) -> bool: ...
    @property
    def changed(self) -> int: ...
    @property
    def wanted(self) -> Mapping[tuple[str, str], str]: ...
    @property
    def broken(self) -> tuple[str, ...]: ...
    @property
    def warnings(self) -> tuple[str, ...]: ...
    @property
    def faults(self) -> tuple[str, ...]: ...


class Bulk(Protocol):
    """Pages that are too many to be handed over one by one: they are written where they are made.

    Attributes:
        kinds: The kind and depth of every frame that they need.
        tops: Folders of the site that are theirs alone.
    """

    kinds: tuple[tuple[str, int], ...]
    tops: tuple[str, ...]

    def write(
        self, frames: dict[tuple[str, int], str], root: Path, *, older: Path | None, site_url: str | None
    ) -> BulkWritten:
        """Write all pages below a folder, leaving those that are there as they are to be.

        Args:
            frames: The text of every frame.
            root: The site's folder.
            older: A finished site whose unchanged files may be linked.
            site_url: Where the site will stand; None if that is not known.
        """


class Rest(Protocol):
    """What may wait when a site is served and somebody looks at one page: the others follow with a later build."""

    @property
    def left(self) -> bool:
        """Whether the last build left any pages or files as they were."""
        ...

    def due(self) -> None:
        """Have the next build leave nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteContent:
    """Everything that goes into a site besides its hand-written pages.

    Attributes:
        bulk: Pages that are written before all others, in bulk; None for none.
        pages: Gone through once, in order, so that a large stock need not be held in memory. Those that come later are made
            only where they changed.
        assets: Gone through once, after the pages.
        key: Gives a digest of everything that pages and assets are made from besides the program, once the bulk is written:
            the same digest, the same pages and files. None where that is not known.
        rest: What may wait, in a site that is served; None where nothing may.
        warnings: Sentences for whoever builds the site, besides those of the bulk; they fail a strict build. Faults in a record are findings
            and are shown on its pages, not here.
    """

    pages: Iterable[SitePage | Later[SitePage]]
    bulk: Bulk | None = None
    assets: Iterable[SiteAsset | Later[SiteAsset]] = ()
    key: Callable[[], str] | None = None
    rest: Rest | None = None
    warnings: tuple[str, ...] = field(default=())


def _check_path(url: str, path: str) -> None:
    """Refuse whatever could leave the site's folder, or be hidden in it."""
    for part in path.split("/"):
        plain = unquote(part)
        if not plain or plain.startswith(".") or "\\" in plain or "/" in plain or "\0" in plain:
            raise BadPage(url, "its address has an empty, hidden or unusable part")
