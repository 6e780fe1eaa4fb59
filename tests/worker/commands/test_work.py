"""``kingpost work``: what a worker has before it forks."""

from __future__ import annotations

import base64
import json
import subprocess
import sys

import pytest

from rubric.messages.names import DRAW, MARK, PLAN, PRINT, QUEUE_OF, SKETCH
from rubric.messages.orders import DrawOrder, MarkOrder, Order, PlanOrder, PrintOrder, SketchOrder
from tests import trusses
from tests.service import rows
from tests.worker.feedback import samples

FILE = base64.b64encode(rows.TRUSS).decode()
OUTCOME = samples.marked(trusses.warren(7, 85, 90, 15))
HEAD, BRIEF = samples.HEAD, samples.BRIEF
assert OUTCOME.analysis

ORDERS: dict[str, Order] = {
    MARK: MarkOrder(job=1, attempt="t", file_name="a.yaml", file_base64=FILE, brief=rows.BRIEF, rubric=rows.RUBRIC),
    DRAW: DrawOrder(job=1, attempt="t", brief=rows.BRIEF),
    PRINT: PrintOrder(job=1, attempt="t", head=HEAD, brief=BRIEF, outcome=OUTCOME),
    PLAN: PlanOrder(job=1, attempt="t", head=HEAD, brief=BRIEF, title="Girder", analysis=OUTCOME.analysis),
    SKETCH: SketchOrder(job=1, attempt="t", file_base64=FILE, brief=rows.BRIEF),
}

SCRIPT = """\
import json, sys
from worker.commands.work import load
from worker.tasks import WORK
load([sys.argv[1]])
before = set(sys.modules)
shape, function = WORK[sys.argv[2]]
function(shape.model_validate_json(sys.stdin.read()))
print(json.dumps(sorted(set(sys.modules) - before)))
"""


@pytest.mark.parametrize("task", sorted(ORDERS))
def test_a_worker_imports_nothing_of_weight_once_it_works(task: str) -> None:
    late = subprocess.run(
        [sys.executable, "-c", SCRIPT, QUEUE_OF[task], task],
        input=ORDERS[task].model_dump_json(),
        capture_output=True,
        check=True,
        text=True,
    ).stdout
    heavy = ("worker.", "rubric.", "numpy.", "scipy.", "weasyprint.", "jinja2.")
    assert not [name for name in json.loads(late) if name.startswith(heavy)]
