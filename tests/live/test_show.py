"""`railbond show`: a page for this machine alone, which follows the plan as it is saved."""

from __future__ import annotations

import http.client
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest

from page.browser import browser
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
        plan.write_text(PLAN.replace("west", "east") + "segment what\n")
        page.wait_for_selector("#banner:not([hidden])", timeout=20_000)
        assert "Line 6 cannot be read" in page.inner_text("#banner")
        assert page.locator("#drawing path[data-p='east']").count() > 0
        plan.write_text(PLAN)
        page.wait_for_selector("#banner", state="hidden", timeout=20_000)
        assert page.locator("#drawing path[data-p='west']").count() > 0


def test_news_wait_for_a_version() -> None:
    served = Loopback(lambda: "page")
    served.tell({"shown": 1})
    assert served.news(0) == {"version": 1, "shown": 1}
    served.http.server_close()
