"""Orders out.  Called only after the commit, so that no worker is faster than the row it answers."""

from __future__ import annotations

import logging
from typing import Any

from celery import Celery

from rubric.messages.names import QUEUE_OF, SKETCH
from rubric.messages.settings import ORDER_EXPIRES_S, SKETCH_EXPIRES_S, celery_settings
from service.orders import order_for, sketch_order
from service.records.engine import Records
from service.records.models import Job, Sketch

log = logging.getLogger(__name__)


class Sending:
    """The way to the broker."""

    def __init__(self, records: Records, broker: str) -> None:
        self.records = records
        self.broker = broker
        self.celery = Celery("kingpost", set_as_current=False)
        self.celery.conf.update(celery_settings(broker))

    def send(self, job: Job) -> bool:
        """Publish the order of a job that is committed; whether that worked.

        Never raises because of the broker and never waits long for it: where it fails the row
        simply waits for the sweep.
        """
        with self.records.read() as session:
            order = order_for(session, job)
        if order is None:
            log.warning("the subject of a job is gone", extra={"job": job.id})
            return False
        return self.publish(job.kind, order)

    def look(self, sketch: Sketch) -> bool:
        """Have a file that is still being written looked at; where that fails the student asks anew."""
        with self.records.read() as session:
            order = sketch_order(session, sketch)
        return self.publish(SKETCH, order)

    def publish(self, task: str, order: dict[str, Any]) -> bool:
        """Put one message on its queue."""
        try:
            self.celery.send_task(
                task,
                args=[order],
                queue=QUEUE_OF[task],
                expires=SKETCH_EXPIRES_S if task == SKETCH else ORDER_EXPIRES_S,
                # What Celery would copy into headers and logs for people to read holds names.
                argsrepr="(order)",
                kwargsrepr="",
            )
        except Exception as error:  # whatever a broker client may raise, the row waits
            log.warning(
                "an order could not be published and waits for the sweep",
                extra={"job": order["job"], "error": type(error).__name__},
            )
            return False
        return True
