"""A zip of files named after students: whose each is, and what is left out."""

from __future__ import annotations

import io
import zipfile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.classes.bundle import (
    MOST_FILES,
    BundleRefused,
    Pupil,
    packed_again,
    read_again,
    read_bundle,
    whose,
)
from tests.service.site import GIRDER

ADA, BEN = Pupil(11, "Ada Fern"), Pupil(12, "Ben Holt", "4711")
ELODIE, SOREN = Pupil(13, "Élodie d'Arc"), Pupil(14, "Søren Weiß-Nilsson")
BROOK = Pupil(15, "Ada Fern Brook")
CLASS = [ADA, BEN, ELODIE, SOREN]


def zipped(files: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, data in files.items():
            packed.writestr(name, data)
    return out.getvalue()


@pytest.mark.parametrize(
    ("path", "owner"),
    [
        ("Ada Fern.yaml", ADA),
        ("FERN_ada.csv", ADA),
        ("Fern, Ada.yaml", ADA),
        ("class 8b/ada-fern-bridge-2.yaml", ADA),
        ("Ada Fern/bridge.yaml", ADA),
        ("4711.yaml", BEN),
        ("elodie darc.yaml", ELODIE),
        ("E\u0301LODIE D\u2019ARC.yaml", ELODIE),
        ("soren weiss nilsson.yaml", SOREN),
        ("..\\..\\Ben Holt.yaml", BEN),
    ],
)
def test_a_name_counts_whatever_its_case_accents_and_order(path: str, owner: Pupil) -> None:
    assert whose(path, CLASS) == [owner]


@pytest.mark.parametrize("path", ["Ada.yaml", "bridge.yaml", ".yaml", "fernada.yaml", "47.yaml", "/", ""])
def test_half_a_name_is_nobodys(path: str) -> None:
    assert whose(path, CLASS) == []


def test_the_whole_name_goes_before_a_part_and_the_longer_before_the_shorter() -> None:
    both = [ADA, BROOK]
    assert whose("ada fern.yaml", both) == [ADA]
    assert whose("brook ada fern.yaml", both) == [BROOK]
    assert whose("ada fern brook bridge.yaml", both) == [BROOK]


def test_two_students_of_one_name_are_told_apart_by_nobody() -> None:
    twins = [ADA, Pupil(20, "Ada  FERN")]
    read = read_bundle(zipped({"ada fern.yaml": GIRDER}), twins)
    assert read.given == ()
    assert read.left[0].why == "it may be that of Ada Fern or Ada  FERN"


@pytest.mark.parametrize(
    ("name", "meant"),
    [
        ("holt.yaml", "; perhaps Ben Holt"),
        ("Ada Frn.yaml", "; perhaps Ada Fern"),
        ("Benn Hollt.csv", "; perhaps Ben Holt"),
        ("Zoe.yaml", ""),
        ("bridge final.yaml", ""),
    ],
)
def test_a_file_that_names_nobody_is_left_out_with_whom_it_may_mean(name: str, meant: str) -> None:
    read = read_bundle(zipped({name: GIRDER}), CLASS)
    assert (read.given, [one.why for one in read.left]) == ((), [f"no student of the class is called so{meant}"])


def test_every_file_is_either_given_or_left_out_with_its_reason() -> None:
    files = {
        "x/Ada Fern.yaml": GIRDER,
        "Ben Holt.yaml": b" \n",
        "elodie d'arc.yaml": b"x" * 70_000,
        "Søren Weiß-Nilsson.yaml": GIRDER,
        "soren weiss nilsson 2.yaml": GIRDER,
        "notes.txt": b"hello",
        "__MACOSX/._Ada Fern.yaml": b"junk",
    }
    read = read_bundle(zipped(files), CLASS)
    assert [(one.pupil, one.file_name) for one in read.given] == [(ADA, "Ada Fern.yaml")]
    assert sorted(f"{one.file_name}: {one.why}" for one in read.left) == [
        "._Ada Fern.yaml: a note of the computer that packed the zip, no truss file",
        "Ben Holt.yaml: there is nothing in it",
        "Søren Weiß-Nilsson.yaml: Søren Weiß-Nilsson has more than one file in the zip",
        "elodie d'arc.yaml: over 64 KB, which no truss file has",
        "notes.txt: no student of the class is called so",
        "soren weiss nilsson 2.yaml: Søren Weiß-Nilsson has more than one file in the zip",
    ]


def test_a_bomb_is_refused_before_it_is_unpacked() -> None:
    bomb = {f"{number}.yaml": b"\0" * 20_000_000 for number in range(2)} | {
        f"many {number}.yaml": b"\0" * 70_000 for number in range(80)
    }
    with pytest.raises(BundleRefused, match="over 4 MB in all"):
        read_bundle(zipped(bomb), CLASS)
    with pytest.raises(BundleRefused, match="401 files; 400 are the most"):
        read_bundle(zipped({f"{number}.yaml": b"x" for number in range(MOST_FILES + 1)}), CLASS)


@given(
    st.binary(max_size=400) | st.binary(max_size=200).map(lambda tail: zipped({"Ada Fern.yaml": GIRDER})[:-40] + tail)
)
def test_what_is_no_zip_is_told_and_never_a_crash(data: bytes) -> None:
    try:
        read_bundle(data, CLASS)
    except BundleRefused as refused:
        assert "zip" in str(refused)


def test_a_zip_with_a_password_is_refused() -> None:
    data = bytearray(zipped({"Ada Fern.yaml": GIRDER}))
    for mark, place in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        data[data.index(mark) + place] |= 1
    with pytest.raises(BundleRefused, match="without a password"):
        read_bundle(bytes(data), CLASS)


def test_a_name_in_utf8_that_does_not_say_so_is_read() -> None:
    data = zipped({"Elodie d'Arc.yaml": GIRDER}).replace(b"Elodie d'Arc.yaml", "Élodie dArc.yaml".encode())
    assert [one.pupil for one in read_bundle(data, CLASS).given] == [ELODIE]


def test_what_was_shown_comes_back_the_same() -> None:
    read = read_bundle(zipped({"4711.yaml": GIRDER, "11.yaml": b"x", "ada fern.yaml": b"y"}), CLASS)
    again = read_again(packed_again(read), CLASS)
    assert again.given == read.given
    assert again.digest == read.digest
    with pytest.raises(BundleRefused, match="not what was shown"):
        read_again(zipped({"99/x.yaml": GIRDER}), CLASS)
