"""Names of queues and tasks: constants without dependencies, so that the two sides agree."""

MARKING = "marking"
PRINTING = "printing"
SKETCHING = "sketching"
"""Apart from marking, so that no mark waits for those who still type."""
OUTCOMES = "outcomes"
QUEUES = (MARKING, PRINTING, SKETCHING, OUTCOMES)

MARK = "worker.mark"
DRAW = "worker.draw"
PRINT = "worker.print"
PLAN = "worker.plan"
AWARD = "worker.award"
REPORT = "worker.report"
COMPARE = "worker.compare"
TRY = "worker.try"
"""Like MARK, for a brief and a rubric that a teacher tries out: the outcome changes no mark."""

SKETCH = "worker.sketch"
"""Looks at a file that is still being written; nothing is marked, and nothing is sent again."""

STARTED = "recorder.started"
RECORD = "recorder.record"

QUEUE_OF = {
    MARK: MARKING,
    DRAW: MARKING,
    TRY: MARKING,
    COMPARE: MARKING,
    PRINT: PRINTING,
    PLAN: PRINTING,
    AWARD: PRINTING,
    REPORT: PRINTING,
    SKETCH: SKETCHING,
    STARTED: OUTCOMES,
    RECORD: OUTCOMES,
}
"""Which queue each task travels on."""
