"""Copies found when every work is compared with every other: both corpora, by hand.

``python -m tests.load.likeness``: about two minutes.
"""

from __future__ import annotations

import time

from tests.worker.likeness.corpus import ORIGINALS, corpus, figures
from tests.worker.likeness.test_corpus import UNSEEN
from worker.likeness import suspects

SEEN = 1
"""The corpus on which the model's numbers were set."""


def main() -> None:
    """Print recall, precision and time."""
    for name, seed in (("seen", SEEN), ("unseen", UNSEEN), ("unseen", UNSEEN + 2)):
        given = corpus(seed, own=240, common=60, slight=40)
        for among, about in (("originals against all", ORIGINALS), ("all against all", None)):
            start = time.perf_counter()
            found = figures(given, suspects(given.works, about))
            print(f"{name} {seed}, {among}, {len(given.works)} works, {time.perf_counter() - start:.1f} s: {found}")


if __name__ == "__main__":
    main()
