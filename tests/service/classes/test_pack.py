"""Many sheets as one PDF: pages, bookmarks and tags read back."""

from __future__ import annotations

import subprocess
from io import BytesIO
from time import perf_counter

import pikepdf
import pytest
from weasyprint import HTML

from service.classes.pack import pack


def sheet(name: str, pages: int) -> bytes:
    body = "".join(f"<section><h1>{name} {page}</h1><p>Words.</p></section>" for page in range(pages))
    html = f"<html lang=en><title>{name}</title><style>section {{ break-after: page }}</style>{body}</html>"
    return HTML(string=html).write_pdf(pdf_variant="pdf/ua-1", pdf_tags=True) or b""


@pytest.fixture(scope="module")
def whole() -> bytes:
    return pack(
        "Sheets of 8B", [("Ada Fern", sheet("Ada", 3)), ("Ben Holt", sheet("Ben", 2)), ("Cleo", sheet("Cleo", 1))]
    )


def opened(data: bytes) -> pikepdf.Pdf:
    return pikepdf.open(BytesIO(data))


def test_each_sheet_begins_on_a_right_hand_page(whole: bytes) -> None:
    pdf = opened(whole)
    assert len(pdf.pages) == 4 + 2 + 2
    with pdf.open_outline() as outline:
        marks = [(item.title, pdf.pages.index(pikepdf.Page(item.destination[0]))) for item in outline.root]
    assert marks == [("Ada Fern", 0), ("Ben Holt", 4), ("Cleo", 6)]


def test_the_tags_of_every_sheet_are_read_in_order(whole: bytes, tmp_path_factory: pytest.TempPathFactory) -> None:
    file = tmp_path_factory.mktemp("pack") / "pack.pdf"
    file.write_bytes(whole)
    done = subprocess.run(["pdfinfo", "-struct-text", str(file)], capture_output=True, text=True, check=True)
    said = [line.strip().strip('"') for line in done.stdout.splitlines() if '"' in line]
    assert [word for word in said if word != "Words."] == ["Ada 0", "Ada 1", "Ada 2", "Ben 0", "Ben 1", "Cleo 0"]
    assert "Warning" not in done.stderr
    assert done.stdout.count("H1 (block)") == 6


def test_no_two_pages_share_a_number_in_the_tree_of_tags(whole: bytes) -> None:
    pdf = opened(whole)
    numbers = [int(page.obj.StructParents) for page in pdf.pages if "/StructParents" in page.obj]
    listed = [int(number) for number in list(pdf.Root.StructTreeRoot.ParentTree.Nums)[0::2]]
    assert len(set(numbers)) == len(numbers) == 6
    assert set(numbers) <= set(listed)
    assert len(set(listed)) == len(listed)


def test_the_whole_has_a_language_and_a_title(whole: bytes) -> None:
    pdf = opened(whole)
    assert str(pdf.Root.Lang) == "en"
    assert bool(pdf.Root.MarkInfo.Marked)
    with pdf.open_metadata() as metadata:
        assert metadata["dc:title"] == "Sheets of 8B"


def test_what_is_no_pdf_is_left_out() -> None:
    assert len(opened(pack("One", [("Broken", b"%PDF-1.7 no more"), ("Ada", sheet("Ada", 1))])).pages) == 2


def test_thirty_sheets_are_joined_within_two_seconds() -> None:
    one = sheet("Ada", 4)
    began = perf_counter()
    data = pack("Thirty", [(f"Student {number}", one) for number in range(30)])
    assert perf_counter() - began < 2
    assert len(opened(data).pages) == 120
