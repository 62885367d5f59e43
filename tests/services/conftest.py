"""Real servers: Redis and PostgreSQL, started for the tests on ports of their own.

On a developer's machine a missing server skips its tests with the reason; with ``CI=true``
it fails them, so that nobody believes they ran.
"""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import psycopg
import pytest
import redis

from tests.services.site import manage


def missing(what: str, package: str) -> None:
    """Skip, or fail where everything is meant to be installed."""
    says = f"{what} is not installed here: apt-get install {package}"
    if os.environ.get("CI", "").lower() in ("1", "true", "yes"):
        pytest.fail(says)
    pytest.skip(says)


def free_port() -> int:
    """A port of the loopback that nobody listens on now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def wait_until(answers: Callable[[], object], *, seconds: float = 20) -> None:
    """Ask until the server answers."""
    end = time.monotonic() + seconds
    while True:
        try:
            answers()
            return
        except Exception:
            if time.monotonic() > end:
                raise
            time.sleep(0.1)


@pytest.fixture(scope="session")
def redis_url(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A Redis server that keeps nothing and ends with the tests."""
    binary = shutil.which("redis-server")
    if not binary:
        missing("Redis", "redis-server")
    port, folder = free_port(), tmp_path_factory.mktemp("redis")
    run = [binary, "--port", str(port), "--bind", "127.0.0.1", "--save", "", "--dir", str(folder)]
    server = subprocess.Popen(run, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        wait_until(redis.Redis(port=port).ping)
        yield f"redis://127.0.0.1:{port}/0"
    finally:
        server.terminate()
        server.wait(10)


@pytest.fixture(scope="session")
def postgres_url() -> Iterator[str]:
    """A PostgreSQL cluster of our own, or the server that TEST_POSTGRES_URL names."""
    given = os.environ.get("TEST_POSTGRES_URL")
    if given:
        yield given
        return
    binaries = postgres_binaries()
    if binaries is None:
        missing("PostgreSQL", "postgresql")
    # Not below pytest's own folder: the server's user may not look into that of root.
    folder = Path(as_server(["mktemp", "-d", "/tmp/winterbench-pg-XXXXXX"]).strip())
    port = free_port()
    try:
        as_server([binaries / "initdb", "-D", folder, "-A", "trust", "-U", "winterbench", "-N"])
        options = f"-p {port} -h 127.0.0.1 -k {folder} -c fsync=off"
        as_server([binaries / "pg_ctl", "-D", folder, "-o", options, "-w", "-l", folder / "log",
                   "start"])  # fmt: skip
        url = f"postgres://winterbench@127.0.0.1:{port}/postgres"
        wait_until(lambda: psycopg.connect(url).close())
        yield url
    finally:
        as_server([binaries / "pg_ctl", "-D", folder, "-m", "immediate", "stop"], check=False)
        shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture(scope="session")
def new_database(postgres_url: str) -> Callable[[str], str]:
    """Makes a migrated database of that name on the server, as a copy of one made once."""
    base = postgres_url.rsplit("/", 1)[0]

    def run(*statements: str) -> None:
        with psycopg.connect(postgres_url, autocommit=True) as server:
            for statement in statements:
                server.execute(statement.encode())

    def make(name: str) -> str:
        run(f"DROP DATABASE IF EXISTS {name}", f"CREATE DATABASE {name} TEMPLATE migrated")
        return f"{base}/{name}"

    run("DROP DATABASE IF EXISTS migrated", "CREATE DATABASE migrated")
    manage("migrate", "--verbosity", "0", DATABASE_URL=f"{base}/migrated")
    return make


def postgres_binaries() -> Path | None:
    """Where initdb and pg_ctl are: on the path, or where Debian keeps them."""
    if found := shutil.which("initdb"):
        return Path(found).parent
    kept = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    return kept[-1].parent if kept else None


def as_server(command: list[object], *, check: bool = True) -> str:
    """Run as a user the server accepts: PostgreSQL refuses to run as root."""
    words = [str(word) for word in command]
    if os.geteuid() == 0:
        words = ["runuser", "-u", "postgres", "--", *words]
    # The output goes to a file or nowhere: a started server would keep a pipe open.
    quiet = subprocess.DEVNULL if "start" in words else subprocess.PIPE
    done = subprocess.run(
        words, stdout=quiet, stderr=subprocess.STDOUT, text=True, cwd="/", check=False
    )
    if check and done.returncode:
        pytest.fail(f"{' '.join(words)} ended with {done.returncode}: {done.stdout}")
    return done.stdout or ""
