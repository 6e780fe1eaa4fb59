"""All tables."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "classes",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.String(length=20), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("code"),
    )
    op.create_table(
        "contests",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("title", sa.String(length=200), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_table(
        "jobs",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=20), nullable=False),
        sa.Column("subject_id", sa.Integer(), nullable=False),
        sa.Column("state", sa.String(length=12), nullable=False),
        sa.Column("attempt", sa.String(length=32), nullable=False),
        sa.Column("sent", sa.Integer(), nullable=False),
        sa.Column("started", sa.Integer(), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.Column("sent_at", sa.DateTime(), nullable=True),
        sa.Column("next_send_at", sa.DateTime(), nullable=False),
        sa.Column("finished_at", sa.DateTime(), nullable=True),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("kind", "subject_id"),
    )
    with op.batch_alter_table("jobs", schema=None) as batch_op:
        batch_op.create_index("ix_jobs_back", ["state", "finished_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_jobs_subject_id"), ["subject_id"], unique=False)
        batch_op.create_index("ix_jobs_waiting", ["state", "next_send_at"], unique=False)

    op.create_table(
        "schools",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("zone", sa.String(length=64), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_table(
        "assignments",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("contest_id", sa.Integer(), nullable=True),
        sa.Column("title", sa.String(length=200), nullable=False),
        sa.Column("brief", sa.JSON(), nullable=False),
        sa.Column("rubric", sa.JSON(), nullable=False),
        sa.Column("brief_text", sa.Text(), nullable=False),
        sa.Column("rubric_text", sa.Text(), nullable=False),
        sa.Column("opens", sa.DateTime(), nullable=True),
        sa.Column("due", sa.DateTime(), nullable=True),
        sa.Column("drawing", sa.JSON(), nullable=True),
        sa.ForeignKeyConstraint(
            ["class_id"],
            ["classes.id"],
        ),
        sa.ForeignKeyConstraint(
            ["contest_id"],
            ["contests.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    with op.batch_alter_table("assignments", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_assignments_class_id"), ["class_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_assignments_contest_id"), ["contest_id"], unique=False)

    op.create_table(
        "people",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("role", sa.String(length=12), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("sign_in_name", sa.String(length=80), nullable=True),
        sa.Column("class_id", sa.Integer(), nullable=True),
        sa.Column("handle", sa.String(length=40), nullable=True),
        sa.Column("secret_hash", sa.String(length=200), nullable=False),
        sa.Column("alias", sa.String(length=40), nullable=True),
        sa.Column("failed_tries", sa.Integer(), nullable=False),
        sa.Column("locked_until", sa.DateTime(), nullable=True),
        sa.Column("session_key", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(
            ["class_id"],
            ["classes.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("alias"),
        sa.UniqueConstraint("class_id", "handle"),
        sa.UniqueConstraint("sign_in_name"),
    )
    with op.batch_alter_table("people", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_people_class_id"), ["class_id"], unique=False)

    op.create_table(
        "submissions",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("assignment_id", sa.Integer(), nullable=False),
        sa.Column("student_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("file_name", sa.String(length=200), nullable=False),
        sa.Column("file", sa.LargeBinary(), nullable=False),
        sa.Column("file_sha256", sa.String(length=64), nullable=False),
        sa.Column("handed_in", sa.DateTime(), nullable=False),
        sa.Column("state", sa.String(length=12), nullable=False),
        sa.Column("marked_at", sa.DateTime(), nullable=True),
        sa.Column("outcome", sa.JSON(), nullable=True),
        sa.Column("total", sa.Double(), nullable=True),
        sa.Column("out_of", sa.Double(), nullable=True),
        sa.Column("waiting_points", sa.Double(), nullable=True),
        sa.Column("efficiency", sa.Double(), nullable=True),
        sa.Column("on_board", sa.Boolean(), nullable=False),
        sa.Column("has_mistakes", sa.Boolean(), nullable=False),
        sa.Column("stable", sa.Boolean(), nullable=True),
        sa.Column("judgements", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(
            ["assignment_id"],
            ["assignments.id"],
        ),
        sa.ForeignKeyConstraint(
            ["student_id"],
            ["people.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("assignment_id", "student_id", "number"),
    )
    with op.batch_alter_table("submissions", schema=None) as batch_op:
        batch_op.create_index("ix_submissions_board", ["assignment_id", "on_board", "efficiency"], unique=False)
        batch_op.create_index(batch_op.f("ix_submissions_student_id"), ["student_id"], unique=False)

    op.create_table(
        "teachings",
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["class_id"],
            ["classes.id"],
        ),
        sa.ForeignKeyConstraint(
            ["person_id"],
            ["people.id"],
        ),
        sa.PrimaryKeyConstraint("person_id", "class_id"),
    )
    op.create_table(
        "notices",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("class_id", sa.Integer(), nullable=False),
        sa.Column("submission_id", sa.Integer(), nullable=True),
        sa.Column("text", sa.String(length=400), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.Column("settled", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(
            ["class_id"],
            ["classes.id"],
        ),
        sa.ForeignKeyConstraint(
            ["submission_id"],
            ["submissions.id"],
        ),
        sa.PrimaryKeyConstraint("id"),
    )
    with op.batch_alter_table("notices", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_notices_class_id"), ["class_id"], unique=False)

    op.create_table(
        "sheets",
        sa.Column("submission_id", sa.Integer(), nullable=False),
        sa.Column("pdf", sa.LargeBinary(), nullable=False),
        sa.Column("printed_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["submission_id"],
            ["submissions.id"],
        ),
        sa.PrimaryKeyConstraint("submission_id"),
    )


def downgrade() -> None:
    op.drop_table("sheets")
    with op.batch_alter_table("notices", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_notices_class_id"))

    op.drop_table("notices")
    op.drop_table("teachings")
    with op.batch_alter_table("submissions", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_submissions_student_id"))
        batch_op.drop_index("ix_submissions_board")

    op.drop_table("submissions")
    with op.batch_alter_table("people", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_people_class_id"))

    op.drop_table("people")
    with op.batch_alter_table("assignments", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_assignments_contest_id"))
        batch_op.drop_index(batch_op.f("ix_assignments_class_id"))

    op.drop_table("assignments")
    op.drop_table("schools")
    with op.batch_alter_table("jobs", schema=None) as batch_op:
        batch_op.drop_index("ix_jobs_waiting")
        batch_op.drop_index(batch_op.f("ix_jobs_subject_id"))
        batch_op.drop_index("ix_jobs_back")

    op.drop_table("jobs")
    op.drop_table("contests")
    op.drop_table("classes")
