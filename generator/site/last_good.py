"""While a site is served: the pages of a record that breaks stay as they were, with what is wrong now above them.

Knows pages as files only. What is kept here is forgotten with the process.
"""

import re
import zlib
from collections.abc import Iterable, Mapping
from pathlib import Path

from generator.pages.newer_notice import newer_notice
from generator.site.ledger import ABSENT, Entry
from generator.site.property_pages import RULES
from generator.site.tree import Tree
from generator.views.stock_row import still_shown

_MOST = 400
"""More properties than this at once are no slip of the pen: their pages show only what is wrong."""
_HEADER = re.compile(r'<header class="hb-property">.*?</header>', re.DOTALL)


class LastGood:
    """The last good pages of the records that are broken, and for a moment of those about to be made."""

    def __init__(self) -> None:
        self._broken: dict[str, tuple[Entry, dict[str, bytes]]] = {}
        self._before: dict[str, tuple[Entry, dict[str, bytes]]] = {}

    def before(self, stems: Iterable[str], entries: Mapping[str, Entry], root: Path) -> None:
        """Look at the pages of properties before they are made anew.

        Args:
            stems: The properties.
            entries: As they were.
            root: The site.
        """
        self._before = {}
        wanted = [stem for stem in stems if (entry := entries.get(stem)) is not None and entry.solved]
        if len(wanted) > _MOST:
            return
        for stem in wanted:
            folder = root / "p" / stem
            pages = {
                file.relative_to(root).as_posix(): zlib.compress(file.read_bytes(), 1)
                for file in sorted(folder.rglob("*.html"))
            }
            if pages:
                self._before[stem] = entries[stem], pages

    def after(self, stem: str, entry: Entry, root: Path) -> Entry:
        """Put the good pages back where the record broke, with a notice above them.

        Returns:
            The entry of what is shown now.
        """
        if entry.solved:
            self._broken.pop(stem, None)
            return entry
        good = self._before.get(stem) or self._broken.get(stem)
        if good is None:
            return entry
        self._broken[stem] = good
        was, pages = good
        tree = Tree(root)
        for path, packed in pages.items():
            html = zlib.decompress(packed).decode()
            notice = newer_notice(entry.row.findings, rules=RULES, root="../" * path.count("/"))
            tree.put(path, _HEADER.sub(lambda found, new=notice: found[0] + new, html, count=1).encode())  # type: ignore[misc]
        # Of use to this session alone: whoever goes by the ledger next makes this record anew.
        return entry._replace(gate=ABSENT, source="", rowed=f"{was.rowed}, {entry.rowed}", row=still_shown(was.row, entry.row))
