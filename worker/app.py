"""The Celery app of the workers.  All it needs from outside is KINGPOST_BROKER."""

from __future__ import annotations

import ctypes
import os
import resource
import signal
import sys
from typing import Any

from celery import Celery
from celery.signals import setup_logging, worker_process_init

from rubric.messages.settings import broker_fault, celery_settings

MOST_MEMORY_BYTES = 2 * 1024**3
"""Address space of one working process: a file that wants more gets a MemoryError, not the whole host."""

PR_SET_PDEATHSIG = 1
"""From Linux' <sys/prctl.h>."""


class BrokerMissing(Exception):
    """KINGPOST_BROKER is not set or cannot be used."""


def worker_app(broker: str | None = None) -> Celery:
    """The app for a broker; by default the one that KINGPOST_BROKER names.

    Raises
    ------
    BrokerMissing
        Where there is none.
    """
    address = os.environ.get("KINGPOST_BROKER", "") if broker is None else broker
    fault = broker_fault(address)
    if fault:
        raise BrokerMissing(
            f"KINGPOST_BROKER is {address!r}; expected the folder of the embedded broker or an address "
            "'redis://host:6379/0', the same as for the service."
        )
    app = Celery("worker", set_as_current=False)
    app.conf.update(celery_settings(address))
    return app


def run_worker(app: Celery, queues: list[str], processes: int) -> None:
    """Work on ``queues`` until the process is told to stop; what runs then is finished first."""
    app.worker_main(
        [
            "--quiet",
            "worker",
            f"--queues={','.join(queues)}",
            "--pool=prefork",
            f"--concurrency={processes}",
            f"--hostname={'-'.join(queues)}@%h",
            # Workers have nothing to tell each other.
            "--without-gossip",
            "--without-mingle",
            "--without-heartbeat",
        ]
    )


@setup_logging.connect
def _leave_logging_alone(**_: Any) -> None:
    """Celery sets up no log of its own while somebody listens here."""


@worker_process_init.connect
def _bound_process(**_: Any) -> None:
    """Bound the memory of a working process, and let it not outlive a worker that was killed."""
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY_BYTES, MOST_MEMORY_BYTES))
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGKILL)
