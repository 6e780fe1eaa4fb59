"""Reading YAML so that every value knows its line and column."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.located import Mapping, Scalar, Sequence, decode, plain, read_yaml
from rubric.problems import Findings, Refused, quoted


def read(text: str) -> Mapping:
    findings = Findings()
    tree = read_yaml(text, findings)
    findings.settle()
    return tree


def test_every_value_knows_its_line_and_column() -> None:
    tree = read("title: One\njoints:\n  a: [0, 15]\n")
    block = tree.get("joints")
    assert isinstance(block, Mapping)
    row = block.get("a")
    assert isinstance(row, Sequence)
    assert [item.place for item in row.items] == [(3, 7), (3, 10)]
    assert tree.key_place("joints") == (2, 1)


def test_scalars_stay_the_text_that_was_written() -> None:
    written = "{a: no, b: 012, c: 1e3, d: 2027-01-01, e: ~, f: '', g: 1:30}"
    assert list(plain(read(written)).values()) == ["no", "012", "1e3", "2027-01-01", "~", "", "1:30"]


def test_a_tree_without_places_is_plain_lists_and_text() -> None:
    assert plain(read("a: [1, {b: c}]")) == {"a": ["1", {"b": "c"}]}


def test_all_things_that_are_refused_are_told_together() -> None:
    with pytest.raises(Refused) as refused:
        read("a: &x 1\nb: *x\n<<: 3\na: !!int 4\n")
    assert [problem.line for problem in refused.value.problems] == [1, 2, 3, 4, 4]


def test_windows_and_old_line_ends_count_as_one_line_each() -> None:
    assert decode(b"\xef\xbb\xbfa: 1\r\nb: 2\rc: 3\n") == "a: 1\nb: 2\nc: 3\n"


def test_a_problem_beyond_the_fortieth_is_only_counted() -> None:
    findings = Findings()
    for line in range(1, 61):
        findings.add((line, 1), "x", "y", "z")
    with pytest.raises(Refused) as refused:
        findings.settle()
    assert len(refused.value.problems) == 41
    assert refused.value.problems[-1].found == "20 more problems from here on"


def test_a_quote_is_cut_and_cannot_turn_the_line_round() -> None:
    assert quoted("a\u202eb\x07c") == "'a\N{REPLACEMENT CHARACTER}b\N{REPLACEMENT CHARACTER}c'"
    assert len(quoted("x" * 500)) == 42


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused_and_nothing_else(data: bytes) -> None:
    try:
        assert isinstance(read(decode(data)), Mapping)
    except Refused as refused:
        assert refused.problems


@given(st.text(alphabet="{}[]:,-&*!|>'\"#%@` \nab01", max_size=60))
def test_any_scrap_of_yaml_is_read_or_refused_and_nothing_else(text: str) -> None:
    try:
        tree = read(text)
    except Refused as refused:
        assert all(problem.line >= 1 and problem.column >= 1 for problem in refused.problems)
    else:
        assert all(isinstance(key, Scalar) for key, _ in tree.items)
