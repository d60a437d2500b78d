"""Frames: taken apart once, filled many times."""

import pytest

from generator.site import shell
from generator.site.errors import BadPage
from generator.site.page import SitePage
from generator.site.shell import Shell, Shells

_FRAME = (
    f'<title>{shell.TITLE}</title><meta content="{shell.DESCRIPTION}">{shell.HEAD}'
    f'<link href="https://book.example/{shell.FOLDER}/{shell.FOLDER}/"><b>{shell.TITLE}</b>{shell.BODY}<i></i>'
)


def page(**changes: str) -> SitePage:
    values = {"url": "p/x/", "title": "T", "kind": "k", "body": "<h1>B</h1>", "description": "D"} | changes
    return SitePage(**values)  # type: ignore[arg-type]  # all of those used here are text


def test_fills_every_mark() -> None:
    filled = Shell(_FRAME, "k", 2).fill(page(title="A & <b>", head="<style>x</style>"))
    assert filled.body == b"<h1>B</h1>"
    assert filled.html.decode() == (
        '<title>A &amp; &lt;b&gt;</title><meta content="D"><style>x</style>'
        '<link href="https://book.example/p/x/"><b>A &amp; &lt;b&gt;</b><h1>B</h1><i></i>'
    )


def test_text_of_a_page_is_never_taken_for_a_mark() -> None:
    html = Shell(_FRAME, "k", 2).fill(page(title=shell.BODY, body=f"<h1>{shell.TITLE}</h1>")).html
    assert f"<h1>{shell.TITLE}</h1><i></i>".encode() in html


def test_without_a_description_the_title_serves() -> None:
    assert b'<meta content="T">' in Shell(_FRAME, "k", 2).fill(page(description="")).html


def test_printed_foot_cannot_break_out_of_its_string() -> None:
    html = shell.head_of(page(printed_foot='"}</style><script>\\'))
    assert html == (
        '<style>@page{@bottom-left{content:"\\000022}\\00003c/style\\00003e\\00003cscript\\00003e\\00005c"}}</style>'
    )
    assert shell.body_of(page(printed_foot="<b>")).endswith('<p class="hb-print-foot">&lt;b&gt;</p>')


def test_a_frame_is_for_one_depth() -> None:
    with pytest.raises(BadPage, match="depth"):
        Shell(_FRAME, "k", 2).fill(page(url="p/"))


def test_a_frame_has_one_place_for_the_body() -> None:
    with pytest.raises(BadPage, match="0 times"):
        Shell("<html>", "k", 0)


def test_each_kind_and_depth_is_rendered_once() -> None:
    asked: list[tuple[str, int]] = []

    def render(kind: str, depth: int) -> str:
        asked.append((kind, depth))
        return _FRAME

    shells = Shells(render)
    for url, kind in (("p/a/", "k"), ("p/b/", "k"), ("p/", "k"), ("p/c/", "other"), ("p/d/", "k")):
        shells.for_page(page(url=url, kind=kind))
    assert asked == [("k", 2), ("k", 1), ("other", 2)]
