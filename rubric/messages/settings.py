"""The Celery settings that both sides share, each beside the failure it prevents.

Plain values, so that the ground floor needs no Celery.  The database row is the truth and the
broker only transport: where a setting could either lose a message or repeat it for ever, it may
lose it, because the sweep sends a waiting row again and counts how often a worker began.
"""

from __future__ import annotations

from typing import Any
from urllib.parse import urlsplit

from rubric.messages.names import (
    AWARD,
    COMPARE,
    DRAW,
    MARK,
    MARKING,
    PLAN,
    PRINT,
    QUEUE_OF,
    QUEUES,
    REPORT,
    SKETCH,
    TRY,
)

HARD_LIMIT_S = {MARK: 30, DRAW: 30, TRY: 30, PRINT: 90, PLAN: 90, AWARD: 110, REPORT: 110, COMPARE: 90, SKETCH: 10}
"""After so many seconds the process that works on an order is killed."""

SOFT_LIMIT_S = {MARK: 20, DRAW: 20, TRY: 20, PRINT: 60, PLAN: 60, AWARD: 90, REPORT: 90, COMPARE: 60, SKETCH: 5}
"""After so many seconds the order is told to stop, which it can still log."""

ORDER_EXPIRES_S = 3600
"""An order older than this is thrown away unread: one that was never acknowledged comes back from
Redis again and again, and must not do so for ever.  Far above any queue we have seen, and above
what the clocks of two hosts may differ."""

SKETCH_EXPIRES_S = 60
"""Nobody waits longer for a look at what he types."""

BROKER_TIMEOUT_S = 2
"""Longest wait for a broker that does not answer."""

_MEMORY_KB = 600_000


def broker_fault(broker: str) -> str | None:
    """What is wrong with the address of a broker, or None."""
    if broker.startswith(("redis://", "rediss://")):
        try:
            return None if urlsplit(broker).hostname else "a Redis address without a host"
        except ValueError:
            return "a Redis address that cannot be read"
    return "an address of an unknown kind" if not broker or "://" in broker or "\0" in broker else None


def celery_settings(broker: str) -> dict[str, Any]:
    """Settings for a Celery app.

    Parameters
    ----------
    broker
        Folder of the embedded broker, or an address ``redis://host:port/number``.
    """
    return {
        **(_redis(broker) if "://" in broker else _spool(broker)),
        # Pickle from a broker that somebody broke into would run their code.
        "task_serializer": "json",
        "accept_content": ["json"],
        "result_accept_content": ["json"],
        # No order waits on a queue that nobody reads because its name was misspelt.
        "task_queues": {name: {} for name in QUEUES},
        "task_create_missing_queues": False,
        "task_default_queue": MARKING,
        "task_routes": {task: {"queue": queue} for task, queue in QUEUE_OF.items()},
        # With early acknowledgement a killed worker lost 8 of 200; each order is safe to do twice.
        "task_acks_late": True,
        # An order that kills its process would come back at once and for ever, so it is dropped
        # here; the sweep sends it again, and gives up after three starts.
        "task_reject_on_worker_lost": False,
        "task_acks_on_failure_or_timeout": True,
        # A killed worker takes with it what it had fetched ahead: it fetches nothing ahead.
        "worker_prefetch_multiplier": 1,
        # Outcomes come back as messages of their own; results in the broker would only pile up.
        "result_backend": None,
        "task_ignore_result": True,
        # Remote control is a way in, and events are traffic that nobody reads.
        "worker_enable_remote_control": False,
        "worker_send_task_events": False,
        "task_send_sent_event": False,
        # A file that takes for ever must not hold a process for ever.
        "task_annotations": {
            task: {"soft_time_limit": SOFT_LIMIT_S[task], "time_limit": HARD_LIMIT_S[task]} for task in HARD_LIMIT_S
        },
        # Memory that leaks while sheets are set goes back to the system.
        "worker_max_tasks_per_child": 200,
        "worker_max_memory_per_child": _MEMORY_KB,
        # A new process on a busy machine may need longer than the usual 4 s to say it is up.
        "worker_proc_alive_timeout": 20,
        # A web request must not wait for a broker: it tries once, and the row waits for the sweep.
        "task_publish_retry": False,
        "broker_connection_timeout": BROKER_TIMEOUT_S,
        # A connection for each message: none in a pool that went stale while Redis was frozen,
        # and no waiting for a free one when all the others hang.
        "broker_pool_limit": 0,
        # A worker outlives its broker, whether that is late or restarts.
        "broker_connection_retry_on_startup": True,
        "broker_connection_max_retries": None,
        # Our log lines stay ours: constant sentences with ids.
        "worker_hijack_root_logger": False,
        "worker_redirect_stdouts": False,
        "enable_utc": True,
    }


def _spool(folder: str) -> dict[str, Any]:
    return {
        "broker_url": "spool://localhost",
        "broker_transport": "rubric.messages.spool:Transport",
        "broker_transport_options": {"folder": folder, "polling_interval": 0.05},
    }


def _redis(address: str) -> dict[str, Any]:
    return {
        "broker_url": address,
        "broker_transport": "rubric.messages.over_redis:Transport",
        "broker_transport_options": {
            # An order that still runs must not be handed to a second worker: far above every limit.
            "visibility_timeout": 600,
            # A frozen Redis held a web request for more than 20 s.
            "socket_timeout": BROKER_TIMEOUT_S,
            "socket_connect_timeout": BROKER_TIMEOUT_S,
            "retry_on_timeout": False,
        },
    }
