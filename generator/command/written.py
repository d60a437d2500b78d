"""The commands that write texts out: `expand` a record, the `schema` for editors, the reference of `fields`.

It must not know what a record holds.
"""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from generator.catalogue.kind import Kind
from generator.catalogue.kinds import KINDS
from generator.command.exits import FOUND, about
from generator.command.files import record_file
from generator.command.findings_data import findings_schema
from generator.command.findings_text import gnu_line
from generator.command.options import properties_option
from generator.findings.errors import CannotWriteFile, why_not_written
from generator.findings.finding import Severity
from generator.record.field_pages import field_reference_markdown
from generator.record.kind_model import KindFile
from generator.record.load import load_record
from generator.record.model import HouseType, Record
from generator.record.own_kinds import kinds_of_own
from generator.record.record_schema import record_schema
from generator.record.schema import json_schema
from generator.record.written_out import written_out
from generator.site.config import settings_schema

_out = click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Write to this file instead of to the terminal.",
)


@click.command(short_help="Print a record with its house type and short way written out.")
@click.argument("record", metavar="FILE|REFERENCE")
@properties_option
@_out
def expand(record: str, folder: Path, out: Path | None) -> None:
    """Print a record with its house type and short way written out, conductor by conductor.

    What comes out is a record too, and gives the same circuit. Comments are not carried over.

    Ends with 1 where the record cannot be read without error, and tells why.

    \b
    Examples:
      hearthbook expand properties/EB-0012.yaml
      hearthbook expand EB-0012 --out EB-0012-whole.yaml
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are
    file = record_file(record, folder)
    with about(str(file)):
        loaded = load_record(file)
        errors = [finding for finding in loaded.findings if finding.severity >= Severity.ERROR]
        for finding in errors:
            click.echo(gnu_line(finding), err=True)
        if errors:
            raise click.exceptions.Exit(FOUND)
        _write(written_out(loaded), out)


_SCHEMAS: dict[str, Callable[[tuple[Kind, ...]], dict[str, Any]]] = {
    "record": record_schema,
    "house-type": lambda _: json_schema(HouseType),
    "kind": lambda _: json_schema(KindFile),
    "settings": lambda _: settings_schema(),
    "findings": lambda _: findings_schema(),
}


@click.command(short_help="Print the JSON Schema of records, so that an editor can help to write them.")
@click.option(
    "--of",
    "what",
    type=click.Choice(list(_SCHEMAS)),
    default="record",
    show_default=True,
    help="record, house-type, kind and settings (hearthbook.yml): what may be written. findings: what `check --format json` prints.",
)
@properties_option
@_out
def schema(what: str, folder: Path, out: Path | None) -> None:
    """Print the JSON Schema of records, so that an editor can help to write them.

    A record that it passes may still be wrong: `hearthbook check` has the last word. It knows the firm's own kinds in
    the folder of records.

    \b
    Examples:
      hearthbook schema --out record.schema.json
      hearthbook schema --of kind --out kind.schema.json
      hearthbook schema --of settings --out hearthbook.schema.json
      hearthbook schema --of findings
    """  # noqa: D301  # the same
    _write(
        json.dumps(_SCHEMAS[what]((*KINDS, *kinds_of_own(folder))), indent=2, ensure_ascii=False) + "\n", out
    )


@click.command(short_help="Print the reference of all fields of a record, as Markdown.")
@_out
def fields(out: Path | None) -> None:
    """Print the reference of all fields of a record, of house types, of kinds and of settings, as Markdown.

    \b
    Example:
      hearthbook fields --out fields.md
    """  # noqa: D301  # the same
    from generator.pages.reference_pages import kinds_markdown

    parts = [
        "# Fields of a record\n",
        field_reference_markdown(Record, HouseType, KindFile),
        kinds_markdown(KINDS),
    ]
    _write("\n".join(parts).rstrip("\n") + "\n", out)


def _write(text: str, out: Path | None) -> None:
    if out is None:
        click.echo(text, nl=False)
        return
    try:
        out.write_text(text, encoding="utf-8")
    except OSError as error:
        raise CannotWriteFile(str(out), why_not_written(error)) from error
