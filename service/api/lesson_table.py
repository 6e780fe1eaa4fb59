"""Operations on what a class's work shows, and on texts that are checked."""

from __future__ import annotations

from service.api import lesson_shapes
from service.api.operation import Operation
from service.api.tokens import READ_MARKS, RUN_CONTESTS, SET_WORK

LESSONS = (
    Operation(
        "get",
        "/assignments/{assignment_id}/insight",
        "insight",
        "What the class's work shows",
        lesson_shapes.Insight,
        READ_MARKS,
    ),
    Operation(
        "get",
        "/contests/{contest_id}/prediction",
        "prediction",
        "Predicted beside measured loads, and what they say; aliases alone",
        lesson_shapes.Prediction,
        RUN_CONTESTS,
        refusals=(409,),
    ),
    Operation(
        "post",
        "/check",
        "check_brief",
        "Check a brief and a rubric; neither is kept",
        lesson_shapes.TextsChecked,
        SET_WORK,
        body=lesson_shapes.NewCheck,
        refusals=(415, 422),
    ),
    Operation(
        "post",
        "/check-rules",
        "check_rules",
        "Check rules of a contest; they are not kept",
        lesson_shapes.TextsChecked,
        RUN_CONTESTS,
        body=lesson_shapes.RulesToCheck,
        refusals=(415, 422),
    ),
)
