"""Serve the site from this machine: what ``serve`` and ``demo`` do in the end."""

from __future__ import annotations

import argparse
import socket
from typing import TextIO

import waitress
from django.core.management import CommandError, call_command
from django.core.management.base import CommandParser, OutputWrapper
from django.core.wsgi import get_wsgi_application

from workshops.common import jobs

THREADS = 8  # one old laptop, a handful of tablets


def add_arguments(parser: CommandParser) -> None:
    """The options that say where the site is served."""
    parser.add_argument("--host", default="127.0.0.1", help="the address to serve on")
    parser.add_argument(
        "--port", type=port, default=8000, help="the port to serve on (8000 unless told)"
    )


def port(text: str) -> int:
    """A port number, refused with what would be one."""
    if not text.isdigit() or not 1 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError(f"“{text}” is no port: write a number from 1 to 65535.")
    return int(text)


def make_ready(out: OutputWrapper | TextIO) -> None:
    """Bring the database up to date; mark what an earlier stop cut off."""
    call_command("migrate", verbosity=0, interactive=False)
    if cut := jobs.mark_cut_off():
        out.write(f"Jobs cut off when the site last stopped: {cut}. They can be run again.\n")


def serve(out: OutputWrapper | TextIO, *, host: str, port: int) -> None:
    """Serve until Ctrl+C.

    Raises
    ------
    CommandError
        When something else already listens there.
    """
    refuse_taken(host, port)
    shown = f"[{host}]" if ":" in host else host
    out.write(f"Winterbench is at http://{shown}:{port}/ (stop it with Ctrl+C)\n")
    out.flush()
    waitress.serve(get_wsgi_application(), host=host, port=port, threads=THREADS, _quiet=True)


def refuse_taken(host: str, port: int) -> None:
    """Stop before any work is done when the site could not be served in the end.

    Raises
    ------
    CommandError
        When something else already listens there.
    """
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family) as probe:
        # As the server will, so that a port left a moment ago is not called taken.
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as error:
            raise CommandError(
                f"Cannot serve on {host}:{port} ({error.strerror}). "
                f"Try another port: --port {port + 1 if port < 65535 else 8000}"
            ) from error
