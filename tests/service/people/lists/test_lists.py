"""Class lists from outside: whatever a school's spreadsheet makes of them, nobody is lost and nobody doubled."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.people.lists.columns import recognised
from service.people.lists.plan import Known, plan
from service.people.lists.pupils import Pupil, pupils
from service.people.lists.tables import ListRefused, delimiter_of, read_table

NAMES = ["Ada Fennimore", "Kofi Brambleby", "Hana Kuroiwa"]


def read(text: str | bytes) -> list[tuple[str, str, str]]:
    rows = read_table(text)
    return [(p.name, p.class_code, p.number) for p in pupils(rows, recognised(rows)).pupils]


@pytest.mark.parametrize(
    "text",
    [
        "Ada Fennimore\nKofi Brambleby\nHana Kuroiwa\n",
        "Name\r\nAda Fennimore\r\nKofi Brambleby\r\n\r\nHana Kuroiwa",
        "Student;Form\nAda Fennimore;\nKofi Brambleby;\nHana Kuroiwa;\n",
        "Surname,First name\nFennimore,Ada\nBrambleby,Kofi\nKuroiwa,Hana\n",
        "First Name\tLast Name\tE-mail\nAda\tFennimore\ta@school.invalid\nKofi\tBrambleby\t\nHana\tKuroiwa\t\n",
        "Fennimore,Ada\nBrambleby,Kofi\nKuroiwa,Hana\n",
        '"Fennimore, Ada"\n"Brambleby, Kofi"\n"Kuroiwa, Hana"\n',
        '\ufeffpupil\n"  Ada   Fennimore "\nKofi Brambleby\nHana Kuroiwa\n',
    ],
)
def test_a_list_is_read_however_a_spreadsheet_wrote_it(text: str) -> None:
    assert [name for name, *_ in read(text)] == NAMES
    assert [name for name, *_ in read(text.encode())] == NAMES


def test_class_and_number_are_found_by_their_headings_in_any_order() -> None:
    assert read("Pupil ID,Class,Name\n17,8B,Ada Fennimore\n18,8B,Kofi Brambleby\n") == [
        ("Ada Fennimore", "8B", "17"),
        ("Kofi Brambleby", "8B", "18"),
    ]


def test_numbers_without_a_heading_are_found_by_their_digits() -> None:
    assert read("1,Ada Fennimore\n2,Kofi Brambleby\n")[1] == ("Kofi Brambleby", "", "2")


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_letters_of_other_alphabets_survive_the_usual_encodings(encoding: str) -> None:
    assert read("Name\nÅse Østervang\nZoë Müller\n".encode(encoding))[0][0] == "Åse Østervang"


def test_a_number_that_cannot_be_kept_leaves_its_row_out_and_is_told() -> None:
    rows = read_table("Name,No\nAda Fennimore," + "7" * 101 + "\nKofi Brambleby,2\u202e\nHana Kuroiwa,3\n")
    found = pupils(rows, recognised(rows))
    assert [one.name for one in found.pupils] == ["Hana Kuroiwa"]
    assert [said[:7] for said in found.problems] == ["Line 2:", "Line 3:"]


def test_rows_that_are_no_pupil_are_told_with_their_line() -> None:
    rows = read_table("Name,No\nAda Fennimore,1\n,2\nAda Fennimore,1\n" + "x" * 101 + ",3\nAda Fennimore,4\n")
    assert pupils(rows, recognised(rows)).problems == (
        "Line 3: no name. Write one, or take the line out.",
        "Line 4: 'Ada Fennimore' stands in line 2 already.",
        "Line 5: a name of 101 letters. Shorten it to 100.",
        "Lines 2 and 6: two pupils are called 'Ada Fennimore'. Add a letter so that you can tell them apart.",
    )


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "There is nobody in the list"),
        (b"\n ,,\n", "There is nobody in the list"),
        (b"PK\x03\x04\x00\x00", "This is no list in text"),
        (b"name\n" + b"a\n" * 5001, "more than 5000 rows"),
        (b"a," * 70, "Line 1 has 71 cells"),
        (b"x" * 401, "Line 1 has a cell of 401 letters"),
        (b"x" * 2_000_001, "larger than 2 MB"),
        (b"\xff\xfea", "This is no list in text"),
    ],
)
def test_what_is_no_list_is_refused_in_words(data: bytes, said: str) -> None:
    with pytest.raises(ListRefused, match=said):
        read_table(data)


@given(st.binary(max_size=300))
def test_no_bytes_make_a_list_fall_over(data: bytes) -> None:
    try:
        rows = read_table(data)
    except ListRefused:
        return
    assert pupils(rows, recognised(rows)).pupils is not None


def test_the_delimiter_is_whatever_makes_even_rows() -> None:
    assert delimiter_of("a;b\nc;d") == ";"
    assert delimiter_of("Reed, Nell;8B\nDoe, Ann;8B") == ";"
    assert delimiter_of("alone") == ","


def test_a_plan_finds_pupils_again_by_number_and_by_name() -> None:
    here = [
        Known(1, "Ada Fennimore", "17"),
        Known(2, "Kofi Brambleby"),
        Known(3, "Hana Kuroiwa"),
        Known(4, "Old Hand", gone=True),
    ]
    found = plan(
        [
            Pupil("Ada Fenimore", number="17"),
            Pupil("kofi brambleby", number="18"),
            Pupil("Old Hand"),
            Pupil("New Face"),
        ],
        here,
    )
    assert [pupil.name for pupil in found.new] == ["New Face"]
    assert [(known.id, pupil.name) for known, pupil in found.renamed] == [(1, "Ada Fenimore"), (2, "kofi brambleby")]
    assert [known.id for known, _ in found.back] == [4]
    assert [known.id for known in found.leavers] == [3]


def test_two_pupils_with_different_numbers_are_never_taken_for_one() -> None:
    found = plan([Pupil("Ada Fennimore", number="2")], [Known(1, "Ada Fennimore", "1")])
    assert [pupil.number for pupil in found.new] == ["2"]
    assert [known.id for known in found.leavers] == [1]


names = st.sampled_from(["Ada", "Kofi", "Hana", "Nell", "ada"])
listed = st.lists(st.builds(Pupil, names, number=st.sampled_from(["", "1", "2", "3"])), max_size=6)


@given(listed)
def test_the_same_list_brought_in_again_changes_nothing(once: list[Pupil]) -> None:
    unique = list({p.number or p.name.casefold(): p for p in once}.values())
    here = [Known(id, pupil.name, pupil.number) for id, pupil in enumerate(unique)]
    again = plan(unique, here)
    assert again.changes == 0
    assert len(again.same) == len(unique)


@given(listed, listed)
def test_everybody_is_in_exactly_one_place_of_a_plan(pupils_: list[Pupil], there: list[Pupil]) -> None:
    here = [Known(id, pupil.name, pupil.number) for id, pupil in enumerate(there)]
    found = plan(pupils_, here)
    met = {known.id for known in found.same} | {
        k.id for pairs in (found.renamed, found.numbered, found.back) for k, _ in pairs
    }
    assert met | {known.id for known in found.leavers} == {known.id for known in here}
    assert met.isdisjoint(known.id for known in found.leavers)
    assert len(met) + len(found.new) == len(pupils_)
