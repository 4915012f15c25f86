"""`railbond show` follows what is typed where an editor's server has the plan open."""

from __future__ import annotations

import asyncio
import os
import socket
import threading
from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path

import pytest

from railbond.commands.show import _news, _typed
from railbond.unsaved import folder, tell, unsaved

SAVED = "booster B1 15 V 5 A\ndistrict main from B1\nsegment west stop -> stop 60 cm\nfeeder main -> west\n"
TYPED = SAVED.replace("west", "dock")


@pytest.fixture
def plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    path = tmp_path / "mill.trackplan"
    path.write_text(SAVED)
    return path


@pytest.fixture
def texts(plan: Path) -> Iterator[dict[str, str]]:
    """What a server that runs meanwhile has open."""
    held: dict[str, str] = {}
    loop = asyncio.new_event_loop()
    task = loop.create_task(tell(lambda: held))
    thread = threading.Thread(target=lambda: loop.run_until_complete(asyncio.wait([task])))
    thread.start()
    while not os.listdir(str(folder())):
        threading.Event().wait(0.01)
    yield held
    loop.call_soon_threadsafe(task.cancel)
    thread.join()
    loop.close()


def test_what_is_typed_is_shown(plan: Path, texts: dict[str, str]) -> None:
    options = Namespace(path=str(plan), reach=[])
    texts[str(plan)] = TYPED
    typed = _typed([str(plan)])
    news, sources = _news(options, typed)
    assert "dock" in str(news["shown"]["graph"]["conductors"]) and "west" not in str(news["shown"]["graph"])
    assert sources == [str(plan)] and plan.read_text() == SAVED
    assert "west" in str(_news(options)[0]["shown"]["graph"]["conductors"])


def test_of_other_plans_nothing_is_taken(plan: Path, texts: dict[str, str]) -> None:
    texts[str(plan.with_name("other.trackplan"))] = TYPED
    assert _typed([str(plan)]) == {}


def test_a_server_that_ended_leaves_nothing(plan: Path, texts: dict[str, str]) -> None:
    texts[str(plan)] = TYPED
    assert unsaved() == {str(plan): TYPED}
    dead = Path(str(folder())) / "1"
    with socket.socket(socket.AF_UNIX) as one:
        one.bind(str(dead))
    assert unsaved() == {str(plan): TYPED} and not dead.exists()


def test_where_nothing_can_be_written_nobody_is_told(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none() -> str:
        raise FileNotFoundError("there is no folder for temporary files")

    monkeypatch.delenv("XDG_RUNTIME_DIR")
    monkeypatch.setattr("tempfile.gettempdir", none)
    assert unsaved() == {}


def test_a_folder_that_others_may_enter_is_not_trusted(plan: Path) -> None:
    os.mkdir(plan.parent / f"railbond-{os.getuid()}", 0o777)
    os.chmod(plan.parent / f"railbond-{os.getuid()}", 0o777)
    assert folder() is None and unsaved() == {}


@pytest.mark.parametrize("answer", [b"", b"[1]", b"nonsense", b'{"a": 1}', b'\xff{"'])
def test_a_stranger_at_the_socket_harms_nothing(plan: Path, answer: bytes) -> None:
    with socket.socket(socket.AF_UNIX) as one:
        one.bind(str(Path(str(folder())) / "7"))
        one.listen()

        def talk() -> None:
            with one.accept()[0] as other:
                other.sendall(answer)

        thread = threading.Thread(target=talk)
        thread.start()
        assert unsaved() == {}
        thread.join()
