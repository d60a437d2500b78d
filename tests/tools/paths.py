"""Where the parts of the checkout are, and which of its files are ours."""

from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
GENERATOR = ROOT / "generator"
SITE_TEMPLATES = ROOT / "site_templates"
PROPERTIES = ROOT / "properties"
TESTS = ROOT / "tests"

_OURS = (GENERATOR, SITE_TEMPLATES, PROPERTIES, TESTS, ROOT / ".ci")
_NOT_OURS = {"__pycache__", ".hearthbook-cache", "node_modules"}


def python_modules(folder: Path) -> list[Path]:
    return sorted(p for p in folder.rglob("*.py") if not _NOT_OURS & set(p.parts))


def our_files() -> Iterator[Path]:
    """Yield every file that people of the project wrote, in the order of their paths.

    What Hearthbook makes (sites, caches, virtual environments) is left out, committed or not.
    """
    yield from sorted(p for p in ROOT.iterdir() if p.is_file() and p.name != ".git")
    for folder in _OURS:
        yield from sorted(p for p in folder.rglob("*") if p.is_file() and not _NOT_OURS & set(p.parts))


def our_texts() -> Iterator[tuple[Path, str]]:
    """Yield our files that are UTF-8 text, with their content; pictures and photos are passed over."""
    for path in our_files():
        try:
            yield path, path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue


def relative(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()
