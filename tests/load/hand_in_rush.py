"""A class of 30 hands in within seconds: upload requests, time to the last mark and to the last sheet.

The real ``kingpost serve`` in embedded mode on this machine, its own data folder, loopback only.
"""

from __future__ import annotations

import statistics
import tempfile
import threading
import time
from pathlib import Path

from service.demo import filling
from service.demo.bridges import as_yaml, girder
from service.demo.visitor import Visitor
from service.people.enrol import SignIn
from service.records.engine import Records
from tests.load.served import served

PUPILS = 30
ROUNDS = 3
MARKS_S, SHEETS_S, UPLOAD_MS = 3, 12, 50


def measure() -> list[str]:
    """Medians over a few classes, each in a data folder of its own."""
    runs = [_one_class() for _ in range(ROUNDS)]
    uploads = sorted(upload for run in runs for upload in run[0])
    p95 = 1e3 * uploads[int(0.95 * len(uploads))]
    marks, sheets = (statistics.median(run[i] for run in runs) for i in (1, 2))
    return [
        f"upload request: median {1e3 * statistics.median(uploads):.0f} ms, p95 {p95:.0f} ms (asked: {UPLOAD_MS} ms or less)",
        f"class of {PUPILS}, first upload to last mark: {marks:.1f} s (asked: {MARKS_S} s)",
        f"class of {PUPILS}, first upload to last sheet: {sheets:.1f} s (asked: {SHEETS_S} s)",
    ]


def _one_class() -> tuple[list[float], float, float]:
    with tempfile.TemporaryDirectory() as folder, served(Path(folder), PUPILS) as (site, records, known, path):
        return _hour(site, records, known, path)


def _hour(site: str, records: Records, known: list[SignIn], path: str) -> tuple[list[float], float, float]:
    visitors = _signed_in(site, known)
    for visitor in visitors:
        visitor.token(path)
    uploads: list[float] = []
    began = time.perf_counter()
    threads = [threading.Thread(target=_share, args=(visitors[i::2], i, path, uploads)) for i in range(2)]
    for thread in threads:
        thread.start()
    marked = printed = 0.0
    while not printed:
        time.sleep(0.02)
        now, count = time.perf_counter() - began, filling.progress(records)
        if not marked and count.marked == PUPILS:
            marked = now
        if count.printed == PUPILS:
            printed = now
        assert now < 120, count
    for thread in threads:
        thread.join()
    return uploads, marked, printed


def _share(visitors: list[Visitor], offset: int, path: str, uploads: list[float]) -> None:
    for number, visitor in enumerate(visitors):
        sticks = {"bottom": "square5", "top": "square5 x2", "vertical": "square3", "diagonal": "square5"}
        text = as_yaml(girder(f"Bridge {offset}-{number}", 600, 4, 100 + 3 * number + offset, **sticks))
        start = time.perf_counter()
        visitor.upload(f"{path}/attempts", path, "bridge.yaml", text.encode(), follow=False)
        uploads.append(time.perf_counter() - start)


def _signed_in(site: str, known: list[SignIn]) -> list[Visitor]:
    visitors = [Visitor(site) for _ in known]
    for visitor, row in zip(visitors, known, strict=True):
        visitor.sign_in(row.class_code, row.secret)
    time.sleep(2)  # the workers have started too
    return visitors


if __name__ == "__main__":
    print("\n".join(measure()))
