"""The table of class reports."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import ForeignKey, LargeBinary, String
from sqlalchemy.orm import Mapped, mapped_column

from service.records.base import Base


class ClassReport(Base):
    """The report of a class at an assignment, as it was last asked for; without a PDF while it is set."""

    __tablename__ = "class_reports"
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignments.id"), primary_key=True)
    by_id: Mapped[int] = mapped_column(ForeignKey("people.id"))
    """For whom it was made."""
    paper: Mapped[str] = mapped_column(String(8))
    pdf: Mapped[bytes | None] = mapped_column(LargeBinary, deferred=True)
    printed_at: Mapped[datetime | None]
