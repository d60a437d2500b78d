"""Timed runs of the program's own commands on a made-up stock, each in a process of its own.

It must not know what a stock is made of, nor how figures are told.
"""

import os
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from http.client import OK, HTTPConnection
from pathlib import Path
from tempfile import TemporaryFile
from time import perf_counter, sleep

from generator.findings.errors import HearthbookError
from generator.pipeline import examine

_PROGRAM = "from generator.command.main import main; main()"


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One timed run: by the clock, and at work on all cores together (0 where the system does not tell)."""

    command: str
    seconds: float
    busy: float = 0.0
    properties: int = 0


class RunFailed(HearthbookError):
    """A command that was to be timed failed."""

    def __init__(self, command: str, said: str) -> None:
        super().__init__(command, said)
        self.command = command
        self.said = said

    @property
    def message(self) -> str:
        return f"`{self.command}` failed, so nothing was measured: {self.said}"


def timed(
    arguments: list[str], words: str, *, may_end_with: tuple[int, ...] = (0,), cwd: Path | None = None
) -> Run:
    """Run a command and time it.

    Args:
        arguments: The command.
        words: How it is told.
        may_end_with: Exit codes that are no failure.
        cwd: Where it runs.

    Raises:
        RunFailed: it ended otherwise.
    """
    before, begun = _busy(), perf_counter()
    done = subprocess.run(  # noqa: S603  # our own commands, and mkdocs
        arguments,
        cwd=cwd,
        env=_environment(),
        capture_output=True,
        text=True,
        check=False,
    )
    seconds = perf_counter() - begun
    if done.returncode not in may_end_with:
        raise RunFailed(words, done.stderr.strip()[-300:] or f"it ended with {done.returncode}")
    return Run(command=words, seconds=seconds, busy=_busy() - before)


def run_check(folder: Path, jobs: int) -> Run:
    """Check a folder of records; findings are no failure."""
    arguments = ["check", "--format", "gnu", "--jobs", str(jobs), str(folder)]
    return timed(_ours(arguments), "hearthbook check", may_end_with=(0, 1))


def write_settings(place: Path) -> Path:
    """Write the settings by which everything that goes with a build lies in a place."""
    settings = place / "hearthbook.yml"
    settings.write_text(
        "outputs: {engineers: site, tenants: site-tenants, cache: cache}\ntenants: {secret: secret}\n",
        encoding="utf-8",
    )
    return settings


def run_build(folder: Path, settings: Path, jobs: int) -> Run:
    """Build both sites of a folder of records."""
    arguments = ["build", "--properties", str(folder), "--config", str(settings), "--jobs", str(jobs)]
    return timed(_ours(arguments), "hearthbook build")


@contextmanager
def served(folder: Path, settings: Path) -> Iterator[tuple[int, Run]]:
    """Show the engineers' site of a folder of records on this machine, while the block runs.

    Yields:
        The port, and how long it took until the site was there.

    Raises:
        RunFailed: it ended by itself.
    """
    port = _free_port()
    address = f"127.0.0.1:{port}"
    arguments = ["serve", "--properties", str(folder), "--config", str(settings), "--address", address]
    with TemporaryFile() as told:
        server = subprocess.Popen(  # noqa: S603  # our own command
            _ours(arguments), env=_environment(), stdout=told, stderr=told
        )
        try:
            begun = perf_counter()
            while not page_served(port, ""):
                if server.poll() is not None:
                    told.seek(0)
                    raise RunFailed("hearthbook serve", told.read().decode()[-300:])
                sleep(0.2)
            yield port, Run(command="hearthbook serve", seconds=perf_counter() - begun)
        finally:
            server.terminate()
            server.wait()


def page_served(port: int, path: str) -> str:
    """A page as it is served; empty where there is none yet."""
    connection = HTTPConnection("127.0.0.1", port, timeout=60)
    try:
        connection.request("GET", f"/{path}")
        answer = connection.getresponse()
        return answer.read().decode() if answer.status == OK else ""
    except OSError:
        return ""
    finally:
        connection.close()


def seconds_until(port: int, path: str, words: str, *, most_s: float = 600) -> float:
    """How long from now a served page takes to have some words on it.

    Raises:
        RunFailed: it never has.
    """
    begun = perf_counter()
    while words not in page_served(port, path):
        if perf_counter() - begun > most_s:
            raise RunFailed(
                "hearthbook serve", f"after {most_s:.0f} s the page is still without what was saved"
            )
        sleep(0.02)
    return perf_counter() - begun


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def unshared_check(folder: Path, count: int, today: date) -> Run:
    """Examine records one by one with nothing shared, in this process; every so manieth of the stock."""
    files = sorted(folder.glob("*.yaml"))
    files = files[:: max(1, len(files) // count)][:count]
    begun = perf_counter()
    for file in files:
        examine(file, today=today)
    return Run(command="(the same function)", seconds=perf_counter() - begun, properties=len(files))


def peak_mib() -> float:
    """Most memory that any process of this run had, itself included; 0 where the system does not tell."""
    try:
        import resource
    except ImportError:  # not every system has it
        return 0.0
    most = max(resource.getrusage(who).ru_maxrss for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return most / (1024 * 1024 if sys.platform == "darwin" else 1024)


def _environment() -> dict[str, str]:
    """As anybody has it: compiled modules are kept from run to run, as those of an installed package are."""
    own = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return own | {"NO_MKDOCS_2_WARNING": "1"}


def _busy() -> float:
    try:
        import resource
    except ImportError:
        return 0.0
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _ours(arguments: list[str]) -> list[str]:
    return [sys.executable, "-c", _PROGRAM, *arguments]
