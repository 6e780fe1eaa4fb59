"""A worker whose Redis went away while it held work has its places free afterwards."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import kombu
import pytest
import redis

from rubric.messages.over_redis import Transport
from tests.servers import redis_server


@pytest.fixture
def held(tmp_path: Path) -> Iterator[kombu.Message]:
    """A message taken by a consumer that may hold one; Redis is gone."""
    with redis_server(tmp_path) as (address, process), kombu.Connection(address, transport=Transport) as connection:
        channel = connection.channel()
        channel.basic_qos(prefetch_count=1)
        kombu.Producer(channel).publish(1, routing_key="marking", declare=[kombu.Queue("marking")])
        message = channel.basic_get("marking")
        assert not channel.qos.can_consume()
        process.kill()
        process.wait()
        yield message
        channel.qos._delivered.clear()  # nothing to give back to a Redis that is gone


@pytest.mark.parametrize("answer", ["ack", "reject", "requeue"])
def test_a_place_is_free_though_redis_cannot_be_told(held: kombu.Message, answer: str) -> None:
    with pytest.raises(redis.exceptions.ConnectionError):
        getattr(held, answer)()
    assert held.channel.qos.can_consume()
