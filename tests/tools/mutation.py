"""How many small changes to the rules and the solvers the tests notice.

`python -m tests.tools.mutation [--count 300] [--seed 6] [--only TEXT] [--seconds 60]` takes a random but repeatable sample of the
changes of `tests.tools.mutants`, and runs for each the tests that reach the changed statement, quickest first, until one fails.
A change that no test notices in that time counts as not noticed, so that the score is rather too low. Files are never touched.
"""

import argparse
import ast
import gc
import importlib
import math
import os
import random
import resource
import signal
import sys
import time
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from types import CodeType, FunctionType

import pytest

from tests.tools.mutants import Mutant, mutants_of
from tests.tools.paths import ROOT, relative
from tests.tools.reached import MEASURED, QUIET, InPlaceOf, Reached, reached_by, test_files

_TEXT_ONLY = {"example_house.py", "example_three_port.py"}
_TO_BEGIN = 10
"""Seconds of computing that a process of its own may take until its first test runs."""
_WAITS = 10
"""How many times as long as it may compute it may take, on a machine that has other work or is stopped for a while."""


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


def fails(run: Callable[[], bool], seconds: float) -> bool:
    """Whether something fails, crashes or computes for longer than the seconds. In a process of its own."""
    child = os.fork()
    if child == 0:
        most = math.ceil(seconds)
        resource.setrlimit(resource.RLIMIT_CPU, (most, most))
        silence = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silence, 1)
        os.dup2(silence, 2)
        bad = True
        try:
            bad = run()
        finally:
            os._exit(bad)
    until = time.monotonic() + _WAITS * seconds
    while time.monotonic() < until:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            return status != 0
        time.sleep(0.005)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return True


def _fail_when_imported(mutant: Mutant | None, tests: Sequence[str]) -> bool:
    """Whether a test fails where the package is imported with a change (None for none)."""
    if mutant is not None:
        sys.meta_path.insert(0, InPlaceOf({mutant.module: mutant.tree}, {}))
    return pytest.main([*QUIET, "-x", *tests]) != pytest.ExitCode.OK


def _fail_when_changed(
    items: dict[str, pytest.Item], code: CodeType | None, mutant: Mutant | None, tests: Sequence[str]
) -> bool:
    """Whether a test fails, of those that are collected, with a function that has other code (None for as it is)."""
    if code is not None and mutant is not None:
        _put_in(code, mutant)
    chosen = [items[name] for name in tests]
    for item, following in zip(chosen, [*chosen[1:], None], strict=True):
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        if item.session.testsfailed:
            return True
    return False


class _Trial:
    """Tries changes one after another, and tells what was not noticed."""

    def __init__(self, reached: Reached, seconds: float) -> None:
        self.reached = reached
        self.seconds = seconds
        self.tried = 0
        self.caught = 0
        self.told = os.fdopen(os.dup(1), "w", buffering=1, encoding="utf-8")
        self.inside: list[tuple[CodeType, Mutant]] = []

    def imported(self, mutants: Sequence[Mutant]) -> None:
        """Try those that need the package imported anew. In a process that has not imported it."""
        if mutants:
            self._hold_against_nothing(partial(_fail_when_imported, None))
        for mutant in mutants:
            self._take(mutant, partial(_fail_when_imported, mutant))

    def put_in(self, changes: Sequence[tuple[CodeType, Mutant]]) -> None:
        """Try those that change one function: every test is collected once, and each change gets a copy of the process."""
        self.inside = list(changes)
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        if changes:
            pytest.main([*QUIET, *test_files()], plugins=[self])

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """In place of running every test."""
        items = {item.nodeid: item for item in session.items}
        if self.reached.seconds.keys() - items.keys():
            self._stop("the tests are no longer those of the map: take the map away")
        gc.collect()
        gc.freeze()
        self._hold_against_nothing(partial(_fail_when_changed, items, None, None))
        for code, mutant in self.inside:
            self._take(mutant, partial(_fail_when_changed, items, code, mutant))
        return True

    def _hold_against_nothing(self, fail: Callable[[Sequence[str]], bool]) -> None:
        quickest = sorted(self.reached.seconds, key=lambda name: self.reached.seconds[name])[:50]
        if fails(partial(fail, quickest), self._limit(quickest)):
            self._stop("tests fail without any change when they are run like this")

    def _stop(self, reason: str) -> None:
        self.told.write(f"{reason}\n")
        os._exit(1)

    def _limit(self, tests: Sequence[str]) -> float:
        """Seconds of computing after which tests that are still running are taken for never ending."""
        return _TO_BEGIN + 5 * sum(self.reached.seconds[name] for name in tests)

    def _take(self, mutant: Mutant, fail: Callable[[Sequence[str]], bool]) -> None:
        tests = self.reached.tests_of(mutant, self.seconds)
        self.tried += 1
        if tests and fails(partial(fail, tests), self._limit(tests)):
            self.caught += 1
        else:
            self.told.write(f"not noticed by {len(tests)} tests: {mutant.words}\n")
        if self.tried % 10 == 0:
            self.told.write(f"{self.caught} of {self.tried} noticed\n")


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
    modules = [path for path in MEASURED if path.name not in _TEXT_ONLY and asked.only in relative(path)]
    every = [mutant for path in modules for mutant in mutants_of(path)]
    sample = random.Random(asked.seed).sample(every, min(asked.count, len(every)))  # noqa: S311  # repeatable
    for name in ("networkx", "numpy", "pydantic", "yaml", "jinja2", "click", "rich", "z3"):
        __import__(name)
    reached = reached_by(asked.map)
    print(f"{len(every)} changes, {len(sample)} tried with {len(reached.seconds)} tests", flush=True)
    places = [(in_place(mutant), mutant) for mutant in sample]
    trial = _Trial(reached, asked.seconds)
    trial.imported([mutant for code, mutant in places if code is None])
    trial.put_in([(code, mutant) for code, mutant in places if code is not None])
    if trial.tried != len(sample):
        raise SystemExit("the tests cannot be collected")
    low, high = interval(trial.caught, trial.tried)
    score = f"{trial.caught} of {trial.tried} noticed: {trial.caught / trial.tried:.1%}"
    trial.told.write(f"{score} (95 % interval {low:.1%} to {high:.1%})\n")


if __name__ == "__main__":
    main()
