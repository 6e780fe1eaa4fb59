"""The class-list files of a OneRoster CSV 1.2 zip.  Headings: 1EdTech, OneRoster 1.2 CSV binding, users, classes, enrollments."""

from __future__ import annotations

import zipfile
from io import BytesIO

import pytest

from service.people.lists import oneroster
from service.people.lists.oneroster import read_zip
from service.people.lists.pupils import Pupil
from service.people.lists.tables import ListRefused

FILES = {
    "manifest.csv": "propertyName,value\nmanifest.version,1.0\noneroster.version,1.2\n",
    "classes.csv": "sourcedId,status,dateLastModified,title,grades,courseSourcedId,classCode\n"
    "c1,active,,Technology 8B,,,8B\nc2,tobedeleted,,Old,,,\nc3,active,,Nobody here,,,\n",
    "users.csv": "sourcedId,status,enabledUser,username,givenName,familyName,preferredGivenName\n"
    "u1,active,true,ada,Adelaide,Fennimore,Ada\nu2,,true,kofi,Kofi,Brambleby,\nu3,tobedeleted,true,x,Gone,Away,\n"
    "u4,active,true,t,Tomas,Quillfeather,\n",
    "enrollments.csv": "sourcedId,status,classSourcedId,schoolSourcedId,userSourcedId,role\n"
    "e1,active,c1,s,u1,student\ne2,active,c1,s,u2,student\ne3,active,c1,s,u3,student\ne4,active,c1,s,u4,teacher\n"
    "e5,active,c2,s,u1,student\ne6,tobedeleted,c3,s,u1,student\n",
}


def packed(files: dict[str, str]) -> bytes:
    held = BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as file:
        for name, text in files.items():
            file.writestr(name, text)
    return held.getvalue()


def test_active_students_of_active_classes_are_read() -> None:
    (found,) = read_zip(packed(FILES))
    assert (found.key, found.title, found.code) == ("c1", "Technology 8B", "8B")
    assert found.pupils == (Pupil("Ada Fennimore", number="u1"), Pupil("Kofi Brambleby", number="u2"))


def test_columns_are_found_by_name_wherever_they_stand() -> None:
    users = "familyName,sourcedId,givenName\nFennimore,u1,Ada\n"
    assert read_zip(packed({**FILES, "users.csv": users}))[0].pupils == (Pupil("Ada Fennimore", number="u1"),)


@pytest.mark.parametrize(
    ("files", "said"),
    [
        ({"users.csv": ""}, "no classes.csv and enrollments.csv at its top"),
        ({**FILES, "users.csv": "sourcedId\nu1\n"}, "users.csv has no column givenName and familyName"),
        (
            {**FILES, "users.csv": "sourcedId,givenName,familyName\n" + "u,a,b\n" * 4_000_000},
            "users.csv is larger than",
        ),
    ],
)
def test_a_zip_that_lacks_something_is_refused_in_words(files: dict[str, str], said: str) -> None:
    with pytest.raises(ListRefused, match=said):
        read_zip(packed(files))


def test_what_is_no_zip_is_refused() -> None:
    for data in (b"", b"PK\x03\x04broken", packed(FILES)[:-30]):
        with pytest.raises(ListRefused, match="cannot be read"):
            read_zip(data)


def test_a_bomb_is_never_unpacked_beyond_its_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(oneroster, "MOST_BYTES", 1000)
    with pytest.raises(ListRefused, match="larger"):
        read_zip(packed({**FILES, "users.csv": FILES["users.csv"] + "u9,,,,,," * 1000}))
