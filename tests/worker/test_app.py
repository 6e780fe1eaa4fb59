"""The workers' Celery app needs a broker and nothing else."""

from __future__ import annotations

import subprocess
import sys

import pytest

from rubric.messages.names import COMPARE, DRAW, MARK, PLAN, PRINT
from worker.app import BrokerMissing, worker_app
from worker.commands import work
from worker.tasks import add_tasks


@pytest.mark.parametrize("address", ["", "amqp://host"])
def test_a_worker_without_a_broker_says_which_setting_is_missing(address: str) -> None:
    with pytest.raises(BrokerMissing, match=r"KINGPOST_BROKER is .*; expected the folder of the embedded broker"):
        worker_app(address)


def test_the_command_says_so_in_one_line(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.delenv("KINGPOST_BROKER", raising=False)
    assert work.command(["marking"]) == 2
    assert capsys.readouterr().err.startswith("kingpost work: KINGPOST_BROKER is ''")


@pytest.mark.parametrize("arguments", [[], ["baking"], ["marking", "--processes", "0"], ["both", "--processes", "x"]])
def test_wrong_arguments_are_refused(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match="2"):
        work.command(arguments)
    assert "kingpost work: error" in capsys.readouterr().err


def test_the_app_knows_its_five_tasks() -> None:
    app = add_tasks(worker_app("/srv/broker"))
    assert {MARK, DRAW, PRINT, PLAN, COMPARE} <= set(app.tasks)


def test_a_worker_that_marks_loads_no_typesetter_and_no_database() -> None:
    program = (
        "import sys, worker.marker, worker.app, worker.tasks\n"
        "print(sorted({'weasyprint', 'sqlalchemy', 'flask', 'service'} & set(sys.modules)))"
    )
    loaded = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert loaded.stdout.strip() == "[]"


def test_a_working_process_cannot_take_the_whole_memory_of_its_host() -> None:
    program = (
        "from worker.app import _bound_process\n"
        "_bound_process()\n"
        "try:\n    bytearray(3 * 1024**3)\n"
        "except MemoryError:\n    print('refused')"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "refused"
