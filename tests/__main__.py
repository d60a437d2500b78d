"""Run everything that must hold: `python -m tests`. Arguments after it go to pytest.

The order is from quick to slow, and a failure stops nothing: all that is wrong is shown in one run.
The contracts between the layers (import-linter) are tests among the others, in `tests/architecture`.
"""

import os
import subprocess
import sys

from tests.tools.machine import get_missing_tools
from tests.tools.paths import ROOT

_CHECKS = (
    ("ruff check", ("ruff", "check", "--quiet")),
    ("ruff format", ("ruff", "format", "--check", "--quiet")),
    ("mypy", ("mypy", "--no-error-summary")),
)
_PYTEST = ("pytest", "-n", "2", "--dist", "loadgroup")


def _run(command: tuple[str, ...]) -> int:
    # `python -m`, so that it is this environment's tool that runs, whatever PATH says.
    return subprocess.run([sys.executable, "-m", *command], cwd=ROOT, check=False).returncode


def main() -> int:
    get_missing_tools(os.environ)
    failed = []
    for name, command in _CHECKS:
        print(f"{name} ...", flush=True)
        if _run(command):
            failed.append(name)
            print(f"{name} FAILED", flush=True)
    exit_code = _run((*_PYTEST, *sys.argv[1:]))
    if failed:
        print(f"FAILED besides pytest: {', '.join(failed)} (see the top)", flush=True)
    return exit_code or int(bool(failed))


if __name__ == "__main__":
    sys.exit(main())
