"""Secrets and the words they are made of."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.people import passwords
from service.people.passwords import NoWordLeft, fits, hashed, new_phrase, phrase_words
from service.words import ALIAS_ADJECTIVES, ALIAS_NOUNS, PASSPHRASE_WORDS


def test_a_hash_fits_its_secret_alone() -> None:
    kept = hashed("acorn-brook-cedar")
    assert fits(kept, "acorn-brook-cedar")
    assert not fits(kept, "acorn-brook-cedars")
    assert not fits(None, "acorn-brook-cedar")
    assert not fits("no hash at all", "acorn-brook-cedar")


def test_hashes_cost_at_least_what_owasp_asks() -> None:
    hasher = passwords._HASHER
    assert (hasher.time_cost, hasher.memory_cost, hasher.parallelism) == (2, 19_456, 1)
    assert hashed("x").startswith("$argon2id$")


@given(st.sets(st.sampled_from(PASSPHRASE_WORDS), max_size=len(PASSPHRASE_WORDS) - 1))
def test_a_phrase_begins_with_a_free_word_and_has_three_different_ones(taken: set[str]) -> None:
    words = phrase_words(new_phrase(taken))
    assert words[0] not in taken
    assert len(set(words)) == 3
    assert set(words) <= set(PASSPHRASE_WORDS)


def test_a_class_larger_than_the_list_of_words_is_refused() -> None:
    with pytest.raises(NoWordLeft):
        new_phrase(set(PASSPHRASE_WORDS))


def test_the_words_are_many_different_short_and_plain() -> None:
    assert len(set(PASSPHRASE_WORDS)) == len(PASSPHRASE_WORDS) >= 512  # 18 bits in the two words to be guessed
    assert all(word.isascii() and word.isalpha() and word.islower() for word in PASSPHRASE_WORDS)
    assert max(map(len, PASSPHRASE_WORDS)) <= 9


def test_aliases_suffice_for_a_large_school_and_fit_their_column() -> None:
    assert len(ALIAS_ADJECTIVES) * len(ALIAS_NOUNS) > 10_000
    assert max(map(len, ALIAS_ADJECTIVES)) + max(map(len, ALIAS_NOUNS)) + 6 <= 40
