"""The engineers' site built whole: beside the old one, and in its place only when finished.

It must not know which program writes the pages; that is handed in.
"""

from collections.abc import Callable
from pathlib import Path

from generator.site.stage import ENGINEERS, Stage, Written
from generator.site.swap import replaced


def build_engineers_site(out: Path, *, write: Callable[[Path, Path | None], Stage]) -> Written:
    """Build the site and put it in the place of the old one.

    However the build ends, killed included, `out` holds the old site or the new one, whole; or, if it was killed
    between two renames, the old one waits beside it and `generator.site.swap.recover` puts it back.

    Args:
        out: The site's folder: absent, empty, or an engineers' site that we made.
        write: Writes a whole site into an empty folder, given that folder and the old site if there is one;
            `generator.plugin.write_site` with its other arguments filled in.

    Returns:
        What was done.

    Raises:
        HearthbookError: the site cannot be built or not be put in its place; the old one stays.
    """
    with replaced(out, audience=ENGINEERS) as new:
        return write(new, out if out.is_dir() else None).written
