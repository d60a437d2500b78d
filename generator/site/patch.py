"""The engineers' site brought up to date without the program that writes its hand-written pages: these are there already.

It must not know what is on a page.
"""

from collections.abc import Container
from dataclasses import dataclass
from pathlib import Path

from generator.site.errors import BadPage, BrokenLinks
from generator.site.indexes import SEARCH, search_index, sitemap_files
from generator.site.links import LinkCheck
from generator.site.page import Later, Made, SiteContent, SitePage, made
from generator.site.shell import Shell
from generator.site.stage import Framework, Other, Others, Written, known_by, other_page
from generator.site.swap import Patch
from generator.site.tree import Tree, digest_of_file


class NotPatchable(Exception):
    """The site has to be built whole: a page wants a frame that was not made so far."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PatchWritten:
    """What was done, and what the site has besides what was written in bulk."""

    written: Written
    others: Others


def patch_pages(
    content: SiteContent,
    framework: Framework,
    patch: Patch,
    *,
    site: Path,
    was: Others,
    site_url: str | None = None,
) -> PatchWritten:
    """Write what differs into a patch.

    Args:
        content: All content.
        framework: The frames, and what else the site has.
        patch: Where changed files go.
        site: The site as it is.
        was: What it has of ours, but for what was written in bulk.
        site_url: Where the site will stand; None if that is not known.

    Raises:
        NotPatchable: the site has to be built whole.
        BrokenLinks: a page points at something that is not there.
    """
    return _Patching(framework, patch, site, was, site_url).all(content)


class _Patching:
    def __init__(
        self,
        framework: Framework,
        patch: Patch,
        site: Path,
        was: Others,
        site_url: str | None,
    ) -> None:
        self.framework = framework
        self.patch = patch
        self.site = site
        self.was = was
        self.site_url = site_url
        self.now: dict[str, Other] = {}
        self.tree = Tree(patch.folder)
        self.links = LinkCheck(site_url)
        self.urls: list[str] = []
        self.shells: dict[tuple[str, int], Shell] = {}

    def all(self, content: SiteContent) -> PatchWritten:
        framework, pages, assets, changed = self.framework, 0, 0, 0
        bulk: Container[str] = ()
        if content.bulk is not None:
            if not framework.frames.keys() >= set(content.bulk.kinds):
                raise NotPatchable
            frames = {key: framework.frames[key] for key in content.bulk.kinds}
            done = content.bulk.write(frames, self.patch.folder, older=None, site_url=self.site_url)
            if self.site_url is not None:
                self.urls += done.urls
            pages, assets, changed = done.pages, sum(1 for _ in done.files), done.changed
            bulk = done.paths
            for place, by in done.wanted.items():
                self.links.add(by, (place,))
            self.links.add("", (), done.broken)
        others = self.others(content)
        self.urls += others.urls
        pages += len(others.urls)
        assets += len(others.files) - len(others.urls)
        for place, by in others.wanted.items():
            self.links.add(by, (place,))
        self.lists(others)
        for place, by in framework.wanted.items():
            self.links.add(by, (place,))
        hand = {path for _, path in framework.hand_written}
        present = _Present((others.files, bulk, framework.taken, hand))
        broken = self.links.broken(self.site, present, over=self.patch.folder)
        if broken:
            raise BrokenLinks(broken)
        self.patch.gone += [path for path in self.was.files if path not in others.files]
        return PatchWritten(
            written=Written(
                pages=pages,
                assets=assets,
                changed=self.tree.changed + changed,
                removed=len(self.patch.gone),
            ),
            others=others,
        )

    def others(self, content: SiteContent) -> Others:
        """What is not written in bulk: as it is, or made again where it is made from something else now."""
        key = content.key() if content.key is not None else ""
        if key and key == self.was.key:
            return self.was
        for one in content.pages:
            if not self.is_there(one):
                self.put_page(made(one), known_by(one))
        for file in content.assets:
            if not self.is_there(file):
                asset = made(file)
                self.put(asset.path, asset.data, Other(digest_of_file(asset.data), known_by(file)))
        return Others(key=key, files=self.now)

    def is_there(self, one: Made | Later[Made]) -> bool:
        """Whether a page or file need not be made; then it is noted."""
        if isinstance(one, Later):
            was = self.was.files.get(one.path)
            if was is not None and was.made_from == one.made_from:
                self.note(one.path, was)
                return True
        return False

    def put_page(self, page: SitePage, made_from: str) -> None:
        shell = self.shell(page)
        filled = shell.fill(page)
        links = LinkCheck(self.site_url)
        links.gather(page.path, filled.links, shell.places)
        self.links.add("", (), links.broken_at_once())
        self.put(page.path, filled.html, other_page(page, filled, links, made_from))

    def shell(self, page: SitePage) -> Shell:
        place = self.framework.places.get(page.url)
        if place is not None:
            return Shell(place, page.kind, page.depth)
        key = (page.kind, page.depth)
        shell = self.shells.get(key)
        if shell is None:
            text = self.framework.frames.get(key)
            if text is None:
                raise NotPatchable
            shell = self.shells[key] = Shell(text, *key)
        return shell

    def put(self, path: str, data: bytes, now: Other) -> None:
        self.note(path, now)
        was = self.was.files.get(path)
        if was is None or was.digest != now.digest:
            self.tree.put(path, data)

    def note(self, path: str, now: Other) -> None:
        if path in self.now:
            raise BadPage(path, "two pages or files want this place")
        self.now[path] = now

    def lists(self, others: Others) -> None:
        """The words that the search finds, and the sitemap; compared with what is there, since others wrote them first."""
        files = {}
        if self.framework.search is not None:
            files[SEARCH] = search_index(self.framework.search, others.search)
        if self.site_url is not None:
            hand = [url for url, _ in self.framework.hand_written]
            files |= sitemap_files(self.site_url, [*self.urls, *hand])
        for path, data in files.items():
            there = self.site / path
            if not there.is_file() or there.read_bytes() != data:
                self.tree.put(path, data)


@dataclass(frozen=True, slots=True)
class _Present:
    """Every file that the site is to have."""

    parts: tuple[Container[str], ...]

    def __contains__(self, path: object) -> bool:
        return any(path in part for part in self.parts)
