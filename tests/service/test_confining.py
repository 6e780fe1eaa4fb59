"""A worker on the same machine opens everything it needs, and neither the database nor the secret key."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from service import confining

TRY = """
import sys
for path in sys.argv[1:]:
    mode, _, name = path.partition(":")
    try:
        with open(name, mode):
            print("open")
    except OSError as error:
        print(type(error).__name__)
"""


def opened(confine, *paths: str) -> list[str]:  # type: ignore[no-untyped-def]
    """What a confined process says to each 'mode:path'."""
    run = subprocess.run(
        [sys.executable, "-c", TRY, *paths], preexec_fn=confine, capture_output=True, text=True, check=True
    )
    return run.stdout.split()


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """A data folder beside something else."""
    for name in ("data/kingpost.sqlite", "data/secret-key", "data/broker/marking/1.msg", "beside/file"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("x")
    return tmp_path / "data"


def test_this_machine_can_keep_workers_from_files() -> None:
    assert confining.is_possible()


def test_the_database_and_the_key_are_closed_and_the_broker_and_the_rest_open(data: Path) -> None:
    confine = confining.confinement(confining.open_to([data], [data / "broker"]))
    closed = [f"{mode}:{data}/{name}" for name in ("kingpost.sqlite", "secret-key") for mode in ("r", "a", "w")]
    assert opened(confine, *closed) == ["PermissionError"] * 6
    open_ = [f"r:{data}/broker/marking/1.msg", f"w:{data}/broker/marking/2.msg", f"r:{data.parent}/beside/file"]
    assert opened(confine, *open_, f"r:{os.__file__}", "r:/etc/passwd", "w:/dev/null") == ["open"] * 6
    assert (data / "secret-key").read_text() == "x"


def test_no_link_leads_around_it(data: Path) -> None:
    (data.parent / "beside" / "link").symlink_to(data / "secret-key")
    (data.parent / "way").symlink_to(data)
    confine = confining.confinement(confining.open_to([data]))
    paths = (
        f"r:{data.parent}/beside/link",
        f"r:{data.parent}/way/secret-key",
        f"r:/proc/self/cwd/../{data.name}/secret-key",
    )
    assert "open" not in opened(confine, *paths)


def test_a_database_beside_other_things_is_closed_alone_with_its_journal(data: Path) -> None:
    beside = data.parent / "beside"
    confine = confining.confinement(confining.open_to([beside / "a.sqlite", beside / "a.sqlite-wal"]))
    (beside / "a.sqlite").write_text("x")
    (beside / "a.sqlite-wal").write_text("x")
    paths = (f"r:{beside}/a.sqlite", f"r:{beside}/a.sqlite-wal", f"r:{beside}/file")
    assert opened(confine, *paths) == ["PermissionError", "PermissionError", "open"]


def test_the_environment_of_another_process_of_the_same_user_is_closed_too(data: Path) -> None:
    """As an ordinary user: one that may look at every process is root, as whom nothing of this should run."""
    user = 65534 if os.getuid() == 0 else None
    confine = confining.confinement(confining.open_to([data]))
    with subprocess.Popen(["sleep", "20"], env={"KINGPOST_DATABASE": "hidden"}, user=user) as service:
        look = {"args": ["cat", f"/proc/{service.pid}/environ"], "user": user, "capture_output": True}
        plain, confined = subprocess.run(**look), subprocess.run(**look, preexec_fn=confine)
        service.kill()
    assert b"hidden" in plain.stdout
    assert confined.stdout == b""
