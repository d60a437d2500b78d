"""Folders of a site kept out of the way while mkdocs empties it, so that unchanged pages need no second writing.

It must not know which folders hold whose pages: whoever writes takes back what is wanted.
"""

import shutil
from pathlib import Path

# Inside the site itself, so that it is on the same file system; mkdocs leaves hidden entries alone when it cleans.
_NAME = ".hearthbook-aside"


class Aside:
    """The folders of one site that wait while it is written anew in place."""

    def __init__(self, site: Path) -> None:
        self.site = site
        self._place = site / _NAME

    def take_all(self) -> None:
        """Set every visible folder of the site aside.

        What a build that was killed left aside is put back first, where the site lacks it.
        """
        self.give_back_all()
        if not self.site.is_dir():
            return
        self._place.mkdir()
        for folder in sorted(self.site.iterdir()):
            if folder.is_dir() and not folder.name.startswith("."):
                folder.rename(self._place / folder.name)

    def give_back(self, name: str) -> None:
        """Put one folder back, unless the site has it already or there was none."""
        waiting, wanted = self._place / name, self.site / name
        if waiting.is_dir() and not wanted.exists():
            waiting.rename(wanted)

    def give_back_all(self) -> None:
        """Put back all that the site lacks: after a failed build, or before the next."""
        if self._place.is_dir():
            for folder in sorted(self._place.iterdir()):
                self.give_back(folder.name)
            self.drop()

    def drop(self) -> None:
        """Forget what is still aside: nobody wants it any more."""
        shutil.rmtree(self._place, ignore_errors=True)
