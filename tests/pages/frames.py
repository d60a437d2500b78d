"""An engineers' site written with plain frames, in the place of the program that makes real ones."""

import shutil
from pathlib import Path

from generator.site.page import SiteContent
from generator.site.shell import BODY, DESCRIPTION, HEAD, TITLE, Shells
from generator.site.stage import Stage
from generator.templates import templates_dir


def frame(kind: str, depth: int) -> str:
    """A frame of nothing but marks, with the links that every page has."""
    root = "../" * depth
    return (
        f'<html data-kind="{kind}"><head><title>{TITLE}</title><meta name="description" content="{DESCRIPTION}">{HEAD}'
        f'</head><body><a href="{root or "./"}">Home</a>\n{BODY}</body></html>'
    )


def write_framed(site: Path, older: Path | None, content: SiteContent) -> Stage:
    """Write a whole site; hand-written pages that others link to are there and hold nothing."""
    stage = Stage(site, older=older)
    hand = ("cautions/", "drawings/", "glossary/", "writing-a-record/")
    for url in hand:
        (site / url).mkdir(parents=True)
        (site / url / "index.html").write_text("<html></html>", encoding="utf-8")
    shutil.copytree(templates_dir() / "assets", site / "assets")
    assets = {file.relative_to(site).as_posix() for file in (site / "assets").rglob("*")}
    taken = {*assets, *(f"{url}index.html" for url in hand)}
    filled = stage.write(content, shells=Shells(frame), taken=taken, places=("./",))
    for page in filled.values():
        (site / page.path).write_text(stage.fill(page, frame(page.kind, page.depth)), encoding="utf-8")
    stage.finish(hand_written=[(url, f"{url}index.html") for url in hand])
    return stage
