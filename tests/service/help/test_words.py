"""The words of the trade: one table, a page, and links to it."""

from __future__ import annotations

import re

from rubric import library
from rubric.glossary import WORDS
from rubric.language import speaking
from service.classes.brief_said import facts
from service.help.words import linked
from tests.rubric.reading import AGE_12, grade
from tests.service.site import Site


def test_every_word_stands_on_the_page_under_a_place_of_its_own(site: Site) -> None:
    page = site.visitor().get("/help/words").text
    keys = re.findall(r'<div id="([^"]+)"><dt>', page)
    assert len(keys) == len(set(keys)) == len(WORDS)


def test_the_meanings_are_read_at_twelve() -> None:
    for word in WORDS:
        assert grade(word.meaning) <= AGE_12, (word.name, grade(word.meaning))


def test_no_form_belongs_to_two_words() -> None:
    forms = [form.lower() for word in WORDS for form in (word.name, *word.forms)]
    assert len(forms) == len(set(forms))


def test_each_word_of_a_brief_is_a_link_where_it_first_occurs_and_to_a_place_that_is_there(site: Site) -> None:
    targets = set(re.findall(r'<div id="([^"]+)"', site.visitor().get("/help/words").text))
    for name in library.brief_names():
        with site.app.test_request_context():
            said = linked(facts(library.brief(name)))
        found = re.findall(r'href="[^"#]*#([^"]+)"', "".join(part for head, lines in said for part in (head, *lines)))
        assert len(found) == len(set(found)) > 8
        assert set(found) <= targets


def test_no_form_belongs_to_two_words_in_german() -> None:
    with speaking("de"):
        forms = [(form.lower(), word.key) for word in WORDS for form in {word.said, *word.also} if len(form) > 1]
    assert len({form for form, __ in forms}) == len(set(forms))


def test_a_sentence_in_german_has_links_too(site: Site) -> None:
    with site.app.test_request_context(), speaking("de"):
        ((__, (line,)),) = linked((("Last", ("Ein Stab, noch ein Stab und ein Knoten.",)),))
    assert re.findall(r'#([^"]+)">([^<]+)<', line) == [("member", "Stab"), ("joint", "Knoten")]


def test_links_change_no_word_and_escape_what_a_teacher_wrote(site: Site) -> None:
    given = (("Load <b>", ("A member & a joint, and one more member.",)),)
    with site.app.test_request_context():
        ((name, (line,)),) = linked(given)
    assert re.sub(r"<a [^>]*>|</a>", "", line) == "A member &amp; a joint, and one more member."
    assert line.count("<a ") == 2
    assert "<b>" not in name
