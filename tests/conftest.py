"""What holds for all tests."""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command does; before anything imports NumPy

from hypothesis import settings

# A busy machine is no failure; a run of CI must be the same each time, so there the examples are fixed.
settings.register_profile("here", deadline=None)
settings.register_profile("fixed", deadline=None, derandomize=True)
settings.load_profile("fixed" if os.environ.get("CI") else "here")
