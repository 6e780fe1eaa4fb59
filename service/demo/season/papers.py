"""What a season leaves on paper, fetched as the coordinator would."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import select

from service.demo.report import save_page
from service.demo.visitor import Visitor
from service.records.engine import Records
from service.records.models import Assignment, SchoolClass

PAGES = {
    "labels": "labels",
    "running-order": "order",
    "list": "list?part=all",
    "prediction-and-measurement": "compared",
}
FILES = {"list.csv": "list.csv", "everything.json": "contest.json"}
AWARDS = ("certificates", "booklet")


def save_contest(office: Visitor, contest: int, out: Path) -> list[str]:
    """Labels, running order, lists, board, lesson sheet, certificates and booklet; their names."""
    out.mkdir(parents=True, exist_ok=True)
    styles = [office.get(f"/static/{name}.css").decode() for name in ("paper", "contest")]
    pages = {name: f"/staff/contests/{contest}/{path}" for name, path in PAGES.items()}
    pages |= {"board": f"/contests/{contest}/live", "results": f"/contests/{contest}/results?part=all"}
    for name, path in pages.items():
        save_page(office, path, "\n".join(styles), out / f"{name}.html")
    files = FILES | {f"{what}.pdf": f"{what}.pdf" for what in AWARDS}
    for name, path in files.items():
        (out / name).write_bytes(office.get(f"/staff/contests/{contest}/{path}"))
    return [*(f"{name}.html" for name in pages), *files]


def save_classes(office: Visitor, records: Records, out: Path) -> list[str]:
    """For each class its marks and, of those that are printed, the sheets that count in one PDF."""
    out.mkdir(parents=True, exist_ok=True)
    with records.read() as session:
        found = session.execute(select(Assignment.id, SchoolClass.code).join(SchoolClass)).all()
    names = []
    for number, code in found:
        for name, path in ((f"marks-{code}.csv", "marks.csv"), (f"sheets-{code}.pdf", "sheets.pdf")):
            data = office.get(f"/staff/assignments/{number}/{path}")
            if name.endswith(".csv") or data.startswith(b"%PDF-"):
                (out / name).write_bytes(data)
                names.append(name)
    return names
