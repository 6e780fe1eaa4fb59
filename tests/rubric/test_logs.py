"""Log lines are a constant sentence with ids as fields."""

from __future__ import annotations

import logging

from rubric.logs import Fields


def test_fields_stand_behind_the_sentence_in_order() -> None:
    record = logging.LogRecord("kingpost", logging.INFO, "", 0, "sent again", (), None)
    record.job, record.attempt = 7, "a"
    assert Fields("%(levelname)s %(message)s").format(record) == "INFO sent again (attempt=a job=7)"


def test_a_line_without_fields_has_no_brackets() -> None:
    record = logging.LogRecord("kingpost", logging.INFO, "", 0, "started", (), None)
    assert Fields("%(message)s").format(record) == "started"
