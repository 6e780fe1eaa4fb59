"""The file of due dates: RFC 5545, sections 3.1 (lines), 3.3.11 (text) and 3.6.1 (events)."""

from __future__ import annotations

from datetime import datetime

from hypothesis import given
from hypothesis import strategies as st

from service.calendar_file import Event, calendar

STAMP = datetime(2027, 1, 2, 3, 4, 5)


def of(summary: str) -> bytes:
    return calendar([Event("a1@kingpost.invalid", datetime(2027, 3, 15, 15, 0), summary, "One, two;\nthree")], STAMP)


def unfolded(data: bytes) -> list[str]:
    return data.replace(b"\r\n ", b"").decode().split("\r\n")


def test_the_file_has_the_lines_that_the_standard_asks_for() -> None:
    assert unfolded(of("Bridge")) == [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Kingpost//Due dates//EN",
        "CALSCALE:GREGORIAN",
        "BEGIN:VEVENT",
        "UID:a1@kingpost.invalid",
        "DTSTAMP:20270102T030405Z",
        "DTSTART:20270315T150000Z",
        "SUMMARY:Bridge",
        "DESCRIPTION:One\\, two\\;\\nthree",
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
        "END:VCALENDAR",
        "",
    ]


@given(st.text())
def test_no_line_is_longer_than_75_octets_or_cut_within_a_character(title: str) -> None:
    data = of(title)
    assert b"\n" not in data.replace(b"\r\n", b"")
    for line in data.split(b"\r\n"):
        assert len(line) <= 75
        line.decode()


@given(st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), max_size=300))
def test_a_long_title_comes_back_whole(title: str) -> None:
    escaped = title.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    assert f"SUMMARY:{escaped}" in unfolded(of(title))


def test_a_title_cannot_begin_a_line_of_its_own() -> None:
    assert unfolded(of("x\r\nEND:VCALENDAR")).count("END:VCALENDAR") == 1
