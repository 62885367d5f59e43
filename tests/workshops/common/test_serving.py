"""Serving: a port that is taken is told, and what a restart cut off is marked."""

from __future__ import annotations

import socket
from argparse import ArgumentTypeError
from io import StringIO
from typing import Any

import pytest
from django.core.management import CommandError

from inventory.places.models import Shop
from workshops.common import bench, processes, serving
from workshops.common.models import Job


def test_a_taken_port_is_refused_with_another(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("waitress.serve", lambda *args, **options: pytest.fail("it served"))
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        with pytest.raises(CommandError, match="Try another port"):
            serving.serve(StringIO(), host="127.0.0.1", port=port)


def test_the_address_is_told_before_serving(monkeypatch: pytest.MonkeyPatch) -> None:
    served: dict[str, Any] = {}
    monkeypatch.setattr("waitress.serve", lambda app, **options: served.update(options))
    with socket.create_server(("127.0.0.1", 0)) as probe:
        port = probe.getsockname()[1]
    out = StringIO()
    serving.serve(out, host="127.0.0.1", port=port)
    assert f"http://127.0.0.1:{port}/" in out.getvalue()
    assert served["port"] == port


@pytest.mark.parametrize("text", ["0", "65536", "-1", "http", ""])
def test_what_is_no_port_is_refused(text: str) -> None:
    with pytest.raises(ArgumentTypeError, match="from 1 to 65535"):
        serving.port(text)


def test_jobs_of_an_ended_site_are_marked_when_the_next_begins(shop: Shop) -> None:
    host = processes.this_process().split()[0]
    Job.objects.create(shop=shop, kind="plan_night", state="running", process=f"{host} 1 0")
    out = StringIO()
    serving.make_ready(out)
    assert "stopped: 1." in out.getvalue()
    assert Job.objects.get().state == "cut_off"


def test_a_table_lines_its_columns_up() -> None:
    rows = [("30 people", "0.31 s", "0.5 s"), ("a", "12 s", "")]
    assert bench.table("Placing", rows).splitlines() == [
        "Placing",
        "=======",
        "what       measured  to reach",
        "-----------------------------",
        "30 people  0.31 s    0.5 s",
        "a          12 s",
    ]


def test_a_measurement_nobody_wrote_is_refused_with_those_there_are(tmp_path: Any) -> None:
    (tmp_path / "bench_placing.py").touch()
    with pytest.raises(CommandError, match="There are: placing"):
        bench.run("flying", tmp_path)
