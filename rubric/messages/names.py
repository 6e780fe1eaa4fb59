"""Names of queues and tasks: constants without dependencies, so that the two sides agree."""

MARKING = "marking"
PRINTING = "printing"
OUTCOMES = "outcomes"
QUEUES = (MARKING, PRINTING, OUTCOMES)

MARK = "worker.mark"
DRAW = "worker.draw"
PRINT = "worker.print"
PLAN = "worker.plan"
COMPARE = "worker.compare"
TRY = "worker.try"
"""Like MARK, for a brief and a rubric that a teacher tries out: the outcome changes no mark."""

STARTED = "recorder.started"
RECORD = "recorder.record"

QUEUE_OF = {
    MARK: MARKING,
    DRAW: MARKING,
    TRY: MARKING,
    COMPARE: MARKING,
    PRINT: PRINTING,
    PLAN: PRINTING,
    STARTED: OUTCOMES,
    RECORD: OUTCOMES,
}
"""Which queue each task travels on."""
