"""How often each property's tenants' address was renewed: one line a property in a file beside the records.

Beside the records and not beside the secret, so that it is copied, reviewed and kept as they are, and so that whoever builds
the site next goes by it. Apart from the record, so that a record that cannot be read keeps its address. It is no secret: without
the secret the numbers lead nowhere. A property that is not in it was never renewed.
"""

import csv
import io
import os
from collections.abc import Mapping
from datetime import date
from pathlib import Path

from generator.findings.errors import CannotReadFile, CannotWriteFile, why_not_written
from generator.site.errors import BadTenancies

FILE_NAME = "tenancies.csv"
_HEAD = ["reference", "renewed", "on"]
_MOST = 9999


def read_tenancies(properties: Path) -> dict[str, int]:
    """How often each property's address was renewed, by reference.

    Raises:
        BadTenancies: a line of the file cannot be; addresses would be wrong, so none is made.
        CannotReadFile: the machine refuses.
    """
    return {reference: times for reference, (times, _) in _read(properties / FILE_NAME).items()}


def renew(properties: Path, reference: str, *, on: date) -> int:
    """Note that a property's tenancy has ended.

    Args:
        properties: The folder of records.
        reference: The property's.
        on: The day.

    Returns:
        How often it has been renewed now.

    Raises:
        BadTenancies: a line of the file cannot be, or the number is at its end.
        CannotReadFile: the machine refuses.
        CannotWriteFile: the machine refuses; then nothing is changed.
    """
    file = properties / FILE_NAME
    known = _read(file)
    times = known.get(reference, (0, ""))[0] + 1
    if times > _MOST:
        raise BadTenancies(file, 0, f"{reference} has been renewed {_MOST} times")
    known[reference] = (times, on.isoformat())
    _write(file, known)
    return times


def _read(file: Path) -> dict[str, tuple[int, str]]:
    try:
        text = file.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        return {}
    except (OSError, UnicodeDecodeError) as error:
        raise CannotReadFile(str(file), str(error)) from error
    lines = csv.reader(io.StringIO(text))
    try:
        rows = list(lines)
    except csv.Error as error:
        raise BadTenancies(file, lines.line_num, f"is no line of such a table: {error}") from error
    known: dict[str, tuple[int, str]] = {}
    for number, row in enumerate(rows, start=1):
        if not row or (number == 1 and row == _HEAD):
            continue
        if number == 1 or len(row) != len(_HEAD):
            raise BadTenancies(file, number, f"has to be {','.join(_HEAD)}")
        reference, times, on = (cell.strip() for cell in row)
        if not (times.isascii() and times.isdigit() and 0 < int(times) <= _MOST):
            raise BadTenancies(file, number, f"{times!r} is no number from 1 to {_MOST}")
        if reference in known:
            raise BadTenancies(
                file, number, f"{reference} is there twice; keep the line with the higher number"
            )
        known[reference] = (int(times), on)
    return known


def _write(file: Path, known: Mapping[str, tuple[int, str]]) -> None:
    """Whole or not at all, in the order of the references, so that two people's changes meet in different lines."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_HEAD)
    writer.writerows([reference, times, on] for reference, (times, on) in sorted(known.items()))
    part = file.with_name(f".{file.name}.{os.getpid()}")
    try:
        part.write_text(out.getvalue(), encoding="utf-8")
        part.replace(file)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise CannotWriteFile(str(file), why_not_written(error)) from error
