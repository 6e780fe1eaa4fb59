"""The tasks carry messages: a start, the answer, and nothing that breaks."""

from __future__ import annotations

import logging
from typing import Any

import pytest
from celery.exceptions import SoftTimeLimitExceeded

from rubric import library
from rubric.messages.names import AWARD, COMPARE, DRAW, MARK, PLAN, PRINT, RECORD, REPORT, SKETCH, STARTED, TRY
from rubric.messages.orders import DrawOrder, MarkOrder
from rubric.messages.outcomes import Drawn, Figure
from worker import tasks

ORDER = DrawOrder(job=7, attempt="abc", brief=library.brief("footbridge")).model_dump(mode="json")


def drawn(order: DrawOrder) -> Drawn:
    return Drawn(job=order.job, attempt=order.attempt, drawing=Figure(svg="<svg/>", alternative="an envelope"))


def done(monkeypatch: pytest.MonkeyPatch, function: Any, message: Any = ORDER) -> list[tuple[Any, ...]]:
    sent: list[tuple[Any, ...]] = []
    monkeypatch.setitem(tasks.WORK, DRAW, (DrawOrder, function))
    tasks.do(DRAW, message, lambda *values: sent.append(values))
    return sent


def test_a_task_says_that_it_begins_and_then_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    start, answer = done(monkeypatch, drawn)
    assert start == (STARTED, 7, "abc", 1)
    assert answer[0] == RECORD
    assert (answer[1]["kind"], answer[1]["job"], answer[1]["attempt"]) == ("drawn", 7, "abc")


@pytest.mark.parametrize("error", [ValueError, MemoryError, RecursionError, SoftTimeLimitExceeded])
def test_an_error_is_logged_by_ids_and_place_and_ends(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture, error: type[Exception]
) -> None:
    def fail(order: DrawOrder) -> Drawn:
        raise error("a line of somebody's file")

    with caplog.at_level(logging.ERROR):
        assert done(monkeypatch, fail) == [(STARTED, 7, "abc", 1)]
    (line,) = caplog.records
    assert (line.job, line.task) == (7, DRAW)
    assert error.__name__ in line.getMessage()
    assert "test_tasks.py" in line.getMessage()
    assert "somebody" not in str(vars(line))


@pytest.mark.parametrize("message", [None, [], {}, {**ORDER, "surplus": 1}, {**ORDER, "job": "x"}, {"job": {}}])
def test_an_order_of_the_wrong_shape_is_logged_and_dropped(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture, message: Any
) -> None:
    with caplog.at_level(logging.ERROR):
        assert done(monkeypatch, drawn, message) == []
    assert len(caplog.records) == 1


def test_a_file_with_mistakes_is_marked_all_the_same() -> None:
    order = MarkOrder(
        job=1,
        attempt="a",
        file_name="bridge.yaml",
        file_base64="Ww==",
        brief=library.brief("footbridge"),
        rubric=library.rubric("footbridge"),
    )
    sent: list[tuple[Any, ...]] = []
    tasks.do(MARK, order.model_dump(mode="json"), lambda *values: sent.append(values))
    assert [values[0] for values in sent] == [STARTED, RECORD]
    assert sent[1][1]["mistakes"]


def test_each_task_of_the_workers_has_its_order() -> None:
    assert set(tasks.WORK) == {MARK, DRAW, TRY, PRINT, PLAN, COMPARE, SKETCH, AWARD, REPORT}
