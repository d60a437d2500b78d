"""The contracts between the layers hold, and would be seen to break."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.tools.paths import GENERATOR, ROOT

_LINT = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True))"


def _lint(folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", _LINT], cwd=folder, capture_output=True, text=True, check=False, timeout=300
    )


def test_contracts_hold() -> None:
    done = _lint(ROOT)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize(
    ("module", "import_line", "contract"),
    [
        ("rules", "import mkdocs", "Only the plugin imports mkdocs"),
        ("findings", "import generator.record", "Each layer imports only from those below it"),
        ("rules", "import generator.drawings", "Electrical meaning and drawing are separate trees"),
        ("states", "import generator.pages", "Each layer imports only from those below it"),
        ("stray", "", "Each layer imports only from those below it"),
    ],
)
def test_breach_is_seen(module: str, import_line: str, contract: str, tmp_path: Path) -> None:
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    shutil.copytree(GENERATOR, tmp_path / "generator", ignore=shutil.ignore_patterns("__pycache__"))
    package = tmp_path / "generator" / module
    package.mkdir(exist_ok=True)
    with (package / "__init__.py").open("a", encoding="utf-8") as file:
        file.write(f"\n{import_line}\n")
    done = _lint(tmp_path)
    assert done.returncode != 0
    assert contract in done.stdout or "generator.stray" in done.stdout, done.stdout
