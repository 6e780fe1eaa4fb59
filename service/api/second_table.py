"""Operations of a second look at work."""

from __future__ import annotations

from service.api import second_shapes, work_shapes
from service.api.operation import Operation
from service.api.tokens import SECOND_LOOK

SECOND = (
    Operation(
        "get",
        "/assignments/{assignment_id}/second",
        "second_markings",
        "What is marked a second time, and who may be asked",
        second_shapes.SecondMarkings,
        SECOND_LOOK,
    ),
    Operation(
        "post",
        "/assignments/{assignment_id}/second",
        "ask_second",
        "Ask a teacher outside the class to mark attempts a second time",
        second_shapes.SecondMarkings,
        SECOND_LOOK,
        body=second_shapes.AskSecond,
        refusals=(415, 422),
    ),
    Operation(
        "get",
        "/second/{marking_id}/differences",
        "differences",
        "Where the two teachers differ",
        second_shapes.Differences,
        SECOND_LOOK,
    ),
    Operation(
        "post",
        "/second/{marking_id}/settle",
        "settle_second",
        "Say which points stand, and why",
        second_shapes.Differences,
        SECOND_LOOK,
        body=second_shapes.Settling,
        refusals=(415, 422),
    ),
    Operation(
        "post",
        "/second/{marking_id}/withdraw",
        "withdraw_second",
        "Take back what was asked",
        second_shapes.SecondMarkings,
        SECOND_LOOK,
        refusals=(409,),
    ),
    Operation(
        "get",
        "/second",
        "second_asked",
        "What the token's maker was asked to mark, in other classes",
        second_shapes.SecondsAsked,
        SECOND_LOOK,
    ),
    Operation("get", "/second/{marking_id}", "blind_work", "One of these works", second_shapes.BlindWork, SECOND_LOOK),
    Operation(
        "post",
        "/second/{marking_id}",
        "mark_blind",
        "Give points to it: all at once, and once",
        second_shapes.BlindWork,
        SECOND_LOOK,
        body=work_shapes.Judgement,
        refusals=(415, 422),
    ),
    Operation(
        "get",
        "/assignments/{assignment_id}/alike",
        "alike",
        "Pairs of works that are alike",
        second_shapes.Likeness,
        SECOND_LOOK,
    ),
    Operation(
        "post",
        "/assignments/{assignment_id}/alike",
        "look_for_likeness",
        "Look for works that are alike",
        second_shapes.Likeness,
        SECOND_LOOK,
        status=202,
    ),
)
