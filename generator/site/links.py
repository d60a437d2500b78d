"""The links of finished pages, held against what the site really has.

It must not know how pages were made.
"""

from collections.abc import Container, Iterable
from pathlib import Path
from posixpath import normpath
from urllib.parse import unquote, urlsplit

from generator.pages.links import Links, places_in

# Addresses that a page may hold although they lead out of the site: none of them loads anything.
_ELSEWHERE = ("mailto:", "tel:", "data:", "javascript:void(0)")
FIND = "find?"
"""How an address begins that gives the finder what to look for."""


class LinkCheck:
    """All links of one build: gathered page by page, judged at the end."""

    def __init__(self, site_url: str | None = None) -> None:
        """Begin.

        Args:
            site_url: Where the site will stand, ending in a slash; full addresses that begin with it stay in the site.
        """
        self._site_url = site_url
        self._wanted: dict[tuple[str, str], str] = {}
        self._broken: dict[str, None] = {}

    def gather(self, page_path: str, links: Links, around: Container[str] = ()) -> None:
        """Note the links of one page; those that stay on the page are judged at once.

        Args:
            page_path: The page's file below the root: ``p/HB-0001/index.html``.
            links: Of the page, or only of its body.
            around: The places on the page outside of what `links` are of.
        """
        for link in links.wanted:
            if link.startswith("#"):
                if not (has_place(links.places, link[1:]) or has_place(around, link[1:])):
                    self._broken[f"{page_path}: no place '{link}' on this page"] = None
            elif not link.startswith(_ELSEWHERE):
                self._note(page_path, link)

    def _note(self, page_path: str, link: str) -> None:
        page, address = page_path, urlsplit(link)
        if self._site_url and link.startswith(self._site_url):
            page, address = "index.html", urlsplit(f"./{link.removeprefix(self._site_url)}")
        target = _file_of(page, address.path)
        if address.scheme or address.netloc:
            self._broken[f"{page_path}: '{link}' leads to another host"] = None
        elif target is None:
            self._broken[f"{page_path}: '{link}' leads out of the site"] = None
        else:
            self._wanted.setdefault((target, address.fragment), page_path)

    def wanted(self) -> tuple[tuple[str, str], ...]:
        """The places on other pages that were linked to so far, as (file, fragment)."""
        return tuple(self._wanted)

    def wanted_by(self) -> dict[tuple[str, str], str]:
        """The same places, each with the first page that links there."""
        return dict(self._wanted)

    def broken_at_once(self) -> tuple[str, ...]:
        """The links gathered so far that are broken whatever the site has."""
        return tuple(self._broken)

    def add(self, page_path: str, wanted: Iterable[tuple[str, str]], broken: Iterable[str] = ()) -> None:
        """Take over what was gathered elsewhere, for a page or several of them."""
        for place in wanted:
            self._wanted.setdefault(place, page_path)
        self._broken.update(dict.fromkeys(broken))

    def broken(self, root: Path, written: Container[str], *, over: Path | None = None) -> tuple[str, ...]:
        """Judge all that was gathered.

        Args:
            root: The finished site.
            written: Files known to be there; the others are looked for.
            over: Files that are to come into the site in place of those there.

        Returns:
            One line for each broken link, with the first page that has it; sorted.
        """
        found = list(self._broken)
        places: dict[str, Container[str]] = {}
        for (target, fragment), page in self._wanted.items():
            if target not in written and not (root / target).is_file():
                found.append(f"{page}: '{target}' does not exist")
            elif fragment:
                if target not in places:
                    newer = over / target if over is not None else None
                    file = newer if newer is not None and newer.is_file() else root / target
                    places[target] = places_in(file.read_bytes())
                if not has_place(places[target], fragment):
                    found.append(f"{page}: '{target}' has no place '#{fragment}'")
        return tuple(sorted(found))


def has_place(places: Container[str], fragment: str) -> bool:
    """Whether a page with these places has the one that ``#fragment`` names, or a finder for ``#find?...``."""
    plain = unquote(fragment)
    if plain.startswith(FIND):
        return "hb-find" in places
    return not plain or plain in places


def _file_of(page_path: str, address: str) -> str | None:
    """Return the file that an address on a page means, or None if it lies outside the site."""
    plain = unquote(address)
    if plain.startswith("/"):
        return None
    folder = page_path.rpartition("/")[0]
    joined = normpath(f"{folder}/{plain}") if folder else normpath(plain)
    if joined.startswith("../") or joined == "..":
        return None
    is_folder = plain.endswith("/") or plain.rpartition("/")[2] in ("", ".", "..")
    if not is_folder:
        return joined
    return "index.html" if joined == "." else f"{joined}/index.html"
