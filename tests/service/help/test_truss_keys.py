"""The keys of a truss file on its help page, made from the schema."""

from __future__ import annotations

import yaml

from rubric import library
from rubric.language import speaking
from rubric.schemas.truss import truss_schema
from service.classes import examples
from service.help.truss_keys import keys_of_file
from tests.rubric.reading import AGE_12, grade
from tests.service.site import Site
from worker.truss.reader import read_truss

KEYS = {key.name: key for key in keys_of_file()}


def test_every_key_of_the_schema_is_told_once_with_what_it_says() -> None:
    schema = truss_schema()
    inner = [f"working: {name}" for name in schema["properties"]["working"]["properties"]]
    assert sorted(KEYS) == sorted([*schema["properties"], *inner])
    assert all(key.what for key in KEYS.values())
    assert [name for name, key in KEYS.items() if key.usual == "needed"] == ["joints", "members"]
    assert (KEYS["units"].usual, KEYS["units"].example) == ("mm", "mm, cm, m, in")


def test_what_a_key_says_is_read_at_twelve() -> None:
    assert {name: key.what for name, key in KEYS.items() if grade(key.what) > AGE_12} == {}


def test_examples_are_written_as_the_reader_reads_them() -> None:
    text = examples.YAML
    for name in ("working: reactions", "working: forces", "working: zero members"):
        key, example = name.removeprefix("working: "), KEYS[name].example
        whole = f"{text}working:\n  {key}: {example if example.startswith('[') else f'{{{example}}}'}\n"
        if key == "zero members":
            whole = whole.replace("c-e", "a-b")
        assert read_truss(whole.encode(), library.brief("footbridge")).working
    assert yaml.safe_load(f"{{{KEYS['joints'].example}}}") == {"a": [0, 0]}
    assert KEYS["supports"].example == "a: pin, b: roller"


def test_the_keys_stand_on_the_page_in_its_language(site: Site) -> None:
    page = site.visitor().get("/help/truss-file").text
    assert all(f"<code>{name}</code>" in page for name in KEYS)
    with speaking("de"):
        german = keys_of_file()
    said = site.visitor().get("/help/truss-file", headers={"Accept-Language": "de"}).text
    assert all(key.what in said and key.what not in page for key in german)
