"""The embedded broker: messages as files in one folder, a transport for kombu.

``folder/QUEUE/TIME_ID.msg`` holds one message as JSON.  A message is written aside and renamed,
so that nobody reads half of one; whoever manages to remove the file has the message, so that two
consumers never share one.  Names begin with the time, so that they are read first in, first out.

Nothing is flushed to the disk and a message that a killed consumer had taken is gone: the row in
the database is the truth, and what is lost here is sent again.
"""

from __future__ import annotations

import json
import logging
import os
import time
import uuid
from contextlib import suppress
from pathlib import Path
from queue import Empty
from typing import Any

from kombu.transport import base, virtual

log = logging.getLogger(__name__)

VANISHED = (FileNotFoundError, FileExistsError)
"""What a folder says that vanishes after it was made, or between two looks while it is being made."""

ATTEMPTS = 20
"""How often a put is tried when somebody removes the folder in the middle of it."""


class Channel(virtual.Channel):
    """Puts and gets messages.  Every queue is bound by its own name, so no table of bindings is kept."""

    def _put(self, queue: str, message: dict[str, Any], **_: Any) -> None:
        """Add a message to the end of ``queue``.

        Raises
        ------
        OSError
            Where the folder cannot be written.
        """
        data = json.dumps(message).encode()
        name = f"{time.time_ns():020d}_{uuid.uuid4().hex}"
        for attempt in range(1, ATTEMPTS + 1):
            aside = self._path(queue) / f".{name}"
            try:
                self._make(queue)
                aside.write_bytes(data)
                aside.replace(aside.with_name(f"{name}.msg"))
                return
            except VANISHED:
                if attempt == ATTEMPTS:
                    raise
            except OSError:  # a full disk must not fill further with halves
                with suppress(OSError):
                    aside.unlink()
                raise

    def _get(self, queue: str, timeout: float | None = None) -> dict[str, Any]:
        """Take the oldest message of ``queue``; raises ``Empty`` where there is none."""
        for file in self._messages(queue):
            try:
                data = file.read_bytes()
                message = self._understood(data)
                if message is None:
                    file.replace(file.with_suffix(".junk"))
                    log.warning("a file in the broker folder is no message and was set aside")
                    continue
                file.unlink()
            except FileNotFoundError:  # another consumer was quicker
                continue
            return message
        raise Empty

    def _size(self, queue: str) -> int:
        return len(self._messages(queue))

    def _purge(self, queue: str) -> int:
        files = self._messages(queue)
        for file in files:
            file.unlink(missing_ok=True)
        return len(files)

    def _lookup(self, exchange: str, routing_key: str, default: str | None = None) -> list[str]:
        return [routing_key]

    def _messages(self, queue: str) -> list[Path]:
        try:
            self._make(queue)
            with os.scandir(self._path(queue)) as entries:
                names = [e.name for e in entries if e.name.endswith(".msg") and e.is_file(follow_symlinks=False)]
        except VANISHED:  # and the messages with it
            return []
        return [self._path(queue) / name for name in sorted(names)]

    def _path(self, queue: str) -> Path:
        return Path(self.connection.client.transport_options["folder"]) / queue

    def _make(self, queue: str) -> None:
        folder = self._path(queue)
        if not folder.is_dir():
            folder.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            folder.mkdir(mode=0o700, exist_ok=True)

    def _understood(self, data: bytes) -> dict[str, Any] | None:
        """The message, or None where ``data`` is not one that a consumer could be handed."""
        try:
            message: dict[str, Any] = json.loads(data)
            virtual.Message(message, channel=self)
            message["properties"]["delivery_info"]["exchange"]
        except (ValueError, TypeError, LookupError, AttributeError, RecursionError):
            return None
        return message


class Transport(virtual.Transport):
    """What ``broker_transport`` of the Celery settings names."""

    Channel = Channel
    driver_type = "spool"
    driver_name = "spool"
    default_port = 0
    # Trouble with the folder is trouble with the connection: Celery says so and tries again.
    connection_errors = (*base.Transport.connection_errors, OSError)

    def driver_version(self) -> str:
        return "1"
