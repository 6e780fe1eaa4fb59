"""Drawings from workers: shapes and text pass, and nothing that acts."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.drawings import drawing_fault, without_links

NAMESPACE = 'xmlns="http://www.w3.org/2000/svg"'


def svg(inner: str, attributes: str = "") -> str:
    return f"<svg {NAMESPACE} {attributes}>{inner}</svg>"


@pytest.mark.parametrize(
    "inner",
    [
        '<g transform="translate(1,2) rotate(-30)"><line x1="0" y1="0" x2="5" y2="5" stroke="#0a7"/></g>',
        '<defs><marker id="arrow" orient="auto"><path d="M0 0L5 2L0 4z"/></marker></defs>'
        '<line x1="0" y1="0" x2="9" y2="0" marker-end="url(#arrow)"/>',
        "<title>A truss</title><desc>Five members.</desc><text x='1' y='2'>80 N &lt; 90 N <tspan>C</tspan></text>",
        '<rect width="5" height="5" fill="none" stroke-dasharray="2 2" class="member"/>',
    ],
)
def test_shapes_and_text_pass(inner: str) -> None:
    assert drawing_fault(svg(inner, 'role="img" aria-label="A truss (five members)" viewBox="0 0 9 9"')) is None


@pytest.mark.parametrize(
    "inner",
    [
        "<script>x()</script>",
        "<style>@import 'x'</style>",
        '<a href="#"><text>x</text></a>',
        '<image href="x.png"/>',
        '<use href="#a"/>',
        "<foreignObject><p>x</p></foreignObject>",
        "<animate attributeName='x'/>",
        "<svg/>",
        "<title><text>x</text></title>",
        "<desc><title/></desc>",
        '<x:g xmlns:x="http://www.w3.org/1999/xhtml"/>',
        "<!-- hidden -->",
        "<?php x ?>",
        "<text><![CDATA[<script>]]></text>",
        '<rect onclick="x()"/>',
        '<rect style="fill:red"/>',
        '<rect fill="url(#g)"/>',
        '<rect fill="URL(http://x.invalid)"/>',
        r'<rect fill="u\72l(x)"/>',
        '<line marker-end="url(http://x.invalid#a)"/>',
        '<line marker-end="url(#a) url(#b)"/>',
        '<g transform="url(#a)"/>',
        '<text xml:base="x">x</text>',
        "<g>" * 25 + "</g>" * 25,
        "<g/>" * 20_001,
    ],
)
def test_whatever_could_act_or_overwhelm_is_refused(inner: str) -> None:
    assert drawing_fault(svg(inner)) is not None


@pytest.mark.parametrize(
    "drawing",
    [
        "",
        "text",
        "<svg/>",
        f"<g {NAMESPACE}/>",
        f'<?xml version="1.0"?>{svg("")}',
        f"<!DOCTYPE svg>{svg('')}",
        f'<!DOCTYPE svg [<!ENTITY a "b">]>{svg("<text>&a;</text>")}',
        svg("<text>&nbsp;</text>"),
        svg("") + svg(""),
        svg("", 'onload="x()"'),
        svg("", 'xmlns:xlink="http://www.w3.org/1999/xlink"'),
        svg("<text>\ud800</text>"),
        svg("<text>\x00</text>"),
    ],
)
def test_what_is_not_one_plain_svg_is_refused(drawing: str) -> None:
    assert drawing_fault(drawing) is not None


@given(st.text())
def test_a_fault_never_quotes_the_drawing(text: str) -> None:
    fault = drawing_fault(svg(f"<rect data-x='{text}'/>"))
    assert fault is not None
    assert len(text) < 12 or text not in fault


LINK = '<a id="drawn-3" href="#member-3"><title>a-b: 12 N, tension</title><line x1="0" y1="0" x2="5" y2="5"/></a>'


def test_a_link_to_a_member_s_row_passes_and_can_be_taken_out() -> None:
    assert drawing_fault(svg(f"<g>{LINK}</g>{LINK}")) is None
    assert "<a" not in without_links(svg(LINK))
    assert without_links(svg(LINK)).count("<line") == without_links(svg(LINK)).count("<title>") == 1


@pytest.mark.parametrize(
    "attributes",
    [
        "",
        'id="drawn-3"',
        'href="#member-3"',
        'id="drawn-3" href="javascript:x()"',
        'id="drawn-3" href="https://x.invalid/#member-3"',
        'id="drawn-3" href="//x.invalid"',
        'id="drawn-3" href="#"',
        'id="drawn-3" href="#member-"',
        'id="drawn-3" href="#member-3 "',
        'id="drawn-3" href="#member-12345"',
        'id="drawn-3" href="#member-٣"',
        'id="drawn-3" href="&#106;avascript:x()"',
        'id="drawn-3" href="#main"',
        'id="parts" href="#member-3"',
        'id="member-3" href="#member-3"',
        'id="drawn-3" href="#member-3" target="_top"',
        'id="drawn-3" href="#member-3" download="x"',
        'id="drawn-3" href="#member-3" ping="/sign-out"',
        'id="drawn-3" href="#member-3" onclick="x()"',
        'id="drawn-3" href="#member-3" class="button"',
        'id="drawn-3" href="#member-3" tabindex="1"',
        'id="drawn-3" href="#member-3" xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="javascript:x()"',
    ],
)
def test_a_link_to_anywhere_else_is_refused(attributes: str) -> None:
    assert drawing_fault(svg(f"<a {attributes}><rect/></a>")) is not None


@pytest.mark.parametrize(
    "inner", [LINK.replace("<line", f"{LINK}<line"), f"<g>{LINK.replace('<line', f'<g>{LINK}</g><line')}</g>"]
)
def test_a_link_within_a_link_is_refused(inner: str) -> None:
    assert drawing_fault(svg(inner)) is not None


def test_other_elements_link_nowhere() -> None:
    assert drawing_fault(svg('<g href="#member-3"/>')) is not None
    assert drawing_fault(svg('<A id="drawn-3" href="#member-3"/>')) is not None
