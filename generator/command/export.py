"""The command `export`: the pack of one property as a single file, to attach to a job.

It must not know what is in the pack.
"""

from base64 import b64encode
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click

from generator.command.exits import FOUND, about, complain
from generator.command.files import record_file
from generator.command.firm import config_option, firm_settings
from generator.command.options import properties_option, today_option
from generator.command.to_pdf import find_browser, print_to_pdf
from generator.pages.pieces import ShownPhoto
from generator.views.property import PropertyView

_MIME = {
    "jpg": "image/jpeg",
    "jpeg": "image/jpeg",
    "png": "image/png",
    "svg": "image/svg+xml",
    "webp": "image/webp",
}


@click.command(short_help="Write the pack of one property as a single file.")
@click.argument("record", metavar="REFERENCE|FILE")
@properties_option
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Where the HTML file goes.  [default: the reference with .html, here]",
)
@click.option("--pdf", is_flag=True, help="Make a PDF beside it, with the Chromium of this machine.")
@click.option(
    "--browser", metavar="PROGRAM", help="The Chromium to make the PDF with, where it is not found by itself."
)
@config_option
@today_option
def export(
    record: str,
    folder: Path,
    out: Path | None,
    pdf: bool,
    browser: str | None,
    config: Path | None,
    today: date,
) -> None:
    """Write everything about one property as a single HTML file that needs nothing else, to attach to a job.

    It works without a network and without a server, and prints on A4 with the record's revision on every sheet. It
    holds what the engineers' site holds: give it to nobody who may not see that.

    Ends with 1 where the record has errors, so that nothing could be worked out; the file then says what is wrong.

    \b
    Examples:
      hearthbook export EB-0012
      hearthbook export EB-0012 --pdf --out jobs/EB-0012.html
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are
    from generator.overrides.overrides import overrides
    from generator.pages.alone import pack_alone
    from generator.pages.pieces import ForTenant
    from generator.pipeline import examine
    from generator.rules.rules import ALL
    from generator.views.overrides import overrides_view
    from generator.views.property import property_view

    _, firm = firm_settings(config, folder)
    program = find_browser(browser) if pdf or browser else None
    file = record_file(record, folder)
    with about(str(file)):
        examination = examine(file, today=today)
        view = property_view(examination, stem=file.stem)
        proved = overrides(examination.solution, examination.findings, firm.overrides.policy)
        html = pack_alone(
            view,
            rules={rule.name: rule for rule in ALL},
            photos=tuple(_photos(view, file.parent)),
            for_tenant=ForTenant(view=overrides_view(examination.circuit, proved)) if view.record else None,
        )
    page = out or Path(f"{file.stem}.html")
    page.parent.mkdir(parents=True, exist_ok=True)
    page.write_text(html, encoding="utf-8")
    click.echo(f"{page}: {len(html.encode()) / 1000:,.0f} kB, record revision {view.revision}")
    if program is not None:
        paper = page.with_suffix(".pdf")
        print_to_pdf(page, paper, browser=program)
        click.echo(f"{paper}: {paper.stat().st_size / 1000:,.0f} kB")
    if view.solved is None:
        complain("nothing could be worked out; the file says what has to be put right first")
        raise click.exceptions.Exit(FOUND)


def _photos(view: PropertyView, folder: Path) -> Iterator[ShownPhoto]:
    """The pictures that the record names and that are there, each with its data in its address."""
    from generator.site.pictures import BadPicture, published

    for photo in view.record.photos if view.record else ():
        source = folder / photo.file
        if not source.is_file():
            continue
        try:
            data = published(photo.file, source.read_bytes())
        except BadPicture as error:
            complain(f"picture left out: {error}")
            continue
        mime = _MIME[photo.file.rsplit(".", 1)[-1].lower()]
        yield ShownPhoto(
            url=f"data:{mime};base64,{b64encode(data).decode()}", caption=photo.caption, on=photo.on
        )
