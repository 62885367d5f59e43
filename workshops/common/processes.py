"""Which process runs a job, and whether it is still there.

A job waits in the memory of the process that was asked (or in Redis) and runs in one
process. When that process ends, nobody will ever finish the job: its row must say so.
"""

from __future__ import annotations

import os
import socket
from pathlib import Path

QUEUED = "queue"  # waits in Redis, which outlives the site


def this_process() -> str:
    """Host, number and start time of this process: ``shop-laptop 4711 882134``."""
    return f"{socket.gethostname()[:40]} {os.getpid()} {_started(os.getpid())}"


def is_gone(process: str) -> bool:
    """Whether the process surely ended; False when it cannot be known from here."""
    host, _, rest = process.partition(" ")
    number, _, started = rest.partition(" ")
    if process == QUEUED or host != socket.gethostname()[:40] or not number.isdigit():
        return False
    try:
        os.kill(int(number), 0)
    except ProcessLookupError:
        return True
    except PermissionError:
        return False
    # Numbers are used again after a restart; the start time tells a namesake apart.
    return started != _started(int(number))


def _started(number: int) -> str:
    """Clock ticks since boot when the process began; empty where the system does not tell."""
    try:
        told = Path(f"/proc/{number}/stat").read_text(encoding="ascii", errors="replace")
    except OSError:
        return ""
    # The command's name, in parentheses, may hold spaces; field 22 is counted from behind it.
    return told.rpartition(")")[2].split()[19]
