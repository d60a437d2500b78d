"""The two lists that go with a site: the sitemap, and the words that its search finds.

It must not know what pages are about; it reads their titles and text only.
"""

import gzip
import json
import re
from collections.abc import Collection, Iterable, Mapping
from html import escape, unescape
from pathlib import Path
from typing import Any

from generator.site.page import SitePage
from generator.site.tree import Tree

SITEMAP = "sitemap.xml"
SEARCH = "search/search_index.json"

_UNSPOKEN = re.compile(r"<(svg|style|script|template)\b.*?</\1>", re.DOTALL)
_TAG = re.compile(r"<[^>]+>")
_SPACE = re.compile(r"\s+")


def sitemap(site_url: str, urls: Iterable[str]) -> bytes:
    """Return a sitemap, without dates so that the same pages give the same bytes.

    Args:
        site_url: Where the site will stand, ending in a slash.
        urls: Addresses below it.
    """
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">',
        *(
            f"  <url><loc>{escape(site_url + url.removeprefix('./'))}</loc></url>"
            for url in sorted(set(urls))
        ),
        "</urlset>\n",
    ]
    return "\n".join(lines).encode()


def write_sitemap(root: Path, site_url: str | None, urls: Iterable[str]) -> None:
    """Replace the builder's sitemap, which knows nothing of our pages; without a known address there is none."""
    if site_url is None:
        for name in (SITEMAP, f"{SITEMAP}.gz"):
            (root / name).unlink(missing_ok=True)
        return
    tree = Tree(root)
    for path, data in sitemap_files(site_url, urls).items():
        tree.put(path, data)


def sitemap_files(site_url: str, urls: Iterable[str]) -> dict[str, bytes]:
    """The sitemap and the same compressed, by their paths."""
    data = sitemap(site_url, urls)
    return {SITEMAP: data, f"{SITEMAP}.gz": gzip.compress(data, mtime=0)}


def search_entry(page: SitePage) -> dict[str, str]:
    """Return a page as the theme's search wants it: its words without drawings and markup."""
    text = _TAG.sub(" ", _UNSPOKEN.sub(" ", page.body))
    words = _SPACE.sub(" ", unescape(text)).strip()
    return {"location": page.url, "title": escape(page.title), "text": escape(words, quote=False)}


def read_search(root: Path, *, but: Collection[str]) -> dict[str, Any] | None:
    """The index that the search plugin has written, without the pages at some addresses; None where there is none."""
    file = root / SEARCH
    if not file.is_file():
        return None
    index: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    index["docs"] = [entry for entry in index["docs"] if entry["location"].partition("#")[0] not in but]
    return index


def search_index(index: Mapping[str, Any], entries: Iterable[Mapping[str, str]]) -> bytes:
    """An index with pages added, as it is written."""
    known = {entry["location"] for entry in index["docs"]}
    docs = [*index["docs"], *(entry for entry in entries if entry["location"] not in known)]
    return json.dumps({**index, "docs": docs}, separators=(",", ":")).encode()


def write_search(root: Path, index: Mapping[str, Any] | None, entries: Iterable[Mapping[str, str]]) -> None:
    """Write an index with pages added, in the place of the one there; without one there is nothing to do."""
    if index is not None:
        Tree(root).put(SEARCH, search_index(index, entries))
