"""The frame around a page, made once per kind and depth and then filled by plain substitution.

It must not know who made the frame: it is handed one rendered page whose changing parts are marks.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from html import escape
from typing import Final

from generator.pages.links import Links, links_of, places_in
from generator.site.errors import BadPage
from generator.site.page import SitePage

# Words no page can hold by chance. The body's mark sits in an <h1>, because the theme adds a heading of its own to a
# page without one.
TITLE: Final = "hb-mark-title-6d1f"
DESCRIPTION: Final = "hb-mark-description-6d1f"
HEAD: Final = "<!--hb-mark-head-6d1f-->"
BODY: Final = "<h1>hb-mark-body-6d1f</h1>"
FOLDER: Final = "hb-mark-folder-6d1f"
"""Each folder of the address under which the frame itself was rendered, for addresses that name the page in full."""

_MARK: Final = re.compile("|".join(map(re.escape, (TITLE, DESCRIPTION, HEAD, BODY))))


@dataclass(frozen=True, slots=True)
class Filled:
    """A whole page in its frame and its own part of that by itself, both in UTF-8, and the links of its own part."""

    html: bytes
    body: bytes
    links: Links


class Shell:
    """One frame: text around marks."""

    def __init__(self, rendered: str, kind: str, depth: int) -> None:
        """Take a frame apart.

        Args:
            rendered: A whole page as the theme makes it, with the marks of this module in place.
            kind: The kind of page it is for.
            depth: The depth of the pages it is for; its relative links are right at this depth only.
        """
        if rendered.count(BODY) != 1:
            raise BadPage(
                FOLDER, f"the frame for '{kind}' holds the body {rendered.count(BODY)} times, not once"
            )
        own_address = f"{FOLDER}/" * depth
        self.depth = depth
        self.text = rendered
        self._own_address = own_address.encode() if own_address and own_address in rendered else b""
        self._pieces = tuple(piece.encode() for piece in _MARK.split(rendered))
        self._marks = _MARK.findall(rendered)
        self.places = places_in(rendered.encode())
        """The places that every page in it has."""

    def fill(self, page: SitePage) -> Filled:
        """Put a page into the frame.

        Args:
            page: A page of this frame's kind and depth.
        """
        if page.depth != self.depth:
            raise BadPage(page.url, f"filled into a frame for depth {self.depth}")
        body = body_of(page).encode()
        values = {
            TITLE: escape(page.title).encode(),
            DESCRIPTION: escape(page.description or page.title).encode(),
            HEAD: head_of(page).encode(),
            BODY: body,
        }
        own, url = self._own_address, page.url.encode()
        pieces = [piece.replace(own, url) for piece in self._pieces] if own else self._pieces
        html = [pieces[0]]
        for mark, piece in zip(self._marks, pieces[1:], strict=True):
            html += (values[mark], piece)
        return Filled(html=b"".join(html), body=body, links=page.links or links_of(body))


def head_of(page: SitePage) -> str:
    """What a page adds to the head: its own part, and the line that browsers repeat on every printed sheet."""
    if not page.printed_foot:
        return page.head
    line = "".join(f"\\{ord(each):06x}" if each in '"\\<>&\n' else each for each in page.printed_foot)
    return f'{page.head}<style>@page{{@bottom-left{{content:"{line}"}}}}</style>'


def body_of(page: SitePage) -> str:
    """A page's body, followed by the line that is seen in print only."""
    if not page.printed_foot:
        return page.body
    return f'{page.body}\n<p class="hb-print-foot">{escape(page.printed_foot)}</p>'


class Shells:
    """The frames of one build, each made when the first page asks for it."""

    def __init__(self, render: Callable[[str, int], str]) -> None:
        """Keep the maker.

        Args:
            render: Makes a page with the marks in place, of a kind and at a depth.
        """
        self._render = render
        self._made: dict[tuple[str, int], Shell] = {}

    def for_page(self, page: SitePage) -> Shell:
        """The frame of a page."""
        return self.made(page.kind, page.depth)

    def made(self, kind: str, depth: int) -> Shell:
        """The frame of that kind and depth."""
        key = (kind, depth)
        shell = self._made.get(key)
        if shell is None:
            shell = Shell(self._render(*key), *key)
            self._made[key] = shell
        return shell

    def texts(self) -> dict[tuple[str, int], str]:
        """The text of every frame that was made so far."""
        return {key: shell.text for key, shell in self._made.items()}
