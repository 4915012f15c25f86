"""A server at the other end of two pipes, spoken to message by message, in order to say what no library would."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path
from queue import Empty, Queue
from threading import Thread
from typing import Any

from editor.session import SERVE, environment

SECONDS = 150.0
"""A server starts in two seconds; where many others run at once on one machine, in many more."""
Message = dict[str, Any]


class Wire:
    """The server's process; `seen` are all messages that it has sent."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.seen: list[Message] = []
        self._new: Queue[Message | None] = Queue()
        self._number = 0
        pipe = subprocess.PIPE
        self.process = subprocess.Popen(SERVE, stdin=pipe, stdout=pipe, stderr=pipe, env=environment(), cwd=folder)
        Thread(target=self._listen, daemon=True).start()

    def __enter__(self) -> Wire:
        return self

    def __exit__(self, *_: object) -> None:
        self.process.kill()
        self.process.wait()

    def _listen(self) -> None:
        out = self.process.stdout
        assert out
        while header := out.readline():
            length = int(header.partition(b":")[2])
            while out.readline().strip():
                pass
            self._new.put(json.loads(out.read(length)))
        self._new.put(None)

    def raw(self, content: bytes) -> None:
        assert self.process.stdin
        self.process.stdin.write(content)
        self.process.stdin.flush()

    def send(self, message: Any) -> None:
        body = message if isinstance(message, bytes) else json.dumps(message).encode()
        self.raw(b"Content-Length: %d\r\n\r\n%s" % (len(body), body))

    def tell(self, method: str, params: Any = None) -> None:
        self.send({"jsonrpc": "2.0", "method": method, "params": params})

    def ask(self, method: str, params: Any = None) -> Message:
        """The answer to a request: its result or its error."""
        self._number += 1
        number = self._number
        self.send({"jsonrpc": "2.0", "id": number, "method": method, "params": params})
        return self.until(lambda message: message.get("id") == number and "method" not in message)

    def until(self, wanted: Callable[[Message], bool]) -> Message:
        while True:
            message = self._new.get(timeout=SECONDS)
            assert message is not None, "the server has ended"
            self.seen.append(message)
            if wanted(message):
                return message

    def rest(self, seconds: float) -> None:
        """Takes what else comes, until nothing has for a while."""
        while True:
            try:
                message = self._new.get(timeout=seconds)
            except Empty:
                return
            if message is None:
                return
            self.seen.append(message)

    def begin(self, **more: Any) -> Message:
        folders = [{"uri": self.folder.as_uri(), "name": "club"}]
        answer = self.ask("initialize", {"processId": None, "capabilities": {}, "workspaceFolders": folders, **more})
        self.tell("initialized", {})
        return answer

    def uri(self, name: str) -> str:
        return (self.folder / f"{name}.trackplan").as_uri()

    def open(self, name: str, text: str) -> None:
        document = {"uri": self.uri(name), "languageId": "trackplan", "version": 1, "text": text}
        self.tell("textDocument/didOpen", {"textDocument": document})

    def change(self, name: str, version: int, text: str) -> None:
        document = {"uri": self.uri(name), "version": version}
        self.tell("textDocument/didChange", {"textDocument": document, "contentChanges": [{"text": text}]})

    def ended(self) -> tuple[int, str]:
        """The exit status and what was said on standard error."""
        assert self.process.stderr
        status = self.process.wait(SECONDS)
        return status, self.process.stderr.read().decode()
