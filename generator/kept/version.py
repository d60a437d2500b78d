"""Which state of the program and of what it builds on results were made by.

Knows files and versions only.
"""

import sys
from functools import cache
from hashlib import sha256
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from generator.templates import templates_dir

_BUILT_ON = (
    "hearthbook",
    "jinja2",
    "markupsafe",
    "pydantic",
    "pygraphviz",
    "graphviz",
    "pyyaml",
    "mkdocs",
    "mkdocs-material",
    "pymdown-extensions",
    "markdown",
    "pillow",
    "rustpy-xlsxwriter",
)
"""Packages that put their mark on results."""


@cache
def program_version() -> str:
    """A digest of the program's own sources, of its templates, and of the versions of what it builds on.

    A change of any of them changes it, so that what was kept before is not used again.
    """
    digest = sha256(sys.version.encode())
    for name in _BUILT_ON:
        digest.update(f"\0{name} {_version(name)}".encode())
    for folder, patterns in ((Path(__file__).parents[1], ("*.py",)), (templates_dir(), ("*",))):
        for pattern in patterns:
            for file in sorted(folder.rglob(pattern)):
                if file.is_file() and "__pycache__" not in file.parts:
                    digest.update(f"\0{file.relative_to(folder).as_posix()}\0".encode())
                    digest.update(file.read_bytes())
    return digest.hexdigest()[:20]


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "none"
