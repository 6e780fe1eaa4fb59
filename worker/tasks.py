"""The tasks: each says that it began, calls one plain function, and sends back what that returns."""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import Any

from celery import Celery

from rubric.language import speaking
from rubric.messages.names import (
    AWARD,
    COMPARE,
    DRAW,
    MARK,
    PLAN,
    PRINT,
    QUEUE_OF,
    RECORD,
    REPORT,
    SKETCH,
    STARTED,
    TRY,
)
from rubric.messages.orders import (
    AwardOrder,
    CompareOrder,
    DrawOrder,
    MarkOrder,
    Order,
    PlanOrder,
    PrintOrder,
    SketchOrder,
)
from rubric.messages.outcomes import Outcome
from rubric.messages.report import ReportOrder

log = logging.getLogger(__name__)


def mark(order: MarkOrder) -> Outcome:
    """Read, solve and mark one file."""
    from worker.marker import mark

    return mark(order)


def draw(order: DrawOrder) -> Outcome:
    """Draw the envelope of a brief."""
    from worker.marker import draw

    return draw(order)


def compare(order: CompareOrder) -> Outcome:
    """Find works that are alike."""
    from worker.likeness import compare

    return compare(order)


def sketch(order: SketchOrder) -> Outcome:
    """Look at a file that is still being written."""
    from worker.sketching import sketch

    return sketch(order)


def print_sheet(order: PrintOrder) -> Outcome:
    """Set one sheet.  Imported here and not above: a worker that only marks does without the typesetter."""
    from worker.feedback.sheets import print_sheet

    return print_sheet(order)


def print_plan(order: PlanOrder) -> Outcome:
    """Set one building plan."""
    from worker.feedback.plan.printing import print_plan

    return print_plan(order)


def print_award(order: AwardOrder) -> Outcome:
    """Set the certificates or the booklet of a contest."""
    from worker.season.printing import print_award

    return print_award(order)


def print_report(order: ReportOrder) -> Outcome:
    """Set the report of a class."""
    from worker.feedback.report import print_report

    return print_report(order)


_STUBBORN: dict[str, Any] = {
    "retry": True,
    "retry_policy": {"max_retries": 4, "interval_start": 0.2, "interval_step": 0.5, "interval_max": 2},
}

WORK: dict[str, tuple[type[Order], Callable[[Any], Outcome]]] = {
    MARK: (MarkOrder, mark),
    TRY: (MarkOrder, mark),
    DRAW: (DrawOrder, draw),
    COMPARE: (CompareOrder, compare),
    PRINT: (PrintOrder, print_sheet),
    PLAN: (PlanOrder, print_plan),
    AWARD: (AwardOrder, print_award),
    REPORT: (ReportOrder, print_report),
    SKETCH: (SketchOrder, sketch),
}


def add_tasks(app: Celery) -> Celery:
    """Give the app its tasks."""

    def send(task: str, *values: Any) -> None:
        # Nobody waits here as for a web page, so a broker that stumbles is tried again for a while.
        app.send_task(task, args=list(values), queue=QUEUE_OF[task], argsrepr="(outcome)", kwargsrepr="", **_STUBBORN)

    for name in WORK:

        def work(message: dict[str, Any], name: str = name) -> None:
            do(name, message, send)

        app.task(name=name)(work)
    return app


def do(task: str, message: dict[str, Any], send: Callable[..., None]) -> None:
    """Carry out one order.

    What fails here is logged by its ids alone and ends: the row still waits, the sweep sends the
    order again, and after three starts a person is told.
    """
    shape, function = WORK[task]
    try:
        order = shape.model_validate(message)
        if task != SKETCH:  # nobody counts how often a sketch was begun: it is not sent again
            send(STARTED, order.job, order.attempt, order.sending)
        with speaking(order.language):
            outcome = function(order)
        send(RECORD, outcome.model_dump(mode="json"))
    except Exception as error:
        job = message.get("job") if isinstance(message, dict) else None
        log.error("an order could not be carried out: %s", _where(error), extra={"job": job, "task": task})


def _where(error: BaseException) -> str:
    """The error's kind and its place in our code, without its text: that may quote a student's file."""
    trace, place = error.__traceback__, ""
    while trace is not None:
        code = trace.tb_frame.f_code
        place = f"{code.co_filename.rpartition('/')[2]}:{trace.tb_lineno} {code.co_name}"
        trace = trace.tb_next
    return f"{type(error).__name__} at {place}"
