"""The Celery settings keep the promises that their comments make."""

from __future__ import annotations

import json

import pytest
from celery import Celery
from celery.app.defaults import NAMESPACES, flatten

from rubric.messages.names import QUEUE_OF, QUEUES
from rubric.messages.settings import HARD_LIMIT_S, SOFT_LIMIT_S, broker_fault, celery_settings

BROKERS = ("/srv/kingpost/broker", "redis://broker:6379/0")


@pytest.mark.parametrize("broker", BROKERS)
def test_every_setting_is_one_that_celery_knows(broker: str) -> None:
    assert set(celery_settings(broker)) <= {name for name, _ in flatten(NAMESPACES)}


@pytest.mark.parametrize("broker", BROKERS)
def test_settings_are_plain_data(broker: str) -> None:
    settings = celery_settings(broker)
    assert json.loads(json.dumps(settings)) == settings


def test_messages_are_json_and_acknowledged_late_one_at_a_time() -> None:
    settings = celery_settings(BROKERS[1])
    assert (settings["task_serializer"], settings["accept_content"]) == ("json", ["json"])
    assert settings["task_acks_late"]
    assert settings["worker_prefetch_multiplier"] == 1


def test_limits_stay_in_order_below_the_time_after_which_redis_delivers_again() -> None:
    visible = celery_settings(BROKERS[1])["broker_transport_options"]["visibility_timeout"]
    for task, hard in HARD_LIMIT_S.items():
        assert SOFT_LIMIT_S[task] < hard < visible / 5


def test_every_task_has_a_queue_that_is_declared() -> None:
    assert set(QUEUE_OF.values()) == set(QUEUES) == set(celery_settings(BROKERS[0])["task_queues"])


def test_a_queue_that_nobody_declared_is_refused() -> None:
    app = Celery("test", set_as_current=False)
    app.conf.update(celery_settings(BROKERS[0]))
    with pytest.raises(KeyError):
        app.send_task("worker.mark", queue="markings")


@pytest.mark.parametrize("broker", [*BROKERS, "broker", "/a folder/with spaces", "rediss://:pw@host:6380/1"])
def test_folders_and_redis_addresses_are_brokers(broker: str) -> None:
    assert broker_fault(broker) is None


@pytest.mark.parametrize("broker", ["", "amqp://host", "redis://", "redis:///0", "redis://[::1", "a\0b"])
def test_other_addresses_are_not(broker: str) -> None:
    assert broker_fault(broker) is not None
