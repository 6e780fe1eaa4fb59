"""The embedded broker: whole messages, in order, each to one consumer, whatever lies in the folder."""

from __future__ import annotations

import multiprocessing
import os
import shutil
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import kombu
import pytest

from rubric.messages.spool import Channel, Transport


def connect(folder: Path) -> kombu.Connection:
    return kombu.Connection(
        "spool://localhost", transport=Transport, transport_options={"folder": str(folder), "polling_interval": 0.01}
    )


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "broker"


@pytest.fixture
def channel(folder: Path) -> Iterator[Channel]:
    with connect(folder) as connection:
        yield connection.channel()


def publish(channel: Channel, *bodies: Any, queue: str = "marking") -> None:
    for body in bodies:
        kombu.Producer(channel).publish(body, routing_key=queue, serializer="json")


def take(channel: Channel, queue: str = "marking") -> Any:
    message = channel.basic_get(queue, no_ack=True)
    return None if message is None else message.decode()


def test_messages_come_out_first_in_first_out(channel: Channel) -> None:
    publish(channel, *range(50))
    assert [take(channel) for _ in range(51)] == [*range(50), None]


def test_queues_do_not_mix(channel: Channel) -> None:
    publish(channel, "a", queue="marking")
    publish(channel, "b", queue="printing")
    assert (take(channel, "printing"), take(channel, "printing"), take(channel, "marking")) == ("b", None, "a")


def test_the_folder_is_for_this_user_alone(channel: Channel, folder: Path) -> None:
    publish(channel, 1)
    assert folder.stat().st_mode & 0o077 == 0


def test_a_message_that_is_not_acknowledged_goes_back_when_its_consumer_leaves(folder: Path) -> None:
    with connect(folder) as connection:
        channel = connection.channel()
        publish(channel, "held")
        assert channel.basic_get("marking").decode() == "held"
        assert channel.basic_get("marking") is None
    with connect(folder) as connection:
        assert take(connection.channel()) == "held"


@pytest.mark.parametrize("gone", ["the queue's folder", "the whole folder"])
def test_a_folder_that_vanishes_is_made_again(channel: Channel, folder: Path, gone: str) -> None:
    publish(channel, 1)
    shutil.rmtree(folder / "marking" if gone == "the queue's folder" else folder)
    assert take(channel) is None
    publish(channel, 2)
    assert take(channel) == 2


def test_puts_survive_a_folder_that_is_removed_again_and_again(channel: Channel, folder: Path) -> None:
    stop = threading.Event()

    def remove() -> None:
        while not stop.is_set():
            shutil.rmtree(folder, ignore_errors=True)
            time.sleep(0.003)

    remover = threading.Thread(target=remove)
    remover.start()
    try:
        for _ in range(200):
            publish(channel, 1)
            take(channel)
    finally:
        stop.set()
        remover.join()


JUNK = {
    "text": b"hello",
    "nothing": b"",
    "a list": b"[]",
    "null": b"null",
    "no properties": b'{"body": "x"}',
    "no tag": b'{"body": "x", "properties": {}}',
    "no route": b'{"body": "x", "properties": {"delivery_tag": "t"}}',
    "odd route": b'{"body": "x", "properties": {"delivery_tag": "t", "delivery_info": 3}}',
    "bad base64": b'{"body": "x", "properties": {"delivery_tag": "t", "body_encoding": "base64", "delivery_info": {}}}',
    "no UTF-8": b"\xff\xfe",
    "half a message": b'{"body": "eyJ',
    "nested": b"[" * 100_000,
}


@pytest.mark.parametrize("junk", JUNK.values(), ids=JUNK.keys())
def test_junk_is_set_aside_and_the_next_message_delivered(channel: Channel, folder: Path, junk: bytes) -> None:
    publish(channel, "good")
    (folder / "marking" / "0000.msg").write_bytes(junk)
    assert take(channel) == "good"
    assert [file.name for file in (folder / "marking").iterdir()] == ["0000.junk"]


def test_foreign_things_are_left_alone(channel: Channel, folder: Path) -> None:
    publish(channel, "good")
    queue = folder / "marking"
    (queue / "0.msg").mkdir()
    (queue / "notes.txt").write_text("x")
    (queue / "1.msg").symlink_to("/etc/hostname")
    os.mkfifo(queue / "2.msg")
    assert take(channel) == "good"
    assert sorted(file.name for file in queue.iterdir()) == ["0.msg", "1.msg", "2.msg", "notes.txt"]


def _consume(folder: Path, taken: Any) -> None:
    with connect(folder) as connection:
        channel = connection.channel()
        while True:
            body = take(channel)
            if body is None:
                return
            taken.put(body)


def test_of_four_consumers_each_message_reaches_exactly_one(channel: Channel, folder: Path) -> None:
    publish(channel, *range(400))
    context = multiprocessing.get_context("spawn")
    taken = context.Queue()
    consumers = [context.Process(target=_consume, args=(folder, taken)) for _ in range(4)]
    for consumer in consumers:
        consumer.start()
    assert sorted(taken.get(timeout=20) for _ in range(400)) == list(range(400))
    for consumer in consumers:
        consumer.join()
    assert taken.empty()


def test_no_reader_ever_sees_half_a_message(channel: Channel, folder: Path) -> None:
    large, seen = "x" * 200_000, []

    def read() -> None:
        with connect(folder) as connection:
            mine = connection.channel()
            while len(seen) < 100:
                body = take(mine)
                if body is not None:
                    seen.append(body == large)

    reader = threading.Thread(target=read)
    reader.start()
    publish(channel, *[large] * 100)
    reader.join(20)
    assert seen == [True] * 100
    assert not list((folder / "marking").glob("*.junk"))


def test_a_folder_that_cannot_be_written_tells_the_sender(channel: Channel, folder: Path) -> None:
    folder.mkdir()
    (folder / "marking").write_text("in the way")
    with pytest.raises(OSError, match=r"File exists|Not a directory"):
        channel._put("marking", {})


def test_sizes_and_purges_count_messages(channel: Channel) -> None:
    publish(channel, 1, 2, 3)
    assert channel._size("marking") == 3
    assert channel.queue_purge("marking") == 3
    assert channel._size("marking") == 0
