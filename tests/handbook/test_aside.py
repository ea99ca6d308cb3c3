"""A page's HTML blocks come through the conversion of its Markdown untouched."""

from __future__ import annotations

import markdown
from hypothesis import given
from hypothesis import strategies as st

from generator.handbook import aside

PAGE = """# Band *saw*

<div class="headline"><p id="top">4</p>
<p>*Not* Markdown</p></div>

## Steps

<div class="part"><svg id="plan"><a xlink:href="x.html" id="s4">4</a></svg></div>
"""


def _converted(page: str) -> str:
    rest, blocks = aside.set_aside(page)
    return aside.put_back(markdown.markdown(rest), blocks)


def test_the_page_is_what_markdown_makes_of_it_whole() -> None:
    assert _converted(PAGE) == markdown.markdown(PAGE)


def test_the_converter_reads_next_to_nothing() -> None:
    rest, blocks = aside.set_aside(PAGE)
    assert len(blocks) == 2
    assert "svg" not in rest
    assert "*Not*" not in rest


def test_the_index_reads_words_without_drawings_and_keeps_apart_what_stands_apart() -> None:
    html = (
        '<h2 id="steps">Steps</h2><div class="part"><svg id="plan"><text>4</text></svg>'
        "<table><tr><th>Friday</th>\n<td>c<b>los</b>ed</td></tr></table>"
        "<p>One <code>saw</code></p></div>"
    )
    assert aside.to_search(html) == (
        '<h2 id="steps">Steps</h2> Friday closed <p>One <code>saw</code></p> '
    )


def test_every_id_can_still_be_linked_to() -> None:
    _rest, blocks = aside.set_aside(PAGE)
    assert aside.anchors(blocks) == {"top", "plan", "s4"}


_INSIDE = st.text(alphabet="ab <>&\"'\\#*_[]\u202f", max_size=30).map(
    lambda s: s.replace("<", "&lt;")
)


@given(st.lists(_INSIDE, max_size=5))
def test_any_block_comes_back_as_it_was(insides: list[str]) -> None:
    given_blocks = [f"<div>{inside}</div>" for inside in insides]
    page = "\n\n".join(part for block in given_blocks for part in ("## Part", block))
    rest, blocks = aside.set_aside(page)
    assert list(blocks) == given_blocks
    assert aside.put_back(rest, blocks) == page
