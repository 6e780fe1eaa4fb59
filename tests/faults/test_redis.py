"""Redis frozen, and Redis gone and back: workers that held work then are not deaf afterwards."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path

import pytest

from tests.faults.rig import running, wait_until
from tests.servers import RedisServer

pytestmark = pytest.mark.faults


def test_work_goes_on_after_redis_was_frozen_and_after_it_was_killed(tmp_path: Path) -> None:
    with RedisServer(tmp_path) as server, running(tmp_path / "data", server.address, "recorder,sweep,marking") as rig:
        rig.hand_in(0)
        wait_until(lambda: rig.count() == 1, 20, rig.log)
        for number in range(1, 41):
            rig.hand_in(number)
        os.kill(server.process.pid, signal.SIGSTOP)
        begun = time.monotonic()
        rig.hand_in(41)
        assert time.monotonic() - begun < 3
        time.sleep(3)
        os.kill(server.process.pid, signal.SIGCONT)
        wait_until(lambda: rig.count() == 42, 60, rig.waiting)
        for number in range(42, 82):
            rig.hand_in(number)
        server.stop()
        time.sleep(3)
        server.start()
        wait_until(lambda: rig.count() == 82, 60, rig.waiting)
        assert rig.times_marked() == [1] * 82
