"""Pictures on their way out: position and every other hidden word taken off, nothing that could run left in.

Knows picture files only, not what they show.
"""

import re
from io import BytesIO
from xml.etree import ElementTree

_FORMATS = {"jpg": "JPEG", "jpeg": "JPEG", "png": "PNG", "webp": "WEBP"}
_SVG = "{http://www.w3.org/2000/svg}"
_DRAWN = frozenset(
    [
        "svg",
        "g",
        "path",
        "rect",
        "circle",
        "ellipse",
        "line",
        "polyline",
        "polygon",
        "text",
        "tspan",
        "title",
        "desc",
        "defs",
        "use",
        "clipPath",
        "mask",
        "pattern",
        "linearGradient",
        "radialGradient",
        "stop",
        "symbol",
        "marker",
    ]
)
_OUTSIDE = re.compile(r"(?i)(https?:|//|data:|javascript:|@import|expression\()")


class BadPicture(ValueError):
    """A file that is not the picture that its name says."""


def published(name: str, data: bytes) -> bytes:
    """The picture as it is published.

    Photographs are turned upright and written anew without EXIF, GPS position, comments or profiles.
    Drawings keep shapes and words only: scripts, handlers, style sheets, metadata and links elsewhere go.

    Raises:
        BadPicture: the data is not such a picture.
    """
    kind = name.rsplit(".", 1)[-1].lower()
    if kind == "svg":
        return _drawing(data)
    # Few records have photographs, and no others should wait for what reads them.
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with Image.open(BytesIO(data), formats=[_FORMATS[kind]]) as opened:
            upright = ImageOps.exif_transpose(opened)
            clean = upright.convert("RGB") if kind in ("jpg", "jpeg") else upright
            bare = Image.new(clean.mode, clean.size)
            bare.paste(clean)
            if clean.mode == "P":
                bare.putpalette(clean.getpalette() or [])
            out = BytesIO()
            bare.save(out, format=_FORMATS[kind], quality=85)
            return out.getvalue()
    except (UnidentifiedImageError, OSError, KeyError, SyntaxError, Image.DecompressionBombError) as error:
        raise BadPicture(f"{name} is not a picture of that kind that can be read") from error


def _drawing(data: bytes) -> bytes:
    if b"<!DOCTYPE" in data or b"<!ENTITY" in data:
        raise BadPicture("a drawing with a document type is not taken")
    try:
        root = ElementTree.fromstring(data)  # noqa: S314  # entities are refused above
    except ElementTree.ParseError as error:
        raise BadPicture("the drawing is not well-formed") from error
    if root.tag != f"{_SVG}svg":
        raise BadPicture("the drawing is not an SVG")
    _clean(root)
    ElementTree.register_namespace("", _SVG[1:-1])
    return bytes(ElementTree.tostring(root, encoding="utf-8"))


def _clean(element: ElementTree.Element) -> None:
    for child in list(element):
        if str(child.tag).removeprefix(_SVG) not in _DRAWN:
            element.remove(child)
        else:
            _clean(child)
    for key, value in list(element.attrib.items()):
        local = str(key).rsplit("}", 1)[-1].lower()
        outside_link = local == "href" and not value.startswith("#")
        if local.startswith("on") or key.startswith("{") or outside_link or _OUTSIDE.search(value):
            del element.attrib[key]
