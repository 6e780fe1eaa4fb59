"""Help that is made from the code, and the schemas at their addresses."""

from __future__ import annotations

import json

import pytest

from rubric.brief import Brief
from rubric.criteria import KINDS
from rubric.measures import CATALOGUE
from rubric.rubrics import read_rubric
from rubric.schemas import NAMES, schema
from rubric.shapes import spoken
from service.help.made import blocks_of, keys_of, kinds, said
from tests.service.site import Site


def test_every_kind_has_its_page_with_an_example_that_is_read(site: Site) -> None:
    page = site.visitor().get("/help/rubric").text
    for kind in kinds():
        examples = [part.text.unescape() for part in kind.parts if part.is_example]
        assert f"<code>{kind.name}</code>" in page
        assert examples, kind.name
        head = "title: T\nrelease: by hand\ncriteria:\n"
        assert read_rubric(f"{head}{examples[0]}\n".encode()).criteria[0].kind == kind.name


def test_every_key_of_every_kind_is_told_with_an_example() -> None:
    for shape in KINDS:
        for key in keys_of(shape):
            assert key.what, (shape, key)
            assert key.example, (shape, key)


def test_every_key_of_a_brief_is_on_its_page(site: Site) -> None:
    page = site.visitor().get("/help/brief").text
    names = [spoken(name) for name in Brief.model_fields]
    assert all(f"<code>{name}</code>" in page for name in names)
    assert [block.name for block in blocks_of(Brief, "The brief")][:3] == ["The brief", "supports", "load"]


def test_every_measure_is_on_its_page(site: Site) -> None:
    page = site.visitor().get("/help/measures").text
    assert all(f"<code>{name}</code>" in page for name in CATALOGUE)


def test_a_docstring_becomes_paragraphs_and_examples_and_is_escaped() -> None:
    import types

    module = types.ModuleType(
        "m", "A <title>.\n\n.. code-block:: yaml\n\n    a: <1>\n      b: 2\n\nWrite ``a`` & go.\n"
    )
    title, parts = said(module)
    assert title == "A <title>"
    assert [(str(part.text), part.is_example) for part in parts] == [
        ("a: &lt;1&gt;\n  b: 2", True),
        ("Write <code>a</code> &amp; go.", False),
    ]


@pytest.mark.parametrize("name", NAMES)
def test_a_schema_stands_at_its_address_for_everybody(site: Site, name: str) -> None:
    answer = site.visitor().get(f"/schemas/{name}.json")
    assert json.loads(answer.text) == schema(name)
    assert answer.content_type == "application/schema+json"
    assert "max-age" in answer.headers["Cache-Control"]


def test_there_is_no_schema_of_anything_else(site: Site) -> None:
    assert site.visitor().get("/schemas/person.json").status_code == 404
