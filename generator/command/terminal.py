"""What may be sent to a terminal: text made harmless, colour where it is wanted, and width.

It must not know what the text says.
"""

import os
import re
import shutil
import sys
from typing import TextIO

from rich.cells import cell_len

from generator.record.source_text import HIDDEN

_BLANKS = re.compile(r"[\t\n\r]+")
NARROWEST = 60


def harmless(text: str) -> str:
    """One line without characters that cannot be seen or that would move the cursor or change colours.

    Each of them becomes U+FFFD, so that columns stay the same; tabs and line ends become a blank.
    """
    return HIDDEN.sub("\N{REPLACEMENT CHARACTER}", _BLANKS.sub(" ", text))


def colour_wanted(stream: TextIO) -> bool:
    """Whether to colour what goes to the stream: only on a terminal that can, and not against the user's word.

    `NO_COLOR` in the environment, not empty, turns colour off (an informal standard of command line programs).
    """
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return False
    return is_terminal(stream)


def is_terminal(stream: TextIO) -> bool:
    """Whether somebody is looking at the stream."""
    try:
        return stream.isatty()
    except ValueError:  # closed
        return False


def width_of(stream: TextIO) -> int:
    """How many columns a line may take: those of the terminal, 120 elsewhere."""
    if not is_terminal(stream):
        return 120
    return max(NARROWEST, shutil.get_terminal_size((120, 24)).columns)


def padded(text: str, columns: int) -> str:
    """The text with blanks after it up to a number of columns; wide characters count for two."""
    return text + " " * (columns - cell_len(text))


def never_fail_to_print() -> None:
    """Let characters that the terminal's encoding lacks come out as escapes, instead of ending the program."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")
