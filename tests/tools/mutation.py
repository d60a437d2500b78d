"""How many small changes to the rules and the solvers the tests notice.

`python -m tests.tools.mutation [--count 300] [--seed 6] [--only TEXT] [--seconds 60]` takes a random but repeatable sample of the
changes of `tests.tools.mutants`, and runs for each the tests that reach the changed function, quickest first, until one fails.
A change that no test notices in that time counts as not noticed, so that the score is rather too low. Files are never touched.
"""

import argparse
import ast
import importlib
import math
import os
import random
import re
import signal
import sys
import time
from collections import defaultdict
from collections.abc import Container, Sequence
from dataclasses import dataclass, field
from importlib.abc import Loader, MetaPathFinder
from importlib.machinery import ModuleSpec
from importlib.util import spec_from_loader
from pathlib import Path
from types import CodeType, FrameType, FunctionType, ModuleType
from typing import cast

import pytest

from tests.tools.mutants import Mutant, mutants_of
from tests.tools.paths import GENERATOR, ROOT, relative

FOLDERS = ("rules", "states")
_TEXT_ONLY = {"example_house.py", "example_three_port.py"}
TESTS = (
    "tests/unit/states",
    "tests/rules",
    "tests/published",
    "tests/laws",
    "tests/second_method",
)
_TOO_SLOW = ("test_seeded_mistakes", "test_determinism", "test_mutations", "test_renaming")
"""They take minutes, or start a process of their own, which does not see the change."""
_FIRST = 25
_TO_BEGIN = 30
"""Seconds that a process of its own may take until its first test runs, on a machine that has other work."""
_QUIET = (
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


@dataclass(slots=True)
class Reached:
    """Which functions each test reaches, and how long it takes: made by running all of them once."""

    by_function: dict[tuple[str, str], list[str]] = field(default_factory=lambda: defaultdict(list))
    seconds: dict[str, float] = field(default_factory=dict)
    _seen: set[CodeType] = field(default_factory=set)
    _failed: set[str] = field(default_factory=set)

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> object:
        """Watch one test."""
        self._seen = set()
        began = time.perf_counter()
        sys.settrace(self._called)
        try:
            return (yield)
        finally:
            sys.settrace(None)
            self.seconds[item.nodeid] = time.perf_counter() - began
            if item.nodeid in self._failed:
                del self.seconds[item.nodeid]
                self._seen = set()
            keys = {(code.co_filename, code.co_qualname.split(".<", 1)[0]) for code in self._seen}
            for file, name in keys:
                if file.startswith(str(GENERATOR)):
                    self.by_function[file, name].append(item.nodeid)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Leave out what fails without any change: it would notice every one."""
        if report.failed:
            self._failed.add(report.nodeid)

    def _called(self, frame: FrameType, event: str, argument: object) -> None:
        del event, argument
        self._seen.add(frame.f_code)

    def limit(self, names: Sequence[str]) -> float:
        """Seconds after which tests that are still running are taken for never ending."""
        return _TO_BEGIN + 5 * sum(self.seconds[name] for name in names)

    def _reaching(self, files: Container[str]) -> list[str]:
        """The tests that reach any function of some modules."""
        reached = (name for (where, _), each in self.by_function.items() if where in files for name in each)
        return list(dict.fromkeys(reached))

    def tests_of(self, mutant: Mutant, seconds: float) -> list[str]:
        """The tests that reach a mutant's function: those of its module's rules, then the quickest that fit in the time."""
        file, function = str(mutant.module), mutant.function
        names = self.by_function.get((file, function), [])
        if not names:  # at the top of the module, or inside a class: whatever reaches the module
            names = self._reaching({file}) or self._reaching(_importing(mutant.module))
        chosen = _of_rules(mutant.module, names)
        for name in sorted(set(names) - set(chosen), key=lambda name: (self.seconds[name], name)):
            if chosen and seconds < self.seconds[name]:
                break
            seconds -= self.seconds[name]
            chosen.append(name)
        return chosen


def _importing(module: Path) -> set[str]:
    """The modules that import from one that holds nothing but constants."""
    wanted = f"from {relative(module).removesuffix('.py').replace('/', '.')} import "
    return {str(path) for path in GENERATOR.rglob("*.py") if wanted in path.read_text(encoding="utf-8")}


def _of_rules(module: Path, names: Sequence[str]) -> list[str]:
    """The tests of a module's own rules, told by the rule's name: they hold more than what merely passes through it."""
    rules = re.findall(r'^    name="([a-z0-9-]+)"', module.read_text(encoding="utf-8"), re.MULTILINE)
    own = tuple(f"{test}[{rule}]" for rule in rules for test in ("test_example", "test_wrong_example"))
    return [name for name in names if name.endswith(own)]


class _Changed(MetaPathFinder, Loader):
    """Gives the changed module in place of the written one."""

    def __init__(self, mutant: Mutant) -> None:
        self.name = relative(mutant.module).removesuffix(".py").replace("/", ".")
        self.mutant = mutant

    def find_spec(self, name: str, path: object, target: ModuleType | None = None) -> ModuleSpec | None:
        """Its own module only."""
        del path, target
        return spec_from_loader(name, self, origin=str(self.mutant.module)) if name == self.name else None

    def exec_module(self, module: ModuleType) -> None:
        """Run the changed text."""
        code = compile(self.mutant.tree(), str(self.mutant.module), "exec")
        exec(code, module.__dict__)  # noqa: S102  # our own text, changed by ourselves


def _code_of(code: CodeType, function: str) -> CodeType | None:
    """The code of a function in that of its module, by its name with dots; None where there is none."""
    for each in code.co_consts:
        if isinstance(each, CodeType):
            if each.co_qualname == function:
                return each
            if function.startswith(f"{each.co_qualname}."):
                return _code_of(each, function)
    return None


def in_place(mutant: Mutant) -> CodeType | None:
    """The changed code of the one function that a mutant changes; None where it changes what a module does when imported."""
    text = mutant.module.read_text(encoding="utf-8")
    file = str(mutant.module)
    names = mutant.function.split(".")
    for length in range(1, len(names) + 1):
        outer = ".".join(names[:length])
        before = _code_of(compile(ast.parse(text), file, "exec"), outer)
        after = _code_of(compile(mutant.tree(), file, "exec"), outer)
        if before is not None and after is not None and before.co_flags & 2 and before != after:
            return after
    return None


def _put_in(code: CodeType, mutant: Mutant) -> None:
    """Give the function its changed code, wherever it has been imported to."""
    found: object = importlib.import_module(relative(mutant.module).removesuffix(".py").replace("/", "."))
    for name in code.co_qualname.split("."):
        found = vars(found)[name] if isinstance(found, type) else getattr(found, name)
    while not isinstance(found, FunctionType):
        inner = (
            getattr(found, "__func__", None)
            or getattr(found, "fget", None)
            or getattr(found, "__wrapped__", None)
        )
        if inner is None:
            raise TypeError(mutant.words)
        found = inner
    found.__code__ = code


def noticed(mutant: Mutant | None, code: CodeType | None, tests: Sequence[str], seconds: float) -> bool:
    """Whether a test fails with the change (None for none), or never ends. In a process of its own.

    With ``code`` the tests and the package are there already, and one function is changed; else they are imported changed.
    """
    child = os.fork()
    if child == 0:
        os._exit(_run_changed(mutant, code, tests))
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            ending = os.waitstatus_to_exitcode(status)
            if ending == pytest.ExitCode.NO_TESTS_COLLECTED:
                raise SystemExit("the tests of a change are not there any more")
            return ending != 0
        time.sleep(0.02)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return True


def _run_changed(mutant: Mutant | None, code: CodeType | None, tests: Sequence[str]) -> int:
    silence = os.open(os.devnull, os.O_WRONLY)
    os.dup2(silence, 1)
    os.dup2(silence, 2)
    if mutant is not None and code is None:
        sys.meta_path.insert(0, _Changed(mutant))
    elif mutant is not None and code is not None:
        _put_in(code, mutant)
    try:
        return int(pytest.main([*_QUIET, "-x", *tests]))
    except BaseException:  # noqa: BLE001  # a change that cannot even be imported is noticed
        return 1


def _kept(file: Path | None) -> Reached:
    if file is None or not file.exists():
        text = _watched()
        if file is not None:
            file.write_text(text, encoding="utf-8")
    else:
        text = file.read_text(encoding="utf-8")
    kept = cast("tuple[dict[tuple[str, str], list[str]], dict[str, float]]", ast.literal_eval(text))
    return Reached(by_function=defaultdict(list, kept[0]), seconds=kept[1])


def _watched() -> str:
    """Run the tests once in a process of its own, so that this one never imports the package."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        try:
            reached = Reached()
            left_out = [option for name in _TOO_SLOW for option in ("--ignore-glob", f"*{name}*")]
            pytest.main([*_QUIET, *left_out, *TESTS], plugins=[reached])
            with os.fdopen(writing, "w", encoding="utf-8") as out:
                out.write(repr((dict(reached.by_function), reached.seconds)))
        finally:
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading, encoding="utf-8") as source:
        text = source.read()
    os.waitpid(child, 0)
    if not text:
        raise SystemExit("the tests cannot be run")
    return text


def interval(noticed_: int, count: int) -> tuple[float, float]:
    """The 95 % interval of a share (Wilson, Journal of the American Statistical Association 22, 1927)."""
    z, share = 1.96, noticed_ / count
    middle = (share + z * z / (2 * count)) / (1 + z * z / count)
    half = z / (1 + z * z / count) * math.sqrt(share * (1 - share) / count + z * z / (4 * count * count))
    return middle - half, middle + half


def main() -> None:
    """Take the sample and print what was not noticed, then the score."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--seed", type=int, default=6)
    parser.add_argument("--only", default="")
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument(
        "--map", type=Path, help="a file that keeps which tests reach what, from one run to the next"
    )
    asked = parser.parse_args()
    os.chdir(ROOT)
    modules = [
        path
        for folder in FOLDERS
        for path in sorted((GENERATOR / folder).glob("*.py"))
        if path.name not in _TEXT_ONLY
    ]
    every = [mutant for path in modules if asked.only in relative(path) for mutant in mutants_of(path)]
    sample = random.Random(asked.seed).sample(every, min(asked.count, len(every)))  # noqa: S311  # repeatable
    for name in ("networkx", "numpy", "pydantic", "yaml", "jinja2", "click", "rich", "z3"):
        __import__(name)
    reached = _kept(asked.map)
    print(f"{len(every)} changes, {len(sample)} tried with {len(reached.seconds)} tests", flush=True)
    places = [(in_place(mutant), mutant) for mutant in sample]
    places.sort(
        key=lambda place: place[0] is not None
    )  # first those for which nothing may have been imported
    quickest = sorted(reached.seconds, key=lambda name: reached.seconds[name])[:50]
    caught = 0
    loaded = False
    for number, (code, mutant) in enumerate(places, start=1):
        if code is not None and not loaded:
            loaded = True
            for file in dict.fromkeys(name.split("::", 1)[0] for name in reached.seconds):
                importlib.import_module(file.removesuffix(".py").replace("/", "."))
        begins = number == 1 or (loaded and places[number - 2][0] is None)
        if begins and noticed(None, None, quickest, 5 * asked.seconds):
            raise SystemExit("tests fail without any change when they are run like this")
        tests = reached.tests_of(mutant, asked.seconds)
        # The quickest alone first: most changes are noticed by them, and fewer tests are sooner collected.
        parts = [part for part in (tests[:_FIRST], tests[_FIRST:]) if part]
        if any(noticed(mutant, code, part, reached.limit(part)) for part in parts):
            caught += 1
        else:
            print(f"not noticed by {len(tests)} tests: {mutant.words}", flush=True)
        if number % 10 == 0:
            print(f"{caught} of {number} noticed", flush=True)
    low, high = interval(caught, len(sample))
    print(
        f"{caught} of {len(sample)} noticed: {caught / len(sample):.1%} (95 % interval {low:.1%} to {high:.1%})"
    )


if __name__ == "__main__":
    main()
