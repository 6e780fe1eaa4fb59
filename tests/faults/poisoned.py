"""A marking worker that some files kill, as a fault in a native library would, and some hold for ever.

Run as ``python -m tests.faults.poisoned`` with KINGPOST_BROKER set.
"""

from __future__ import annotations

import base64
import os
import signal
import time
from contextlib import suppress

from celery.exceptions import SoftTimeLimitExceeded

from rubric.logs import set_up_logging
from rubric.messages.names import MARK, MARKING
from rubric.messages.orders import MarkOrder
from rubric.messages.outcomes import Marked
from worker import tasks
from worker.app import run_worker, worker_app
from worker.commands.work import load
from worker.marker import mark

POISON, ENDLESS = b"# poison", b"# endless"

SOFT_S, HARD_S = 4, 6
"""Shorter limits than those of the product, so that nobody waits for them; far above what an innocent file takes."""


def deadly(order: MarkOrder) -> Marked:
    """Mark a file, unless it is poison or endless."""
    file = base64.b64decode(order.file_base64)
    if file.startswith(POISON):
        os.kill(os.getpid(), signal.SIGKILL)
    while file.startswith(ENDLESS):
        with suppress(SoftTimeLimitExceeded):  # only the hard limit ends this
            time.sleep(0.1)
    return mark(order)


if __name__ == "__main__":
    tasks.WORK[MARK] = (MarkOrder, deadly)
    set_up_logging("poisoned")
    load([MARKING])
    app = worker_app()
    app.conf.task_annotations = {MARK: {"soft_time_limit": SOFT_S, "time_limit": HARD_S}}
    run_worker(tasks.add_tasks(app), [MARKING], 2)
