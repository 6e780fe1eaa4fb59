"""All figures in one run: ``.venv/bin/python -m tests.load``.  Nothing else should run meanwhile."""

from __future__ import annotations

from tests.load import class_hour, sheet_ratio, solve_start, statics_ratio

for part in (statics_ratio, sheet_ratio, solve_start, class_hour):
    print("\n".join(part.measure()), flush=True)
