"""A real VS Code workbench in a real browser, with the extension as it is packed."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import pytest

from needs import program
from page.browser import browser

PATIENCE = 1000 * int(os.environ.get("RAILBOND_PATIENCE", "120"))
"""Milliseconds: on a busy machine the workbench alone takes half a minute to come up."""
STARTS = TRIES = 8
INPUT = ".quick-input-widget .quick-input-box input:visible"
SETTINGS = {
    "workbench.startupEditor": "none", "workbench.colorTheme": "Default Light Modern", "files.autoSave": "off",
    "security.workspace.trust.enabled": False, "telemetry.telemetryLevel": "off", "update.mode": "none",
    "editor.accessibilitySupport": "off", "workbench.tips.enabled": False, "editor.minimap.enabled": False,
    "explorer.autoReveal": False, "editor.hover.delay": 50, "extensions.ignoreRecommendations": True,
}  # fmt: skip


def installed() -> Path:
    """Where `.ci/workbench` has put it. Without it a test is skipped, and fails where RAILBOND_WORKBENCH names it."""
    home = Path(os.environ.get("RAILBOND_WORKBENCH", Path.home() / ".cache" / "railbond-workbench"))
    if (home / "ready").exists() and (home / "trackplan.vsix").exists():
        return home
    if "RAILBOND_WORKBENCH" in os.environ:
        pytest.fail("the workbench is not installed; `.ci/workbench FOLDER` must install it")
    pytest.skip("the workbench is not installed; `.ci/workbench ~/.cache/railbond-workbench` does")


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


class Workbench:
    """One window on a folder of plans."""

    def __init__(self, page: Any, folder: Path, user: Path) -> None:
        self.page, self.folder, self.user = page, folder, user

    def open(self, name: str) -> None:
        row = f'.explorer-folders-view .monaco-list-row[aria-label^="{name}"]'
        self.page.wait_for_selector(row)
        self.page.dblclick(row)
        self.page.wait_for_selector(f'.tab.active[data-resource-name="{name}"]')
        self.page.wait_for_selector(".editor-group-container.active .view-line")
        self.page.click(".editor-group-container.active .view-lines")

    def command(self, words: str) -> None:
        self._until_shown("F1", INPUT + ":focus")
        self.page.keyboard.type(words)
        row = f'.quick-input-list .monaco-list-row.focused:has-text("{words}")'
        self._until_shown("", row, lambda: self._again(words))
        self.page.keyboard.press("Enter")

    def _again(self, words: str) -> None:
        """A command of the extension is known only once it runs: asks anew."""
        self.page.keyboard.press("Escape")
        self._until_shown("F1", INPUT + ":focus")
        self.page.keyboard.type(words)

    def _until_shown(self, key: str, selector: str, again: Callable[[], None] = lambda: None) -> None:
        """Presses a key until something is there: one is lost while the workbench is still coming up."""
        from playwright.sync_api import TimeoutError as NotInTime

        for _ in range(TRIES):
            if key:
                self.page.keyboard.press(key)
            with suppress(NotInTime):
                self.page.wait_for_selector(selector, timeout=PATIENCE / TRIES)
                return
            again()
        pytest.fail(f"never there: {selector}")

    def to(self, line: int, column: int = 1) -> None:
        self._until_shown("Control+g", INPUT + ":focus")
        self.page.keyboard.type(f"{line}:{column}")
        self.page.keyboard.press("Enter")
        self.page.wait_for_selector(f'.statusbar :text("Ln {line}, Col {column}")')

    def at(self, line: int) -> None:
        """Waits for the cursor on a line; the status bar tells of it only while the text itself is in front."""
        self.page.wait_for_selector(f'.line-numbers.active-line-number:text-is("{line}")')

    def status(self, words: str) -> None:
        """Waits for the plan's verdict in the status bar."""
        self.page.wait_for_selector(f'.statusbar-item:has-text("railbond: {words}")')

    def save(self) -> None:
        self.page.keyboard.press("Control+s")
        self.page.wait_for_selector(".tab.active:not(.dirty)")

    def text(self, name: str) -> str:
        return (self.folder / name).read_text(encoding="utf-8")

    def until(self, holds: Any, what: str) -> None:
        end = time.monotonic() + PATIENCE / 1000
        while not holds():
            assert time.monotonic() < end, f"never happened: {what}"
            self.page.wait_for_timeout(100)

    @property
    def panel(self) -> Any:
        """The railroad's own page, two frames deep."""
        return self.page.frame_locator("iframe.webview").frame_locator("iframe#active-frame")


@contextmanager
def workbench(folder: Path, home: Path, user: Path, **settings: object) -> Iterator[Workbench]:
    """A workbench on a folder, the extension installed from its file as README says, served to this machine alone and
    ended with the block."""
    extensions, data = user / "extensions", user / "data"
    (data / "User").mkdir(parents=True)
    server = {"railbond.server": str(Path(sys.executable).with_name("railbond"))}
    (data / "User" / "settings.json").write_text(json.dumps(SETTINGS | server | settings))
    port = free_port()
    own = home / "run-node"
    node, entry = str(own) if own.exists() else program("node"), home / "node_modules/code-server/out/node/entry.js"
    program_of = [node, str(entry), "--user-data-dir", str(data), "--extensions-dir", str(extensions)]
    install = [*program_of, "--install-extension", str(home / "trackplan.vsix")]
    told = subprocess.run(install, capture_output=True, text=True, env=os.environ | {"HOME": str(user)})
    assert told.returncode == 0 and "successfully installed" in told.stdout, told.stderr or told.stdout
    call = [*program_of, "--auth", "none", "--bind-addr", f"127.0.0.1:{port}", "--disable-telemetry"]
    call += ["--disable-update-check", "--disable-workspace-trust"]
    with _served(call, port, user), browser() as running:
        page = running.new_page(viewport={"width": 1500, "height": 950})
        page.set_default_timeout(PATIENCE)
        page.goto(f"http://{'localhost'}:{port}/?folder={folder}", wait_until="domcontentloaded")
        yield Workbench(page, folder, user)


@contextmanager
def _served(call: list[str], port: int, user: Path) -> Iterator[None]:
    """The workbench, ended with the block. On a busy machine it gives up on itself after ten seconds, and is started
    again."""
    for _ in range(STARTS):
        with (user / "log").open("ab") as log:
            process = subprocess.Popen(
                call, stdin=subprocess.DEVNULL, stdout=log, stderr=log, env=os.environ | {"HOME": str(user)},
                start_new_session=True,
            )  # fmt: skip
        try:
            if _answers(port, process):
                yield
                return
        finally:
            with suppress(ProcessLookupError):
                os.killpg(process.pid, signal.SIGKILL)
            process.wait()
    pytest.fail(f"the workbench did not start: {(user / 'log').read_text()[-400:]}")


def _answers(port: int, process: subprocess.Popen[bytes]) -> bool:
    """Whether it answers; no longer waited for once it has ended."""
    for _ in range(1200):
        with socket.socket() as one:
            if one.connect_ex(("127.0.0.1", port)) == 0:
                return True
        if process.poll() is not None:
            return False
        time.sleep(0.1)
    return False


def server_processes(user: Path) -> list[int]:
    """The language servers that run for the workbench of a user: those that have that home."""
    return [int(entry.name) for entry in Path("/proc").iterdir() if entry.name.isdecimal() and _serves(entry, user)]


def _serves(entry: Path, user: Path) -> bool:
    try:
        words, home = (entry / "cmdline").read_bytes().split(b"\0"), (entry / "environ").read_bytes().split(b"\0")
    except OSError:
        return False
    return b"serve" in words and f"HOME={user}".encode() in home
