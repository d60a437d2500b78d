"""The pack of a property as one file that needs nothing else: styles, drawings, pictures and scripts inside it.

Knows which style sheets and scripts belong to it; not where the file goes.
"""

import re
from collections.abc import Mapping
from functools import cache

from markupsafe import Markup

from generator.drawings.drawing_css import drawing_css
from generator.pages.pack import pack_html, pack_pieces
from generator.pages.paper import foot_of, foot_style
from generator.pages.pieces import ForTenant, Pieces, ShownPhoto
from generator.rules.rule import Rule
from generator.templates import templates_dir
from generator.views.property import PropertyView

_SHEETS = (
    "hearthbook.css",
    "hearthbook-parts.css",
    "hearthbook-tables.css",
    "hearthbook-account.css",
    "hearthbook-choice.css",
    "hearthbook-overrides.css",
    "hearthbook-alone.css",
    "hearthbook-print.css",
)
_REMARK = re.compile(r"/\*.*?\*/\s*", re.DOTALL)
_SCRIPTS = ("hearthbook.js", "trace.js", "tables.js")


def pack_alone(
    view: PropertyView,
    *,
    rules: Mapping[str, Rule],
    photos: tuple[ShownPhoto, ...],
    for_tenant: ForTenant | None = None,
) -> str:
    """The whole file.

    Args:
        view: What it shows.
        rules: The rules whose sources are told, by name.
        photos: The pictures, each with its data in its address.
        for_tenant: What the part on overrides shows; without it there is none.
    """
    pieces = Pieces(view, rules=rules, photos=photos, for_tenant=for_tenant)
    return pieces.page(
        "alone",
        title=f"{view.reference}, {view.address}",
        styles=Markup(_styles()),  # noqa: S704  # files of ours
        scripts=Markup(_scripts()),  # noqa: S704  # files of ours
        head=Markup(pieces.head(pack_pieces()) + foot_style(foot_of(view))),  # noqa: S704  # made for the purpose
        foot=foot_of(view),
        body=Markup(pack_html(pieces, root=None)),  # noqa: S704  # from our templates, which escape
    )


@cache
def _styles() -> str:
    assets = templates_dir() / "assets"
    sheets = "".join((assets / name).read_text(encoding="utf-8") for name in _SHEETS)
    return _REMARK.sub("", drawing_css() + sheets)


@cache
def _scripts() -> str:
    assets = templates_dir() / "assets"
    return "".join((assets / name).read_text(encoding="utf-8") for name in _SCRIPTS)
