"""A marking worker whose process is killed by some files, as a fault in a native library would do.

Run as ``python -m tests.faults.poisoned`` with KINGPOST_BROKER set.
"""

from __future__ import annotations

import base64
import os
import signal

from rubric.logs import set_up_logging
from rubric.messages.names import MARK, MARKING
from rubric.messages.orders import MarkOrder
from rubric.messages.outcomes import Marked
from worker import tasks
from worker.app import run_worker, worker_app
from worker.marker import mark

POISON = b"# poison"


def deadly(order: MarkOrder) -> Marked:
    """Mark a file, unless it is poison."""
    if base64.b64decode(order.file_base64).startswith(POISON):
        os.kill(os.getpid(), signal.SIGKILL)
    return mark(order)


if __name__ == "__main__":
    tasks.WORK[MARK] = (MarkOrder, deadly)
    set_up_logging("poisoned")
    run_worker(tasks.add_tasks(worker_app()), [MARKING], 2)
