"""Log lines: a constant sentence, then ids as fields.  Never a name, never a line of a student's file."""

from __future__ import annotations

import logging
import sys

_USUAL = frozenset(vars(logging.LogRecord("", 0, "", 0, "", (), None))) | {"message", "asctime"}


class Fields(logging.Formatter):
    """``2027-03-01 08:00:00 warning kingpost.sweep: sent again (given_up=0 sent=4)``."""

    def format(self, record: logging.LogRecord) -> str:
        fields = " ".join(f"{key}={vars(record)[key]}" for key in sorted(vars(record).keys() - _USUAL))
        line = super().format(record)
        return f"{line} ({fields})" if fields else line


def set_up_logging(part: str) -> None:
    """Send the log of this process to standard error, each line with the part it comes from."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(Fields(f"%(asctime)s %(levelname)s {part}[%(process)d] %(name)s: %(message)s"))
    logging.basicConfig(level=logging.INFO, handlers=[handler], force=True)
    # These tell of every message and every connection; a warning of theirs is worth reading.
    for chatty in ("celery", "kombu", "alembic", "waitress.queue", "weasyprint", "fontTools"):
        logging.getLogger(chatty).setLevel(logging.WARNING)
