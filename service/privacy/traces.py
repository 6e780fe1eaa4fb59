"""What orders and answers about deleted rows leave in the broker, and taking it out.

An order carries a pupil's file, and that of a sheet the name.  Whoever works on one meanwhile is
not stopped: the recorder finds no row that waits for the answer, and drops it.
"""

from __future__ import annotations

import base64
import json
import logging
from collections.abc import Collection, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import redis

from rubric.messages.names import QUEUES, SKETCH
from rubric.messages.settings import BROKER_TIMEOUT_S

log = logging.getLogger(__name__)

AT_ONCE = 50
"""So many messages of Redis are in memory at a time."""

UNACKED, UNACKED_INDEX = "unacked", "unacked_index"
"""Where kombu keeps in Redis what somebody works on."""


def purge(broker: str, jobs: Collection[int]) -> int:
    """Take all messages about these jobs out of the broker, and all sketches; how many there were.

    A sketch is nobody's work yet and lives for a minute: one that is lost costs a drawing.

    Raises
    ------
    OSError, redis.RedisError
        The broker cannot be reached.
    """
    return _purge_redis(broker, jobs) if "://" in broker else _purge_folder(Path(broker), jobs)


def job_of(message: Any) -> int | None:
    """The job that a message of kombu is about; None where it cannot be read, or is about a sketch."""
    try:
        first = json.loads(base64.b64decode(message["body"]))[0][0]
        found = first["job"] if isinstance(first, dict) else first
    except (ValueError, TypeError, LookupError):
        return None
    return found if isinstance(found, int) and not _is_sketch(message, first) else None


def is_gone(data: bytes, jobs: Collection[int]) -> bool:
    """Whether a message goes: it is about one of these jobs, or a sketch."""
    try:
        message = json.loads(data)
        message = message[0] if isinstance(message, list) else message  # as Redis keeps what is worked on
        first = json.loads(base64.b64decode(message["body"]))[0][0]
    except (ValueError, TypeError, LookupError, RecursionError):
        return False
    return _is_sketch(message, first) or job_of(message) in jobs


def _is_sketch(message: Any, first: Any) -> bool:
    task = message["headers"].get("task") if isinstance(message.get("headers"), dict) else ""
    return task == SKETCH or (isinstance(first, dict) and first.get("kind") == "sketched")


def _purge_folder(folder: Path, jobs: Collection[int]) -> int:
    count = 0
    for queue in QUEUES:
        # A message that could not be read, or was never finished, may hold anything.
        for left in (*(folder / queue).glob("*.junk"), *(folder / queue).glob(".*")):
            left.unlink(missing_ok=True)
        for file in sorted((folder / queue).glob("*.msg")):
            with suppress(FileNotFoundError):  # a worker was quicker
                if is_gone(file.read_bytes(), jobs):
                    file.unlink()
                    count += 1
    return count


def _purge_redis(address: str, jobs: Collection[int]) -> int:
    timeouts = {"socket_timeout": 10 * BROKER_TIMEOUT_S, "socket_connect_timeout": BROKER_TIMEOUT_S}
    with redis.Redis.from_url(address, **timeouts) as client:
        count = sum(client.lrem(queue, 0, data) for queue in QUEUES for data in _about(client, queue, jobs))
        for tag, data in list(client.hscan_iter(UNACKED)):
            if is_gone(data, jobs):
                client.hdel(UNACKED, tag)
                client.zrem(UNACKED_INDEX, tag)
                count += 1
        # Its append-only file still tells of what was added and removed, until it is written anew.
        with suppress(redis.RedisError):
            client.bgrewriteaof()
    return count


def _about(client: Any, queue: str, jobs: Collection[int]) -> list[bytes]:
    return [data for data in _messages(client, queue) if is_gone(data, jobs)]


def _messages(client: Any, queue: str) -> Iterator[bytes]:
    """From the newest: what is added meanwhile moves the rest along, so none is passed over."""
    start = 0
    while some := client.lrange(queue, start, start + AT_ONCE - 1):
        yield from some
        start += len(some)
