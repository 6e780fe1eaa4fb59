"""Reads what pip-audit found about a list: ``python -m deploy.audited LIST FOUND.json``.

Ends with 0 where every package was asked about and none has a known weakness, with 1 where one has, else with 4.
"""

from __future__ import annotations

import datetime
import json
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from packaging.utils import canonicalize_name

from deploy.dependencies import AUDITED, digest, pins

FINE, WEAK, NOT_ASKED = 0, 1, 4


def judged(wanted: Iterable[str], found: Mapping[str, Any]) -> tuple[int, list[str]]:
    """The verdict and its sentences: a package that was skipped, or is missing, was not asked about."""
    rows = {canonicalize_name(one["name"]): one for one in found.get("dependencies", ())}
    weak = [
        f"{name} {row['version']}: {', '.join(each['id'] for each in row['vulns'])}"
        f", mended in {', '.join(v for each in row['vulns'] for v in each['fix_versions']) or 'no version yet'}."
        for name, row in sorted(rows.items())
        if row.get("vulns")
    ]
    unasked = [name for name in wanted if "vulns" not in rows.get(name, {})]
    said = weak + ([f"Not asked about: {len(unasked)} packages, such as {unasked[0]}."] if unasked else [])
    return (WEAK if weak else NOT_ASKED if unasked else FINE), said


def main() -> int:
    """Say it, and keep the day where all is well."""
    text, path = Path(sys.argv[1]).read_text(), Path(sys.argv[2])
    try:
        found = json.loads(path.read_text())
    except (OSError, ValueError):
        found = {}
    verdict, said = judged(pins(text), found)
    print("\n".join(said or ["No known weakness."]))
    if verdict == FINE:
        AUDITED.write_text(f"{digest()} {datetime.datetime.now(datetime.UTC):%Y-%m-%d}\n")
    return verdict


if __name__ == "__main__":
    sys.exit(main())
