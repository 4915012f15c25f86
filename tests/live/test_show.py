"""`railbond show`: a page for this machine alone, which follows the plan as it is saved."""

from __future__ import annotations

import http.client
import os
import signal
import socket
import subprocess
import sys
from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest

from page.browser import browser
from railbond.command import main
from railbond.commands.show import _news
from railbond.loopback import Loopback

PLAN = """\
plan      "Mill siding"
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
segment   west  stop -> stop  60 cm
feeder    main -> west
"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "mill.trackplan"
    path.write_text(PLAN)
    return path


@pytest.fixture
def shown(plan: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    paths = os.pathsep.join(filter(None, sys.path))
    process = subprocess.Popen(
        [sys.executable, "-u", "-m", "railbond", "show", str(plan)],
        stdout=subprocess.PIPE, text=True, env=os.environ | {"PYTHONPATH": paths},
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),  # which a shell's background jobs ignore
    )  # fmt: skip
    assert process.stdout
    yield process, process.stdout.readline().split()[-1]
    process.kill()
    process.wait()


def asked(address: str, path: str | None = None, **headers: str) -> tuple[int, bytes]:
    parts = urlsplit(address)
    connection = http.client.HTTPConnection(parts.hostname or "", parts.port, timeout=20)
    connection.request("GET", parts.path if path is None else path, headers=headers)
    answer = connection.getresponse()
    return answer.status, answer.read()


def test_it_is_for_this_machine_and_whoever_knows_the_secret(shown: tuple[Any, str]) -> None:
    _, address = shown
    assert urlsplit(address).hostname == "127.0.0.1"
    assert asked(address)[0] == 200
    assert asked(address, "/")[0] == 404
    assert asked(address, "/guess/")[0] == 404
    assert asked(address, Host="evil.example")[0] == 404
    assert asked(address, Origin="http://evil.example")[0] == 404


def test_ctrl_c_ends_it(shown: tuple[subprocess.Popen[str], str]) -> None:
    process, _ = shown
    process.send_signal(signal.SIGINT)
    assert process.wait(timeout=20) == 0


def test_it_follows_the_plan_and_keeps_the_last_picture_of_a_broken_one(shown: tuple[Any, str], plan: Path) -> None:
    _, address = shown
    with browser() as running:
        page = running.new_page()
        page.goto(address)
        assert page.locator("#drawing path[data-p='west']").count() > 0
        plan.write_text(PLAN.replace("west", "east"))
        page.wait_for_selector("#drawing path[data-p='east']", state="attached", timeout=20_000)
        plan.write_text(PLAN.replace("west", "east") + "segment what\nsegment why\n")
        page.wait_for_selector("#banner:not([hidden])", timeout=20_000)
        assert "Lines 6 and 7 cannot be read" in page.inner_text("#banner")
        assert "2 errors" in page.inner_text("#verdict")
        assert page.locator("#drawing path[data-p='east']").count() > 0
        plan.write_text(PLAN)
        page.wait_for_selector("#banner", state="hidden", timeout=20_000)
        # a file that is written is empty for a moment: what is waited for is the picture of all of it
        page.wait_for_selector("#drawing path[data-p='west']", state="attached", timeout=20_000)


def test_whoever_goes_away_or_asks_nonsense_leaves_the_terminal_alone(capfd: pytest.CaptureFixture[str]) -> None:
    served = Loopback(lambda: "x" * 5_000_000)
    served.start()
    port = served.http.server_port
    for path in ("", "news?after=" + "9" * 5000, "news?after=-1"):
        with socket.create_connection(("127.0.0.1", port)) as line:
            line.sendall(f"GET /{served.secret}/{path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n\r\n".encode())
            served.tell({})
    assert asked(served.address)[0] == 200
    served.stop()
    assert capfd.readouterr().err == ""


@pytest.mark.parametrize("port", ["65536", "-1", "1e3", "9" * 5000])
def test_a_port_that_cannot_be_is_refused(plan: Path, port: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["show", str(plan), "--port", port]) == 2
    assert "expected a port from 0 to 65535" in capsys.readouterr().err


def test_news_heed_the_settings_and_what_cannot_be_decoded(plan: Path) -> None:
    plan.write_text(PLAN.replace("feeder    main -> west\n", ""))
    (plan.parent / "railbond.toml").write_text('[rules]\nunfed-rail = "note"\n')
    options = Namespace(path=str(plan), reach=[])
    news, _ = _news(options)
    assert {one["level"] for one in news["shown"]["findings"] if one["rule"] == "unfed-rail"} == {"note"}
    plan.write_bytes(b"# \xff\n")
    news, read = _news(options)
    assert "not UTF-8" in news["stale"] and str(plan) in read


def test_news_wait_for_a_version() -> None:
    served = Loopback(lambda: "page")
    served.tell({"shown": 1})
    assert served.news(0) == {"version": 1, "shown": 1}
    served.tell({"shown": 2, "changes": 3, "since": "a"})
    assert served.news(1, "a") == {"version": 2, "changes": 3, "since": "a"}
    assert served.news(1, "b") == served.news(0) == {"version": 2, "shown": 2, "since": "a"}
    served.http.server_close()
