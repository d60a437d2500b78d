"""Which tests reach each statement of the rules and the solvers, and how long each test takes: found by running all once.

Each statement inside a function gets one before it that leaves a mark, which costs next to nothing beside a trace. Files
are never touched.
"""

import ast
import copy
import hashlib
import json
import os
import re
import sys
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from importlib.abc import Loader, MetaPathFinder
from importlib.machinery import ModuleSpec
from importlib.util import spec_from_loader
from pathlib import Path
from types import ModuleType

import pytest

from tests.tools.mutants import Mutant, statements
from tests.tools.paths import GENERATOR, ROOT, python_modules, relative

MEASURED = tuple(path for folder in ("rules", "states") for path in python_modules(GENERATOR / folder))
WHERE = (
    "tests/unit",
    "tests/rules",
    "tests/published",
    "tests/laws",
    "tests/second_method",
)
_TOO_SLOW = ("test_seeded_mistakes", "test_determinism", "test_mutations", "test_renaming", "unit/drawings")
"""They take minutes, or start a process of their own, which does not see the change; drawings know no rules."""
QUIET = (
    "-q",
    "--assert=plain",
    "--no-header",
    "-p",
    "no:cacheprovider",
    "-p",
    "no:xdist",
    "-p",
    "no:randomly",
)
_MARKS = "_reached_statements"


def test_files() -> list[str]:
    """The files of tests that are taken, from the folder of the checkout."""
    found = (relative(path) for folder in WHERE for path in sorted((ROOT / folder).rglob("test_*.py")))
    return [file for file in found if not any(name in file for name in _TOO_SLOW)]


@dataclass(slots=True)
class Reached:
    """The tests that reach each statement, by its module and line, and how many seconds each test takes."""

    by_line: dict[str, dict[int, set[str]]] = field(default_factory=dict)
    seconds: dict[str, float] = field(default_factory=dict)

    def tests_of(self, mutant: Mutant, seconds: float) -> list[str]:
        """The tests that reach a mutant's statement: those of its module's rules, and the quickest that fit in the time.

        First the unit tests of its folder.
        """
        lines = self.by_line.get(relative(mutant.module), {})
        names = lines.get(mutant.statement, set())
        if (
            not mutant.statement
        ):  # at the top of the module, or inside a class: whatever uses the constant or reaches it
            uses = _using(mutant)
            names = {test for file, line in uses for test in self.by_line.get(file, {}).get(line, ())}
            files = [relative(mutant.module)] if any(lines.values()) else _importing(mutant.module)
            names = names or {
                test for file in files for each in self.by_line.get(file, {}).values() for test in each
            }
        chosen = sorted(_of_rules(mutant.module, names))
        own = f"tests/unit/{mutant.module.parent.name}/"
        order = sorted(
            names - set(chosen), key=lambda name: (not name.startswith(own), self.seconds[name], name)
        )
        for name in order:
            if chosen and seconds < self.seconds[name]:
                break
            seconds -= self.seconds[name]
            chosen.append(name)
        return chosen

    def add(self, test: str, seconds: float, lines: Sequence[tuple[str, int]]) -> None:
        """Take in what one test reaches."""
        self.seconds[test] = seconds
        for file, line in lines:
            self.by_line.setdefault(file, {}).setdefault(line, set()).add(test)

    def forget(self, file: str) -> None:
        """Leave out all tests of one file."""
        gone = {test for test in self.seconds if test.split("::", 1)[0] == file}
        self.seconds = {test: each for test, each in self.seconds.items() if test not in gone}
        for lines in self.by_line.values():
            for tests in lines.values():
                tests.difference_update(gone)


def _using(mutant: Mutant) -> list[tuple[str, int]]:
    """The statements that use the constant of which a mutant changes the value; none where it is no constant's."""
    tree = ast.parse(mutant.module.read_text(encoding="utf-8"))
    constants = {
        target.id
        for each in tree.body
        if isinstance(each, ast.Assign) and each.lineno <= mutant.line <= (each.end_lineno or 0)
        for target in each.targets
        if isinstance(target, ast.Name)
    }
    return [
        (relative(path), block[index].lineno)
        for path in MEASURED
        if constants and any(name in path.read_text(encoding="utf-8") for name in constants)
        for block, index in statements(ast.parse(path.read_text(encoding="utf-8")))
        if any(isinstance(node, ast.Name) and node.id in constants for node in _own_nodes(block[index]))
    ]


def _own_nodes(statement: ast.AST) -> Iterator[ast.AST]:
    """Every node of a statement, those of statements in it left out."""
    for child in ast.iter_child_nodes(statement):
        if not isinstance(child, ast.stmt):
            yield child
            yield from _own_nodes(child)


def _importing(module: Path) -> list[str]:
    """The measured modules that import from one that holds nothing but constants."""
    wanted = f"from {relative(module).removesuffix('.py').replace('/', '.')} import "
    return [relative(path) for path in MEASURED if wanted in path.read_text(encoding="utf-8")]


def _of_rules(module: Path, names: set[str]) -> set[str]:
    """The tests of a module's own rules, told by the rule's name: they hold more than what merely passes through it."""
    rules = re.findall(r'^    name="([a-z0-9-]+)"', module.read_text(encoding="utf-8"), re.MULTILINE)
    own = tuple(f"{test}[{rule}]" for rule in rules for test in ("test_example", "test_wrong_example"))
    return {name for name in names if name.endswith(own)}


class InPlaceOf(MetaPathFinder, Loader):
    """Gives modules made from other trees in place of the written ones.

    Args:
        trees: for the path of each such module, what makes its tree.
        names: what these modules are given besides.
    """

    def __init__(self, trees: Mapping[Path, Callable[[], ast.Module]], names: dict[str, object]) -> None:
        self.trees = {relative(path).removesuffix(".py").replace("/", "."): path for path in trees}
        self.made = trees
        self.names = names

    def find_spec(self, name: str, path: object, target: ModuleType | None = None) -> ModuleSpec | None:
        """Those modules only."""
        del path, target
        if name not in self.trees:
            return None
        return spec_from_loader(name, self, origin=str(self.trees[name]))

    def exec_module(self, module: ModuleType) -> None:
        """Run the other text."""
        path = self.trees[module.__name__]
        module.__dict__.update(self.names)
        code = compile(self.made[path](), str(path), "exec")
        exec(code, module.__dict__)  # noqa: S102  # our own text, changed by ourselves


class _Watch:
    """Notes which marks each test leaves."""

    def __init__(self, marks: bytearray, places: Sequence[tuple[str, int]], reached: Reached) -> None:
        self.marks = marks
        self.places = places
        self.reached = reached
        self.failed: set[str] = set()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> object:
        """Watch one test."""
        self.marks[:] = bytes(len(self.marks))
        began = time.perf_counter()
        try:
            return (yield)
        finally:
            seconds = time.perf_counter() - began
            if item.nodeid not in self.failed:
                lines = [place for mark, place in zip(self.marks, self.places, strict=True) if mark]
                self.reached.add(item.nodeid, seconds, lines)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Leave out what fails without any change, which would notice every one, and what is skipped."""
        if report.failed or report.skipped:
            self.failed.add(report.nodeid)


def _marked(path: Path, number: Callable[[int], int]) -> ast.Module:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for block, index in reversed(list(statements(tree))):
        line = block[index].lineno
        mark = ast.parse(f"{_MARKS}[{number(line)}] = 1").body[0]
        for node in ast.walk(mark):
            ast.copy_location(node, block[index])
        block.insert(index, mark)
    return tree


def _watched(files: Sequence[str]) -> Reached:
    """Run the tests of some files. In this process, which must not have imported the package."""
    places: list[tuple[str, int]] = []

    def number(path: Path, line: int) -> int:
        places.append((relative(path), line))
        return len(places) - 1

    trees = {path: _marked(path, partial(number, path)) for path in MEASURED}
    marks = bytearray(len(places))
    written = {path: partial(copy.copy, tree) for path, tree in trees.items()}
    sys.meta_path.insert(0, InPlaceOf(written, {_MARKS: marks}))
    reached = Reached()
    pytest.main([*QUIET, *files], plugins=[_Watch(marks, places, reached)])
    return reached


def _in_a_process(files: Sequence[str]) -> Reached:
    """The same in a process of its own."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        try:
            text = _text(_watched(files))
            with os.fdopen(writing, "w", encoding="utf-8") as out:
                out.write(text)
        finally:
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading, encoding="utf-8") as source:
        text = source.read()
    os.waitpid(child, 0)
    if not text:
        raise SystemExit("the tests cannot be run")
    return _read(text)


def reached_by(kept: Path | None) -> Reached:
    """Which tests reach what. With a file that keeps it, only the tests of files are run that have changed since.

    All of them where a rule or solver has changed. A change to what tests share is not seen: take the file away then.
    """
    modules = _digest(MEASURED)
    files = {file: _digest([ROOT / file]) for file in test_files()}
    reached = Reached()
    before: dict[str, str] = {}
    if kept is not None and kept.exists():
        stored = json.loads(kept.read_text(encoding="utf-8"))
        if stored["modules"] == modules:
            reached, before = _read(stored["reached"]), stored["files"]
    for file in before:
        if files.get(file) != before[file]:
            reached.forget(file)
    new = [file for file, digest in files.items() if before.get(file) != digest]
    if new:
        found = _in_a_process(new)
        reached.seconds |= found.seconds
        for file, lines in found.by_line.items():
            for line, tests in lines.items():
                reached.by_line.setdefault(file, {}).setdefault(line, set()).update(tests)
    if kept is not None:
        text = json.dumps({"modules": modules, "files": files, "reached": _text(reached)})
        kept.write_text(text, encoding="utf-8")
    return reached


def _digest(files: Sequence[Path]) -> str:
    return hashlib.sha256(b"".join(file.read_bytes() for file in files)).hexdigest()


def _text(reached: Reached) -> str:
    """As text: the tests of each line as the bits of one number."""
    bits = {test: 1 << index for index, test in enumerate(reached.seconds)}
    lines = {
        file: {line: f"{sum(bits[test] for test in tests):x}" for line, tests in each.items()}
        for file, each in reached.by_line.items()
    }
    return json.dumps([reached.seconds, lines])


def _read(text: str) -> Reached:
    seconds, lines = json.loads(text)
    names = list(seconds)
    by_line = {
        file: {int(line): _named(names, int(number, 16)) for line, number in each.items()}
        for file, each in lines.items()
    }
    return Reached(by_line=by_line, seconds=seconds)


def _named(names: Sequence[str], number: int) -> set[str]:
    return {name for name, bit in zip(names, reversed(f"{number:0{len(names)}b}"), strict=True) if bit == "1"}
