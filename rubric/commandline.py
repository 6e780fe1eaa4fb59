"""The ``kingpost`` command: finds its subcommands by entry point and imports only the one asked for.

The ground floor may not import the floors above it, so each floor names its commands in the
entry-point group ``kingpost.commands``; a command is a function from its arguments to an exit status.
"""

from __future__ import annotations

import ast
import os
import sys
from collections.abc import Mapping
from importlib.metadata import EntryPoint, entry_points
from importlib.util import find_spec
from pathlib import Path

from rubric.spelling import did_you_mean

GROUP = "kingpost.commands"

INTERRUPTED = 130
"""Exit status after Ctrl-C: 128 and the number of SIGINT, common practice in a shell."""


def main() -> int:
    """Run ``kingpost`` with the arguments of this process."""
    return run(sys.argv[1:], {point.name: point for point in entry_points(group=GROUP)})


def run(arguments: list[str], commands: Mapping[str, EntryPoint]) -> int:
    """Run one command; Ctrl-C and a reader that went away end it without a traceback."""
    if not arguments or arguments[0] in ("-h", "--help", "help"):
        print(_listing(commands))  # noqa: T201
        return 0
    name, *rest = arguments
    if name not in commands:
        print(f"kingpost: there is no command '{name[:40]}': {did_you_mean(name, commands)}", file=sys.stderr)  # noqa: T201
        return 2
    # One truss is far too small to be worth more than one thread, and the processes share the cores.
    for threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
        os.environ.setdefault(threads, "1")
    try:
        status: int = commands[name].load()(rest)
        sys.stdout.flush()
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # Python would complain once more when it flushes the closed pipe at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return status


def _listing(commands: Mapping[str, EntryPoint]) -> str:
    lines = ["usage: kingpost COMMAND [...]", "", "kingpost COMMAND --help says more about one of:", ""]
    lines += [f"  {name:<10} {_summary(commands[name])}" for name in sorted(commands)]
    return "\n".join(lines)


def _summary(command: EntryPoint) -> str:
    """First line of a command's docstring, read without importing what the command needs."""
    try:
        spec = find_spec(command.module)
        tree = ast.parse(Path(spec.origin).read_bytes()) if spec and spec.origin else ast.Module([], [])
    except (ImportError, OSError, SyntaxError):
        return "(not installed here)"
    found = [node for node in tree.body if isinstance(node, ast.FunctionDef) and node.name == command.attr]
    return ((ast.get_docstring(found[0]) if found else "") or "").partition("\n")[0]


if __name__ == "__main__":
    sys.exit(main())
