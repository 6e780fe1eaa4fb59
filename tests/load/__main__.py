"""All figures in one run: ``.venv/bin/python -m tests.load``.  Nothing else should run meanwhile."""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command does; before anything imports NumPy

from tests.load import (
    advice_speed,
    chance_speed,
    hand_in_rush,
    marking_speed,
    sheet_ratio,
    solve_start,
    statics_ratio,
    statics_speed,
)

for part in (
    statics_ratio,
    statics_speed,
    chance_speed,
    advice_speed,
    marking_speed,
    sheet_ratio,
    solve_start,
    hand_in_rush,
):
    print("\n".join(part.measure()), flush=True)
