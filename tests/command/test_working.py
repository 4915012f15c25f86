"""The bar that shows that long work is going on."""

from __future__ import annotations

import io
import time

import pytest

from railbond.commands import _working
from railbond.commands._working import Working


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.fixture(autouse=True)
def hasty(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(_working, "PATIENCE", 0.05)
    monkeypatch.setattr(_working, "PACE", 0.02)


def test_long_work_shows_a_bar_and_takes_it_away(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal()
    monkeypatch.setattr("sys.stderr", terminal)
    with Working("drawing") as work:
        work.done(1, 2)
        for _ in range(100):
            if terminal.getvalue():
                break
            time.sleep(0.05)
    shown = terminal.getvalue()
    assert f"[{'#' * 15}{' ' * 15}] drawing" in shown
    assert shown.rpartition("\r")[0].endswith(" ") and shown.endswith("\r")


def test_short_work_shows_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(_working, "PATIENCE", 60.0)
    terminal = Terminal()
    monkeypatch.setattr("sys.stderr", terminal)
    with Working("drawing"):
        pass
    assert terminal.getvalue() == ""


def test_what_is_piped_stays_clean(monkeypatch: pytest.MonkeyPatch) -> None:
    pipe = io.StringIO()
    monkeypatch.setattr("sys.stderr", pipe)
    with Working("drawing"):
        time.sleep(0.2)
    assert pipe.getvalue() == ""


def test_work_that_breaks_off_takes_its_bar_away(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal()
    monkeypatch.setattr("sys.stderr", terminal)
    with pytest.raises(ValueError), Working("drawing"):
        for _ in range(100):
            if terminal.getvalue():
                break
            time.sleep(0.05)
        raise ValueError
    assert terminal.getvalue().endswith("\r")
