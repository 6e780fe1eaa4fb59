"""How a step names buttons, links and fields, and how templates are read for them."""

from __future__ import annotations

from importlib.resources import files

from rubric.language import _, speaking
from service.help.controls import _texts, controls, marked, on_pages, seen
from service.help.library import tasks


def test_a_step_is_escaped_and_its_controls_and_typed_words_are_marked_up() -> None:
    said = marked("A <b> & [Hand in], then ``a: [0, 0]``.")
    assert said == (
        'A &lt;b&gt; &amp; <b class="control">Hand in</b>, then <code>a: [0, 0]</code>.'
    )  # fmt: skip


def test_what_a_reader_does_not_see_of_a_text_is_left_out() -> None:
    assert seen('Settled<span class="unseen">: notice {id}</span>') == "Settled"
    assert seen("Alias: <bdi>{alias}</bdi>") == "Alias: …"
    assert seen("Fish &amp; chips") == "Fish & chips"


def test_texts_of_a_template_are_found_whether_quoted_or_between_tags() -> None:
    template = (
        '<button{% if a == "b" %} class="x"{% endif %}>{{ _("Hand in") }}</button>'
        "<label><input{% if c %} checked{% endif %}> Marks wait</label>{# no text #}"
        "<a>Version {{ n }}{% if held %} (held){% endif %}</a>"
        "<a>{{ 'Set anew' if one else 'Set' }}</a>"
    )
    found = list(_texts(template))
    assert {"Hand in", "Marks wait", "Version …", "(held)", "Set anew", "Set"} <= set(found)
    assert not [text for text in found if "no text" in text or "<" in text or "checked" in text]


def test_a_control_that_a_task_names_has_one_word_in_german() -> None:
    named = {control for __, task in tasks().values() for step in task.steps for control in controls(step)}
    words: dict[str, set[str]] = {}
    with speaking("de"):
        for file in (files("service") / "templates").iterdir():
            for text in _texts(file.read_text("utf-8")):
                words.setdefault(seen(text), set()).add(seen(_(text)))
    assert {control: words[control] for control in named if len(words[control]) > 1} == {}


def test_common_controls_of_the_pages_are_found() -> None:
    assert {"Hand in", "Sign in", "Bring in a class list", "Lock the entries now", "Set work"} <= set(on_pages())
