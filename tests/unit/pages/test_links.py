"""Links and places found in finished HTML."""

from generator.pages.links import Links, links_in, links_of, places_in


def test_links_of_a_page() -> None:
    html = b'<a href="a/">x</a><img\nsrc="b.png"><use xlink:href="#c"/><a data-href="d"></a><a class="x" href="e?a=1&amp;b=2#f">'
    assert list(links_in(html)) == ["a/", "e?a=1&b=2#f", "b.png"]


def test_a_value_that_never_ends_is_taken_to_the_end() -> None:
    assert list(links_in('<a href="über'.encode())) == ["über"]


def test_places_are_ids_and_states() -> None:
    html = b'<p\nid="a &amp; b" data-state-id="hall" data-device-id="c">'
    assert places_in(html) == {"a & b", "state=hall"}
    assert places_in(b'id="a"<b id="') == {""}


def test_places_are_looked_for_only_where_a_page_links_to_its_own() -> None:
    assert links_of(b'<p id="a"><a href="b/"><a href="b/">') == Links(("b/",), frozenset())
    assert links_of(b'<p id="a"><a href="#a">') == Links(("#a",), frozenset({"a"}))
