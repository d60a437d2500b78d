"""One build of the engineers' site: our pages written between the steps of whatever writes the hand-written ones.

It must not know which program that is: it is handed frames, addresses and files.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

from generator.pages.links import links_of
from generator.site.aside import Aside
from generator.site.errors import BadPage, BrokenLinks
from generator.site.indexes import read_search, search_entry, write_search, write_sitemap
from generator.site.links import LinkCheck
from generator.site.page import Bulk, Later, Made, SiteContent, SitePage, made, page_path
from generator.site.shell import Filled, Shell, Shells
from generator.site.swap import write_mark
from generator.site.tree import Tree, digest_of_file

ENGINEERS = "engineers"


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What a build did.

    Attributes:
        pages: How many of our pages the site has, those inside hand-written frames included.
        assets: How many of our other files it has.
        changed: How many of both were not already there with the same bytes.
        removed: How many files of an earlier build went.
    """

    pages: int
    assets: int
    changed: int
    removed: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Framework:
    """Everything of a site that is not ours, as far as it is needed to put pages of ours into it again.

    Attributes:
        frames: The text of every frame that was used, by kind and depth.
        places: The text of every frame for a page at one address.
        hand_written: Address and file of every page that somebody else wrote.
        wanted: Where these link to, as (file, fragment), with the first page that does.
        taken: Every other file of the site that is not ours.
        search: What the search finds besides our pages, as it stands in its index.
    """

    frames: Mapping[tuple[str, int], str]
    places: Mapping[str, str]
    hand_written: tuple[tuple[str, str], ...]
    wanted: Mapping[tuple[str, str], str]
    taken: frozenset[str]
    search: Mapping[str, Any] | None


class Other(NamedTuple):
    """One page or file of ours that was not written in bulk.

    Attributes:
        digest: Of its bytes.
        made_from: A digest of all that it is made from; empty where that is not known.
        url: Its address, of a page.
        wanted: Where it links to, as (file, fragment).
        search: What the search finds of it; None for nothing.
    """

    digest: str
    made_from: str = ""
    url: str = ""
    wanted: tuple[tuple[str, str], ...] = ()
    search: Mapping[str, str] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Others:
    """The pages and files of ours that were not written in bulk, as far as they need not be made again.

    Attributes:
        key: Of the content that they are from; empty where it has none.
        files: Each by its path, in the order of the content.
    """

    key: str
    files: dict[str, Other]

    @property
    def urls(self) -> tuple[str, ...]:
        """The address of each page."""
        return tuple(each.url for each in self.files.values() if each.url)

    @property
    def wanted(self) -> dict[tuple[str, str], str]:
        """Where the pages link to, as (file, fragment), with the first page that does."""
        wanted: dict[tuple[str, str], str] = {}
        for path, each in self.files.items():
            for place in each.wanted:
                wanted.setdefault(place, path)
        return wanted

    @property
    def search(self) -> tuple[Mapping[str, str], ...]:
        """What the search finds of them."""
        return tuple(each.search for each in self.files.values() if each.search is not None)


def other_page(page: SitePage, filled: Filled, links: LinkCheck, made_from: str) -> Other:
    """What is to be known of a page that was put into its frame.

    Args:
        page: The page.
        filled: The page in its frame.
        links: Those of this page alone.
        made_from: A digest of all that it is made from; empty where that is not known.
    """
    return Other(
        digest=digest_of_file(filled.html),
        made_from=made_from,
        url=page.url,
        wanted=links.wanted(),
        search=search_entry(page) if page.search else None,
    )


def known_by(one: Made | Later[Made]) -> str:
    """A digest of all that a page or file is made from; empty where that is not known."""
    return one.made_from if isinstance(one, Later) else ""


class Stage:
    """Writes our pages into a site and judges the whole when it is finished."""

    def __init__(
        self,
        root: Path,
        *,
        older: Path | None = None,
        aside: Aside | None = None,
        site_url: str | None = None,
        sitemap: bool = True,
    ) -> None:
        """Begin.

        Args:
            root: The site's folder.
            older: A finished site elsewhere, to link unchanged files from.
            aside: The folders of an earlier site in the same place, to be taken back as they are needed.
            site_url: Where the site will stand, ending in a slash; None if that is not known.
            sitemap: Whether it has a list of all addresses, where these are known.
        """
        self._tree = Tree(root, older=older)
        self._aside = aside
        self._links = LinkCheck(site_url)
        self._own_urls: list[str] = []
        self._site_url = site_url
        self._sitemap = sitemap
        self._tops: set[str] = set()
        self._shells_seen: set[int] = set()
        self._urls: list[str] = []
        self._assets = 0
        self._changed = 0
        self._removed = 0
        self._kept: set[str] = set()
        self._places: dict[str, str] = {}
        self._placed_by: dict[str, str] = {}
        self._shells: Shells | None = None
        self._taken: frozenset[str] = frozenset()
        self._others: dict[str, Other] = {}
        self.written: Written
        """What was done, once it is finished."""
        self.framework: Framework
        """What is not ours, once it is finished."""
        self.warnings: tuple[str, ...] = ()
        """What is to be told of pages written in bulk."""
        self.faults: tuple[str, ...] = ()
        """What is wrong in records that changed since the last time."""

    def write(
        self, content: SiteContent, *, shells: Shells, taken: Collection[str], places: Collection[str]
    ) -> dict[str, SitePage]:
        """Write all pages and files.

        Args:
            content: What to write.
            shells: The frames.
            taken: Files, below the root, that somebody else will write.
            places: Addresses of hand-written pages that want one of ours for their content.

        Returns:
            The pages for those places, by address; the caller puts them in.

        Raises:
            BadPage: two pages or files want one place, or a place stays empty.
            CannotWriteFile: the machine refuses.
        """
        filled: dict[str, SitePage] = {}
        self._shells, self._taken = shells, frozenset(taken)
        if content.bulk is not None:
            self._write_bulk(content.bulk, shells)
        for one in content.pages:
            page = made(one)
            self._own_urls.append(page.url)
            if page.url in places:
                if page.url in filled:
                    raise BadPage(page.url, "two pages or files want this place")
                filled[page.url] = page
                self._placed_by[page.url] = known_by(one)
            else:
                self._claim(page.path, taken)
                self._write_page(page, shells, known_by(one))
        for url in places:
            if url not in filled:
                raise BadPage(url, "is to be filled by a generated page, and there is none for it")
        for file in content.assets:
            asset = made(file)
            self._claim(asset.path, taken)
            self._assets += 1
            self._tree.put(asset.path, asset.data)
            self._others[asset.path] = Other(digest_of_file(asset.data), known_by(file))
        if self._aside is not None:
            self._removed = sum(self._tree.prune(top) for top in sorted(self._tops - self._kept))
            self._aside.drop()
        return filled

    def fill(self, page: SitePage, frame: str) -> str:
        """Put a page into the frame that somebody made for its place.

        Args:
            page: One of those that `write` returned.
            frame: The frame, with marks.
        """
        self._places[page.url] = frame
        shell = Shell(frame, page.kind, page.depth)
        filled = shell.fill(page)
        self._note(page, shell, filled, self._placed_by[page.url])
        return filled.html.decode()

    def finish(self, *, hand_written: Iterable[tuple[str, str]]) -> Written:
        """Check the links of the finished site, complete its lists, and mark it as ours.

        Args:
            hand_written: Address and file of each page that somebody else wrote.

        Raises:
            BrokenLinks: a page points at something that is not there.
        """
        root = self._tree.root
        others = list(hand_written)
        elsewhere = LinkCheck(self._site_url)
        for url, path in others:
            links = self._links if url in self._places else elsewhere
            links.gather(path, links_of((root / path).read_bytes()))
        ours = self.others("")
        for wanted in (elsewhere.wanted_by(), ours.wanted):
            for place, page in wanted.items():
                self._links.add(page, (place,))
        self._links.add("", (), elsewhere.broken_at_once())
        self._urls += ours.urls
        broken = self._links.broken(root, self._tree.written)
        if broken:
            raise BrokenLinks(broken)
        listed = self._site_url if self._sitemap else None
        write_sitemap(root, listed, [*self._urls, *(url for url, _ in others)])
        search = read_search(root, but=self._places.keys())
        write_search(root, search, ours.search)
        write_mark(root, audience=ENGINEERS)
        self.framework = Framework(
            frames=self._shells.texts() if self._shells is not None else {},
            places=self._places,
            hand_written=tuple(each for each in others if each[0] not in self._places),
            wanted=elsewhere.wanted_by(),
            taken=self._taken,
            search=search,
        )
        self.written = Written(
            pages=len(self._urls),
            assets=self._assets,
            changed=self._tree.changed + self._changed,
            removed=self._removed,
        )
        return self.written

    def others(self, key: str) -> Others:
        """What was not written in bulk, once all is finished.

        Args:
            key: Of the content.
        """
        # Pages that others put into their places come last, and are to stand where the content has them.
        order = {page_path(url): place for place, url in enumerate(self._own_urls)}
        files = sorted(self._others.items(), key=lambda each: order.get(each[0], len(order)))
        return Others(key=key, files=dict(files))

    def _write_bulk(self, bulk: Bulk, shells: Shells) -> None:
        for top in bulk.tops:
            self._take_back(top)
        frames = {key: shells.made(*key).text for key in bulk.kinds}
        done = bulk.write(frames, self._tree.root, older=self._tree.older, site_url=self._site_url)
        self._urls += done.urls
        files = list(done.files)
        self._assets += len(files)
        self._tree.written.update(page_path(url) for url in self._urls)
        self._tree.written.update(files)
        self._changed += done.changed
        self._kept = set(bulk.tops[:1]) if done.kept else set()
        for place, page in done.wanted.items():
            self._links.add(page, (place,))
        self._links.add("", (), done.broken)
        self.warnings, self.faults = done.warnings, done.faults

    def _claim(self, path: str, taken: Collection[str]) -> None:
        if path in taken:
            raise BadPage(path, "a hand-written page or a file of the theme has this place")
        top, slash, _ = path.partition("/")
        if slash:
            self._take_back(top)

    def _take_back(self, top: str) -> None:
        if top not in self._tops:
            self._tops.add(top)
            if self._aside is not None:
                self._aside.give_back(top)

    def _write_page(self, page: SitePage, shells: Shells, made_from: str) -> None:
        shell = shells.for_page(page)
        filled = shell.fill(page)
        if id(shell) not in self._shells_seen:
            self._shells_seen.add(id(shell))
            self._links.gather(page.path, links_of(filled.html))
        self._tree.put(page.path, filled.html)
        self._note(page, shell, filled, made_from)

    def _note(self, page: SitePage, shell: Shell, filled: Filled, made_from: str) -> None:
        links = LinkCheck(self._site_url)
        links.gather(page.path, filled.links, shell.places)
        self._links.add("", (), links.broken_at_once())
        self._others[page.path] = other_page(page, filled, links, made_from)
