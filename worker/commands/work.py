"""``kingpost work``: run a worker."""

from __future__ import annotations

import argparse
import sys
from importlib import import_module

from rubric.logs import set_up_logging
from rubric.messages.names import MARKING, PRINTING, SKETCHING

QUEUES_OF = {MARKING: [MARKING], PRINTING: [PRINTING], SKETCHING: [SKETCHING], "both": [MARKING, PRINTING]}
SOLVERS = ("scipy.optimize", "scipy.sparse")
"""Imported late elsewhere, so that a command that does without them starts at once."""
MODULES_OF = {
    MARKING: ("worker.marker", "worker.likeness", *SOLVERS),
    PRINTING: (
        "worker.feedback.sheets",
        "worker.feedback.plan.printing",
        "worker.feedback.report",
        "worker.season.printing",
        *SOLVERS,
    ),
    SKETCHING: ("worker.sketching",),
}


def command(arguments: list[str]) -> int:
    """Run a worker: it marks, prints or looks at drafts, and needs the broker alone."""
    parser = argparse.ArgumentParser("kingpost work", description=command.__doc__)
    parser.add_argument("queue", choices=sorted(QUEUES_OF), help="what to work on")
    parser.add_argument("--processes", type=int, default=2, metavar="N", help="how many at once (default: 2)")
    options = parser.parse_args(arguments)
    if not 1 <= options.processes <= 64:
        parser.error(f"argument --processes: found {options.processes}; expected 1 to 64")
    from worker.app import BrokerMissing, run_worker, worker_app
    from worker.tasks import add_tasks

    try:
        app = add_tasks(worker_app())
    except BrokerMissing as missing:
        print(f"kingpost work: {missing}", file=sys.stderr)  # noqa: T201
        return 2
    set_up_logging(options.queue)
    queues = QUEUES_OF[options.queue]
    load(queues)
    run_worker(app, queues, options.processes)
    return 0


def load(queues: list[str]) -> None:
    """Import what the queues need, once and before processes are forked off, which then share it.

    An import that a time limit breaks off leaves a half module behind, and with it a process that fails at
    each order from then on.
    """
    for queue in queues:
        for module in MODULES_OF[queue]:
            import_module(module)
