"""The Redis transport of kombu, without its way of going deaf.

A worker holds as many unacknowledged messages as it has processes, and takes no more.  kombu
forgets a message only after Redis has heard of the acknowledgement; where Redis was away just
then, the message counts as held for ever, and a worker with all its places taken so is alive but
never works again.  Here the place is free at once.  Redis delivers the message again in its own
time, and the answer to it is left out as a second one.
"""

from __future__ import annotations

from kombu.transport import redis, virtual


class QoS(redis.QoS):
    """Which messages this worker holds."""

    def ack(self, delivery_tag: str) -> None:
        """Acknowledge a message; its place is free even where Redis cannot be told."""
        try:
            super().ack(delivery_tag)
        except self.channel.connection_errors:
            virtual.QoS.ack(self, delivery_tag)
            raise

    def reject(self, delivery_tag: str, requeue: bool = False) -> None:
        """Reject a message; its place is free even where Redis cannot be told."""
        try:
            super().reject(delivery_tag, requeue)
        except self.channel.connection_errors:
            virtual.QoS.ack(self, delivery_tag)
            raise


class Channel(redis.Channel):
    """A channel that counts so."""

    QoS = QoS


class Transport(redis.Transport):
    """What ``broker_transport`` of the Celery settings names."""

    Channel = Channel
