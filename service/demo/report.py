"""What the demo leaves behind: a result table, the sign-ins, and a folder of sheets and boards."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path

from sqlalchemy import select

from rubric.wording import figure, points
from service.demo.school import COORDINATOR, TEACHER, HandIn, classes
from service.demo.visitor import Visitor
from service.people.enrol import SignIn
from service.records.engine import Records
from service.records.models import Assignment, Contest, SchoolClass, Submission

HEADINGS = ("class", "student", "attempt", "meant to be", "state", "points", "load N", "mass g", "efficiency", "board")


def save(visitor: Visitor, records: Records, known: list[SignIn], out: Path) -> None:
    """Fetch as the coordinator would: every sheet, the marks, the leaderboards."""
    out.mkdir(parents=True, exist_ok=True)
    visitor.sign_in_staff(COORDINATOR, next(row.secret for row in known if row.name == COORDINATOR))
    style = visitor.get("/static/paper.css").decode()
    with records.read() as session:
        assignments = session.execute(select(Assignment.id, SchoolClass.code).join(SchoolClass)).all()
        contest = session.scalars(select(Contest.id)).first()
    for number, code in assignments:
        folder = out / f"sheets-{code}"
        folder.mkdir(exist_ok=True)
        with zipfile.ZipFile(io.BytesIO(visitor.get(f"/staff/assignments/{number}/sheets.zip"))) as sheets:
            for name in sheets.namelist():
                (folder / Path(name).name).write_bytes(sheets.read(name))
        (out / f"marks-{code}.csv").write_bytes(visitor.get(f"/staff/assignments/{number}/marks.csv"))
        save_page(visitor, f"/boards/assignments/{number}", style, out / f"leaderboard-{code}.html")
    save_page(visitor, f"/boards/contests/{contest}", style, out / "leaderboard-contest.html")


def save_page(visitor: Visitor, path: str, style: str, file: Path) -> None:
    """A page with its style inside, without scripts, forms and who fetched it, to be opened from the folder."""
    bare = re.compile(r"<(script|link)\b[^>]*>(</script>)?|<header.*?</header>|<form\b.*?</form>", re.DOTALL)
    page = bare.sub("", visitor.get(path).decode())
    file.write_text(page.replace("</head>", f"<style>{style}</style></head>", 1), "utf-8")


def table(records: Records) -> str:
    """One line for each hand-in."""
    meant = {(one.code, h.student, n): h.kind for one in classes() for h, n in _numbered(one.hand_ins)}
    rows: list[tuple[str, ...]] = [HEADINGS]
    with records.read() as session:
        for row in session.scalars(select(Submission).order_by(Submission.id)).all():
            key = (session.get_one(SchoolClass, row.student.class_id).code, row.student.name, row.number)
            rows.append((key[0], key[1], str(row.number), meant.get(key, ""), *_results(row)))
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
    )


def _numbered(hand_ins: tuple[HandIn, ...]) -> list[tuple[HandIn, int]]:
    seen: dict[str, int] = {}
    numbered = []
    for hand_in in hand_ins:
        seen[hand_in.student] = seen.get(hand_in.student, 0) + 1
        numbered.append((hand_in, seen[hand_in.student]))
    return numbered


def _results(row: Submission) -> tuple[str, ...]:
    found = (row.outcome or {}).get("analysis") or {}
    state = "mistakes" if row.has_mistakes else {True: "stable", False: "mechanism", None: row.state}[row.stable]
    numbers = (found.get("failure_load_N"), found.get("mass_g"), found.get("efficiency"))
    mark = f"{points(row.total)}/{points(row.out_of)}" if row.total is not None and row.out_of is not None else ""
    return (state, mark, *(figure(n) if n is not None else "" for n in numbers), "yes" if row.on_board else "")


def signed(site: str, known: list[SignIn]) -> str:
    """How to sign in as each of the three people."""
    staff = {row.name: row.secret for row in known if not row.class_code}
    lines = [
        f"Coordinator: {site}/sign-in/staff  name: {COORDINATOR}  password: {staff[COORDINATOR]}",
        f"Teacher:     {site}/sign-in/staff  name: {TEACHER}  password: {staff[TEACHER]}",
        f"Students:    {site}/sign-in  class code and three words:",
    ]
    lines += [f"  {row.class_code:<4} {row.secret:<24} {row.name}" for row in known if row.class_code]
    return "\n".join(lines)
