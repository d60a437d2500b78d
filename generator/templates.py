"""Where the page templates, theme overrides and hand-written pages are on this machine.

It knows paths only: neither what the templates say nor who fills them.
"""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def templates_dir() -> Path:
    """Return the folder `site_templates`, in a checkout as in an installed wheel.

    A wheel carries the folder inside the package; a checkout has it beside the package.

    Raises:
        FileNotFoundError: neither place has it, so the installation is broken.
    """
    for folder in (_PACKAGE / "_site_templates", _PACKAGE.parent / "site_templates"):
        if folder.is_dir():
            return folder
    message = f"no site_templates folder in or beside {_PACKAGE}: the installation is incomplete"
    raise FileNotFoundError(message)
