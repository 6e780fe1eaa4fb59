"""``kingpost web``, ``recorder`` and ``sweep``: one part each, for those who supervise them otherwise."""

from __future__ import annotations

import argparse
import signal
from typing import Any, NoReturn

from service.commands.starting import CannotStart, opened_records, with_settings
from service.settings import Settings

THREADS = 32
"""A class of thirty sends in the same minute; each request waits for the database, not for the processor."""


def web(arguments: list[str]) -> int:
    """Serve the pages."""
    argparse.ArgumentParser("kingpost web", description=web.__doc__).parse_args(arguments)
    return with_settings("web", _web)


def recorder(arguments: list[str]) -> int:
    """Take in what the workers answer."""
    argparse.ArgumentParser("kingpost recorder", description=recorder.__doc__).parse_args(arguments)
    return with_settings("recorder", _recorder)


def sweep(arguments: list[str]) -> int:
    """Send again what got lost on the way."""
    argparse.ArgumentParser("kingpost sweep", description=sweep.__doc__).parse_args(arguments)
    return with_settings("sweep", _sweep)


def _web(settings: Settings) -> None:
    import waitress

    from service.app import create_app

    opened_records(settings).engine.dispose()
    app = create_app(settings)
    signal.signal(signal.SIGTERM, _leave)
    try:
        waitress.serve(
            app,
            host=settings.host,
            port=settings.port,
            threads=THREADS,
            ident=None,
            # Somebody who sends a photograph gets our page about it; what is larger still, waitress refuses itself.
            max_request_body_size=16 * 1024 * 1024,
            # Whether a forwarding header is believed is for the application to say, which counts the hops.
            clear_untrusted_proxy_headers=not settings.proxy_hops,
        )
    except OSError as error:
        raise CannotStart(f"cannot listen on {settings.host} port {settings.port}: {error.strerror}.") from None


def _recorder(settings: Settings) -> None:
    from service.recorder.app import recorder_app, run_recorder

    run_recorder(recorder_app(opened_records(settings), settings.broker))


def _sweep(settings: Settings) -> None:
    from service.sending import Sending
    from service.sweep import run

    records = opened_records(settings)
    signal.signal(signal.SIGTERM, _leave)
    run(records, Sending(records, settings.broker))


def _leave(*_: Any) -> NoReturn:
    raise SystemExit(0)
