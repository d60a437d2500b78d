"""Prints a finished page into a PDF with the browser of this machine.

It must not know what is on the page.
"""

import os
import shutil
import signal
import subprocess
import tempfile
from contextlib import suppress
from pathlib import Path

from generator.findings.errors import HearthbookError

BROWSERS = ("chromium", "chromium-browser")
"""Names under which the browser is looked for."""

LIMIT_S = 120
"""How long printing may take; a large house takes a few seconds."""


class NoBrowser(HearthbookError):
    """There is no browser that could print."""

    def __init__(self, names: tuple[str, ...]) -> None:
        super().__init__(names)
        self.names = names

    @property
    def message(self) -> str:
        return (
            f"no browser to make a PDF with: {' and '.join(self.names)} not found; install Chromium (Debian: apt-get "
            "install chromium), name one with --browser, or print the HTML file from any browser"
        )


class CannotPrint(HearthbookError):
    """The browser did not make the PDF."""

    def __init__(self, browser: str, reason: str) -> None:
        super().__init__(browser, reason)
        self.browser = browser
        self.reason = reason

    @property
    def message(self) -> str:
        return f"{self.browser} made no PDF: {self.reason}"


def find_browser(given: str | None) -> str:
    """The browser's program.

    Args:
        given: Its name or path; None to look for one.

    Raises:
        NoBrowser: it is not here.
    """
    names = (given,) if given else BROWSERS
    for name in names:
        found = shutil.which(name)
        if found:
            return found
    raise NoBrowser(names)


def print_to_pdf(page: Path, pdf: Path, *, browser: str, limit_s: float = LIMIT_S) -> None:
    """Print a page that needs nothing else.

    Args:
        page: An HTML file.
        pdf: Where the PDF goes; an older one stays until the new one is whole.
        browser: The program, as `find_browser` has it.
        limit_s: After so many seconds it is stopped.

    Raises:
        CannotPrint: it failed, or took too long.
        OSError: the machine refuses.
    """
    with tempfile.TemporaryDirectory(prefix="hearthbook-", ignore_cleanup_errors=True) as scratch:
        made = Path(scratch) / "page.pdf"
        command = [
            browser,
            "--headless",
            "--disable-gpu",
            "--disable-dev-shm-usage",
            "--disable-background-networking",
            "--no-first-run",
            "--no-pdf-header-footer",
            # A profile of its own: the reader's is left alone, and an open browser is not asked to do it.
            f"--user-data-dir={Path(scratch) / 'profile'}",
            # Nothing is fetched, from wherever.
            "--host-resolver-rules=MAP * ~NOTFOUND",
            f"--print-to-pdf={made}",
            page.absolute().as_uri(),
        ]
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            # The browser's own sandbox refuses to run as root. The page is ours and loads nothing.
            command.insert(1, "--no-sandbox")
        said = Path(scratch) / "said"
        code = _run(command, said, limit_s)
        if code is None:
            raise CannotPrint(browser, f"it was not done after {limit_s:g} s")
        if not made.is_file() or not made.read_bytes().startswith(b"%PDF-"):
            lines = said.read_text(encoding="utf-8", errors="replace").split("\n")
            last = next((line for line in reversed(lines) if line.strip()), f"it ended with {code}")
            raise CannotPrint(browser, last)
        pdf.parent.mkdir(parents=True, exist_ok=True)
        beside = pdf.with_name(f".{pdf.name}.new")
        shutil.copyfile(made, beside)
        beside.replace(pdf)


def _run(command: list[str], said: Path, limit_s: float) -> int | None:
    """Run the browser and all that it starts; its exit code, None where it had to be stopped.

    Args:
        command: The program and its arguments.
        said: Where its complaints go; not a pipe, which a helper of the browser could hold open.
        limit_s: When it is stopped.
    """
    with said.open("wb") as complaints:
        running = subprocess.Popen(  # noqa: S603  # a browser of this machine, and paths of ours
            command, stdout=subprocess.DEVNULL, stderr=complaints, start_new_session=True
        )
        try:
            return running.wait(limit_s)
        except BaseException as error:
            # Its helpers are in its group, and go with it; also where somebody presses Ctrl-C.
            with suppress(OSError):
                os.killpg(running.pid, signal.SIGKILL)
            running.wait()
            if isinstance(error, subprocess.TimeoutExpired):
                return None
            raise
