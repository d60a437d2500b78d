"""Every module says what it holds, none is too long to read, and each has a row in DEVELOPERS.md."""

from pathlib import Path

from tests.tools.module_table import BEGIN, DEVELOPERS, END, docstring_of, with_fresh_table
from tests.tools.paths import GENERATOR, ROOT, SITE_TEMPLATES, TESTS, python_modules, relative

LONGEST = 400
_READ_BY_PEOPLE = {".py", ".j2", ".css", ".js", ".html", ".md", ".yml"}


def _source_files() -> list[Path]:
    files = [p for p in SITE_TEMPLATES.rglob("*") if p.is_file() and p.suffix in _READ_BY_PEOPLE]
    return sorted([*python_modules(GENERATOR), *python_modules(TESTS), *files])


def test_no_file_is_too_long() -> None:
    lengths = {relative(file): len(file.read_text(encoding="utf-8").splitlines()) for file in _source_files()}
    too_long = {name: lines for name, lines in lengths.items() if lines > LONGEST}
    assert too_long == {}, f"none may pass {LONGEST} lines: split each by what it holds"


def _fault_of_docstring(module: Path) -> str | None:
    first, *rest = docstring_of(module).splitlines() or [""]
    if not first:
        return "has no docstring"
    if not first.endswith("."):
        return "first line is not one whole sentence, and it goes into DEVELOPERS.md"
    if rest and rest[0]:
        return "first sentence does not stand on a line of its own"
    if module.name == "__init__.py" and not any(rest):
        return "does not say, after the first sentence, what the package must not know"
    return None


def test_modules_say_what_they_hold() -> None:
    faults = {relative(module): _fault_of_docstring(module) for module in python_modules(GENERATOR)}
    assert {name: fault for name, fault in faults.items() if fault} == {}


def test_module_table_is_fresh() -> None:
    text = DEVELOPERS.read_text(encoding="utf-8")
    assert text.count(BEGIN) == text.count(END) == 1
    assert with_fresh_table(text) == text, "run `python -m tests.tools.module_table --write`"


def test_every_test_folder_is_a_package() -> None:
    """Without it two test files of one name in two folders cannot both be collected."""
    folders = {path.parent for path in TESTS.rglob("test_*.py")}
    assert [relative(f) for f in sorted(folders) if not (f / "__init__.py").exists()] == []


def test_unit_tests_mirror_the_package() -> None:
    folders = [p for p in sorted((TESTS / "unit").rglob("*")) if p.is_dir() and any(p.glob("test_*.py"))]
    astray = [relative(f) for f in folders if not (GENERATOR / f.relative_to(TESTS / "unit")).is_dir()]
    assert astray == [], "tests/unit has folders that the package has not"


def test_top_level_is_as_agreed() -> None:
    agreed = {"README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "mkdocs.yml", "pyproject.toml"}
    agreed |= {"generator", "properties", "tests", "site_templates"}
    made = {"site", "site-tenants", "build", "dist"}
    found = {p.name for p in ROOT.iterdir() if not p.name.startswith(".")}
    extra = {name for name in found - agreed - made if not name.endswith(".egg-info")}
    assert extra == set()
