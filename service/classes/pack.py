"""Many sheets as one PDF to print two-sided: each begins on a right-hand page and has a bookmark.

The tags of every sheet are kept, so that the whole can be read aloud like a single sheet.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, OutlineItem


@dataclass
class _Tags:
    """What the pages of all sheets say of their structure."""

    kids: list[Any] = field(default_factory=list)
    numbers: list[Any] = field(default_factory=list)
    next: int = 0


def pack(title: str, sheets: Iterable[tuple[str, bytes]]) -> bytes:
    """One PDF of (bookmark, PDF) pairs, in their order; a blank page follows a sheet of an odd number of pages.

    What is no PDF, which no worker of ours sends, is left out.
    """
    whole, tags, bookmarks = pikepdf.new(), _Tags(), []
    opened = []  # a page that was taken over still reads from the file it came from
    for said, data in sheets:
        try:
            sheet = pikepdf.open(BytesIO(data))
        except pikepdf.PdfError:
            continue
        opened.append(sheet)
        bookmarks.append(OutlineItem(said, len(whole.pages)))
        _append(whole, sheet, tags)
        if len(whole.pages) % 2:
            last = whole.pages[-1]
            whole.add_blank_page(page_size=(last.mediabox[2], last.mediabox[3]))
    with whole.open_outline() as outline:
        outline.root.extend(bookmarks)
    _describe(whole, title, tags)
    out = BytesIO()
    whole.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def _append(whole: pikepdf.Pdf, sheet: pikepdf.Pdf, tags: _Tags) -> None:
    """The pages of a sheet, and its tags with numbers that follow those before."""
    first = len(whole.pages)
    whole.pages.extend(sheet.pages)
    root = sheet.Root.get("/StructTreeRoot")
    if root is None:
        return
    for page in whole.pages[first:]:
        _shift(page.obj, "/StructParents", tags.next)
        for note in page.obj.get("/Annots", Array()):
            _shift(note, "/StructParent", tags.next)
    parents = whole.copy_foreign(sheet.make_indirect(root.ParentTree.Nums))
    numbers = [int(number) for number in parents[0::2]]
    for number, owner in zip(numbers, parents[1::2], strict=True):
        tags.numbers.extend((number + tags.next, owner))
    kids = root.K if isinstance(root.K, Array) else Array([root.K])
    tags.kids.extend(whole.copy_foreign(sheet.make_indirect(kids)))
    tags.next += max(numbers, default=-1) + 1


def _shift(thing: Any, key: str, by: int) -> None:
    if key in thing:
        thing[key] = int(thing[key]) + by


def _describe(whole: pikepdf.Pdf, title: str, tags: _Tags) -> None:
    """Language, title and the tree of tags."""
    whole.Root.Lang = pikepdf.String("en")
    whole.Root.ViewerPreferences = Dictionary(DisplayDocTitle=True)
    whole.Root.PageMode = Name.UseOutlines
    with whole.open_metadata() as metadata:
        metadata["dc:title"] = title
    if tags.kids:
        tree = whole.make_indirect(Dictionary(Type=Name.StructTreeRoot))
        whole_thing = whole.make_indirect(Dictionary(Type=Name.StructElem, S=Name.Document, P=tree, K=Array(tags.kids)))
        tree.K = Array([whole_thing])
        tree.ParentTree = whole.make_indirect(Dictionary(Nums=Array(tags.numbers)))
        tree.ParentTreeNextKey = tags.next
        for kid in tags.kids:
            kid.P, kid.S = whole_thing, Name.Part
        whole.Root.StructTreeRoot = tree
        whole.Root.MarkInfo = Dictionary(Marked=True)
