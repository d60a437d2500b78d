"""Pictures lose position and other hidden words on their way out, and nothing that could run stays in."""

from io import BytesIO

import pytest
from PIL import Image

from generator.site.pictures import BadPicture, published

GPS = 0x8825


def photograph(**options: object) -> bytes:
    out = BytesIO()
    Image.new("RGB", (40, 20), (200, 30, 30)).save(out, format="JPEG", **options)
    return out.getvalue()


def test_position_and_maker_are_taken_off_a_photograph() -> None:
    exif = Image.Exif()
    exif[0x010F] = "the maker"
    exif.get_ifd(GPS)[1] = "N"
    source = photograph(exif=exif, comment=b"the hall")
    assert b"the maker" in source and b"the hall" in source
    clean = published("hall.jpg", source)
    assert b"the maker" not in clean and b"the hall" not in clean
    assert dict(Image.open(BytesIO(clean)).getexif()) == {}


def test_a_photograph_taken_sideways_is_turned_upright() -> None:
    exif = Image.Exif()
    exif[0x0112] = 6
    assert Image.open(BytesIO(published("hall.jpg", photograph(exif=exif)))).size == (20, 40)


def test_text_of_a_png_is_taken_off() -> None:
    from PIL.PngImagePlugin import PngInfo

    info = PngInfo()
    info.add_text("Comment", "behind the shed")
    out = BytesIO()
    Image.new("RGBA", (4, 4)).save(out, format="PNG", pnginfo=info)
    assert b"behind the shed" in out.getvalue()
    assert b"behind the shed" not in published("shed.png", out.getvalue())


def test_nothing_that_runs_or_loads_stays_in_a_drawing() -> None:
    drawing = b"""<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" onload="a()">
      <script>b()</script><style>@import url(x)</style><metadata>secret</metadata>
      <a href="javascript:c()"><text>d</text></a><foreignObject/>
      <image href="https://example.org/e.png"/><use xlink:href="https://example.org/f"/>
      <rect id="kept" width="4" height="4" style="fill:url(https://example.org/g)" fill="red"/></svg>"""
    clean = published("box.svg", drawing).decode()
    assert 'id="kept"' in clean and 'fill="red"' in clean
    for gone in (
        "script",
        "style",
        "secret",
        "javascript",
        "onload",
        "example.org",
        "foreignObject",
        "<image",
    ):
        assert gone not in clean


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("a.jpg", b"not a picture"),
        ("a.png", photograph()),
        ("a.svg", b"<svg"),
        ("a.svg", b"<html/>"),
        ("a.svg", b'<!DOCTYPE svg [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg"/>'),
    ],
)
def test_what_is_no_such_picture_is_refused(name: str, data: bytes) -> None:
    with pytest.raises(BadPicture):
        published(name, data)
