"""What programs may ask for: one table, from which the OpenAPI file is made."""

from __future__ import annotations

from rubric.marking import Marks
from rubric.messages.outcomes import Marked
from service.api import shapes, work_shapes
from service.api.contest_table import CONTESTS
from service.api.desk_table import DESK
from service.api.lesson_table import LESSONS
from service.api.office_table import OFFICES
from service.api.operation import PAGED, PDF, Operation
from service.api.paper_table import PAPERS
from service.api.second_table import SECOND
from service.api.tokens import HAND_IN, READ_CLASS, READ_MARKS, SET_WORK
from service.api.work_table import WORK

OPERATIONS = (
    Operation("get", "/classes", "classes", "The class that the token is for", shapes.Classes),
    Operation("get", "/classes/{class_id}", "school_class", "One class", shapes.SchoolClass, READ_CLASS),
    Operation(
        "get", "/classes/{class_id}/students", "students", "Its students", shapes.Students, READ_CLASS, query=PAGED
    ),
    Operation(
        "get",
        "/classes/{class_id}/assignments",
        "assignments",
        "What is set for it",
        shapes.Assignments,
        READ_CLASS,
        query=PAGED,
    ),
    Operation(
        "post",
        "/classes/{class_id}/assignments",
        "set_work",
        "Set an assignment, once for each key",
        shapes.AssignmentInFull,
        SET_WORK,
        201,
        shapes.NewAssignment,
        refusals=(415, 422),
        keyed=True,
    ),
    Operation(
        "get", "/assignments/{assignment_id}", "assignment", "One assignment", shapes.AssignmentInFull, READ_CLASS
    ),
    Operation("get", "/assignments/{assignment_id}/board", "board", "Its board", shapes.Board, READ_CLASS),
    Operation(
        "get",
        "/assignments/{assignment_id}/attempts",
        "attempts",
        "Attempts at it, oldest first",
        shapes.Attempts,
        READ_MARKS,
        query=(*PAGED, "student_id"),
    ),
    Operation(
        "post",
        "/assignments/{assignment_id}/attempts",
        "hand_in",
        "Hand in for a student, once for each key",
        shapes.Attempt,
        HAND_IN,
        202,
        shapes.NewAttempt,
        refusals=(409, 413, 415, 422),
        keyed=True,
    ),
    Operation("get", "/attempts/{attempt_id}", "attempt", "One attempt", shapes.AttemptInFull, READ_MARKS),
    Operation(
        "get", "/attempts/{attempt_id}/marks", "marks", "Its marks as they stand", Marks, READ_MARKS, refusals=(409,)
    ),
    Operation(
        "get",
        "/attempts/{attempt_id}/outcome",
        "outcome",
        "All that was worked out of it",
        Marked,
        READ_MARKS,
        refusals=(409,),
    ),
    Operation("get", "/attempts/{attempt_id}/sheet", "sheet", "Its feedback sheet", PDF, READ_MARKS),
    Operation(
        "get",
        "/assignments/{assignment_id}/report",
        "class_report",
        "The report of the class, as it was last set",
        PDF,
        READ_MARKS,
        refusals=(409,),
        named=True,
    ),
    Operation(
        "post",
        "/assignments/{assignment_id}/report",
        "set_report",
        "Have the report of the class set",
        work_shapes.Report,
        READ_MARKS,
        status=202,
        body=work_shapes.NewReport,
        refusals=(409, 422),
    ),
    Operation("get", "/schemas", "schemas", "JSON Schemas of truss file, brief and rubric", shapes.SchemaNames),
    *WORK,
    *CONTESTS,
    *LESSONS,
    *PAPERS,
    *SECOND,
    *DESK,
    *OFFICES,
)
