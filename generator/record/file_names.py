"""How the path of a file is shown in messages.

Knows paths only, never what is in a file.
"""

from pathlib import Path


def shown_path(file: Path) -> str:
    """The file's path as messages show it: from the working folder where it lies below it."""
    try:
        return file.resolve().relative_to(Path.cwd()).as_posix()
    except ValueError:
        return file.as_posix()
