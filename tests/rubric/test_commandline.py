"""The kingpost command finds its subcommands and loads only the one asked for."""

from __future__ import annotations

import subprocess
import sys
import time
from importlib.metadata import EntryPoint

import pytest

from rubric.commandline import GROUP, run


def double(arguments: list[str]) -> int:
    """Say each argument twice."""
    print(*arguments * 2)
    return 3


def interrupted(arguments: list[str]) -> int:
    """Be interrupted."""
    raise KeyboardInterrupt


COMMANDS = {
    name: EntryPoint(name, f"{__name__}:{function}", GROUP)
    for name, function in [("double", "double"), ("pause", "interrupted")]
} | {"gone": EntryPoint("gone", "nowhere.at_all:command", GROUP)}


@pytest.fixture(autouse=True)
def _findable(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, __name__, sys.modules.get(__name__) or __import__(__name__))


@pytest.mark.parametrize("arguments", [[], ["--help"], ["-h"], ["help"]])
def test_without_a_command_the_commands_are_listed(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert run(arguments, COMMANDS) == 0
    listing = capsys.readouterr().out
    assert "double     Say each argument twice." in listing
    assert "gone       (not installed here)" in listing


def test_a_command_gets_its_arguments_and_gives_the_exit_status(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["double", "a", "--help"], COMMANDS) == 3
    assert capsys.readouterr().out == "a --help a --help\n"


def test_a_misspelt_command_is_answered_with_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["dubble"], COMMANDS) == 2
    assert capsys.readouterr().err == "kingpost: there is no command 'dubble': did you mean 'double'?\n"


def test_ctrl_c_ends_quietly(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["pause"], COMMANDS) == 130
    assert capsys.readouterr() == ("", "")


def test_a_reader_that_goes_away_is_no_error() -> None:
    program = (
        "import sys; from importlib.metadata import EntryPoint; from rubric.commandline import run\n"
        "import types; m = types.ModuleType('much'); sys.modules['much'] = m\n"
        "m.command = lambda arguments: print('x' * 1_000_000) or 0\n"
        "sys.exit(run(['much'], {'much': EntryPoint('much', 'much:command', 'g')}))"
    )
    process = subprocess.Popen([sys.executable, "-c", program], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    process.stdout.read(10)
    process.stdout.close()
    assert process.stderr.read() == b""
    process.stderr.close()
    assert process.wait() == 0


def test_every_command_says_what_it_does_in_one_line() -> None:
    listed = subprocess.run([sys.executable, "-m", "rubric.commandline"], capture_output=True, text=True, check=True)
    commands = listed.stdout.splitlines()[4:]
    assert {line.split()[0] for line in commands} >= {"solve", "mark", "work", "serve", "web", "recorder", "sweep"}
    assert all(line.endswith(".") and len(line) < 100 for line in commands)


def test_the_command_itself_starts_in_little_more_time_than_python_does() -> None:
    def seconds(*arguments: str) -> float:
        begun = time.perf_counter()
        subprocess.run([sys.executable, *arguments], capture_output=True, check=True)
        return time.perf_counter() - begun

    bare = min(seconds("-c", "") for _ in range(5))
    assert min(seconds("-m", "rubric.commandline") for _ in range(5)) < 8 * bare
