"""Has a site that is served built once more, some time after the last change: what could wait is made then.

It must not know what that is, nor who builds.
"""

from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Timer

AFTER_S = 3.0
"""So long nobody has saved anything: time to look at a page, with all that it loads, before the site is busy again."""


class FollowUp:
    """Asks for a build by changing a file in a folder of its own, which whoever builds watches."""

    def __init__(self, *, after_s: float = AFTER_S) -> None:
        """Begin.

        Args:
            after_s: How long to wait, in seconds.
        """
        self._after_s = after_s
        self._place = TemporaryDirectory(prefix="hearthbook-")
        self._timer: Timer | None = None
        self._times = 0

    @property
    def folder(self) -> Path:
        """The folder to watch."""
        return Path(self._place.name)

    def ask(self, first: Callable[[], None]) -> None:
        """Ask for a build later.

        Args:
            first: Called just before it.
        """
        self.withdraw()
        self._timer = Timer(self._after_s, self._change, (first,))
        self._timer.daemon = True
        self._timer.start()

    def withdraw(self) -> None:
        """Ask no more for a build that has not begun."""
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None

    def end(self) -> None:
        """Ask for nothing any more."""
        self.withdraw()
        self._place.cleanup()

    def _change(self, first: Callable[[], None]) -> None:
        first()
        self._times += 1
        (self.folder / "again").write_text(f"{self._times}\n", encoding="utf-8")
