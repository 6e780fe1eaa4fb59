"""The recorder as a Celery worker: one process, one thing at a time."""

from __future__ import annotations

from typing import Any

from celery import Celery
from celery.signals import setup_logging

from rubric.messages.names import OUTCOMES, RECORD, STARTED
from rubric.messages.settings import celery_settings
from service.recorder import intake
from service.records.engine import Records
from service.sending import Sending


def recorder_app(records: Records, broker: str) -> Celery:
    """The Celery app whose worker records what comes back."""
    app = Celery("recorder", set_as_current=False)
    app.conf.update(celery_settings(broker))
    sending = Sending(records, broker)

    @app.task(name=STARTED)
    def started(job: Any, attempt: Any, sending: Any = 1) -> None:
        intake.started(records, job, attempt, sending)

    @app.task(name=RECORD)
    def take_in(message: Any) -> None:
        intake.take_in(records, sending, message)

    return app


def run_recorder(app: Celery) -> None:
    """Take outcomes in until the process is told to stop."""
    app.worker_main(
        [
            "--quiet",
            "worker",
            f"--queues={OUTCOMES}",
            "--pool=solo",
            "--hostname=recorder@%h",
            "--without-gossip",
            "--without-mingle",
            "--without-heartbeat",
        ]
    )


@setup_logging.connect
def _leave_logging_alone(**_: Any) -> None:
    """Celery sets up no log of its own while somebody listens here."""
