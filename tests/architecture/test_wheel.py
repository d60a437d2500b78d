"""The wheel carries all that an installed Hearthbook needs to work on a folder of records alone."""

import os
import shutil
import subprocess
import sys
import tomllib
import zipfile
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.tools.paths import GENERATOR, ROOT, SITE_TEMPLATES, python_modules

pytestmark = pytest.mark.xdist_group("wheel")

_CACHES = shutil.ignore_patterns("__pycache__", "*.egg-info")


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """A wheel's content, and the copy of the sources that it was built from."""

    source: Path
    unpacked: Path


def _files(folder: Path) -> list[Path]:
    return [p for p in sorted(folder.rglob("*")) if p.is_file()]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The wheel, built from a copy: building leaves a folder beside the sources."""
    source = tmp_path_factory.mktemp("source")
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source)
    for folder in (GENERATOR, SITE_TEMPLATES):
        shutil.copytree(folder, source / folder.name, ignore=_CACHES)
    target = tmp_path_factory.mktemp("wheel")
    # Without isolation: the test extra brings the build's one requirement, and nothing is fetched.
    command = [
        sys.executable,
        "-m",
        "pip",
        "wheel",
        "--no-deps",
        "--no-build-isolation",
        "-q",
        "-w",
        str(target),
        ".",
    ]
    done = subprocess.run(command, cwd=source, capture_output=True, text=True, check=False, timeout=300)
    assert done.returncode == 0, done.stderr
    (wheel,) = target.glob("hearthbook-*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(target / "unpacked")
    return Built(source=source, unpacked=target / "unpacked")


def test_packages_are_all_listed() -> None:
    setuptools = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]
    folders = {module.parent for module in python_modules(GENERATOR)}
    names = {".".join(folder.relative_to(ROOT).parts) for folder in folders} | {"generator._site_templates"}
    assert sorted(setuptools["packages"]) == sorted(names), "[tool.setuptools] packages in pyproject.toml"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("folder", "travels_as"), [("generator", "generator"), ("site_templates", "generator/_site_templates")]
)
def test_wheel_carries_every_file(folder: str, travels_as: str, built: Built) -> None:
    source, unpacked = built.source / folder, built.unpacked / travels_as
    files = _files(source)
    assert files
    for file in files:
        copy = unpacked / file.relative_to(source)
        assert copy.is_file(), f"{file.relative_to(built.source)} is not in the wheel"
        assert copy.read_bytes() == file.read_bytes()


@pytest.mark.slow
def test_installed_package_finds_its_own_templates(built: Built, tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", "from generator.templates import templates_dir; print(templates_dir())"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(built.unpacked)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert Path(done.stdout.strip()) == (built.unpacked / "generator" / "_site_templates").resolve()


@pytest.mark.slow
def test_wheel_carries_nothing_else(built: Built) -> None:
    (information,) = built.unpacked.glob("hearthbook-*.dist-info")
    assert sorted(p.name for p in built.unpacked.iterdir()) == ["generator", information.name]


@pytest.mark.slow
def test_wheel_names_the_command_and_the_plugin(built: Built) -> None:
    (entries,) = built.unpacked.glob("hearthbook-*.dist-info/entry_points.txt")
    text = entries.read_text(encoding="utf-8")
    assert "hearthbook = generator.command.main:main" in text
    assert "hearthbook = generator.plugin:HearthbookPlugin" in text
