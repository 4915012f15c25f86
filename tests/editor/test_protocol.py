"""What comes too early, too late or in no shape is answered by the code that fits; what is framed wrongly ends the
connection with a word; and a server whose editor is gone ends."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from editor.documents import YARD
from editor.wire import Wire
from railbond.editor.features import server
from railbond.editor.protocol import TEXTS

HOVER = "textDocument/hover"


@pytest.fixture
def wire(tmp_path: Path) -> Iterator[Wire]:
    with Wire(tmp_path) as found:
        yield found


def place(wire: Wire, line: int = 0, character: int = 0) -> dict[str, object]:
    return {"textDocument": {"uri": wire.uri("yard")}, "position": {"line": line, "character": character}}


def test_the_library_puts_no_text_together() -> None:
    """What it heard of a document's text it would put together line by line at every key, for nobody."""
    heard = server().protocol.fm
    assert set(TEXTS) <= heard.features.keys() - heard.builtin_features.keys()


def test_what_comes_before_initialize_and_after_shutdown(wire: Wire) -> None:
    wire.open("yard", YARD)
    assert wire.ask(HOVER, place(wire))["error"]["code"] == -32002
    assert wire.ask("shutdown")["error"]["code"] == -32002
    assert "capabilities" in wire.begin()["result"]
    assert wire.ask("initialize", {"processId": None, "capabilities": {}})["error"]["code"] == -32600
    assert "error" not in wire.ask(HOVER, place(wire))
    assert wire.ask("shutdown")["result"] is None
    assert wire.ask(HOVER, place(wire))["error"]["code"] == -32600
    wire.tell("exit")
    assert wire.ended()[0] == 0


@pytest.mark.parametrize(
    "params", [None, {}, [], "x", {"textDocument": 3}, {"textDocument": {"uri": "x"}, "position": {"line": "no"}}]
)
def test_parameters_in_no_shape(wire: Wire, params: object) -> None:
    wire.begin()
    assert wire.ask(HOVER, params)["error"]["code"] == -32602
    assert wire.ask("workspace/symbol", {"query": "x"})["result"] == []


def test_a_method_that_nobody_knows(wire: Wire) -> None:
    wire.begin()
    assert wire.ask("textDocument/nonsense", {})["error"]["code"] == -32601


@pytest.mark.parametrize(
    ("body", "code"),
    [(b"{", -32700), (b"\xff\xfe", -32700), (b"[" * 100_000, -32700), (b"[]", -32600), (b"3", -32600), (b"{}", -32600)],
)
def test_a_body_that_is_no_message(wire: Wire, body: bytes, code: int) -> None:
    wire.begin()
    wire.send(body)
    assert wire.until(lambda message: "error" in message)["error"]["code"] == code
    assert wire.ask("workspace/symbol", {"query": "x"})["result"] == []


@pytest.mark.parametrize(
    "frame",
    [
        b"Content-Length: many\r\n\r\n{}",
        b"Content-Length: 0\r\n\r\n",
        b"Content-Length: -3\r\n\r\n",
        b"Content-Length: 99999999999\r\n\r\n",
        b"\r\n{}",
        b"{}\n",
        b"GET / HTTP/1.1\r\n",
        b"x" * 10_000,
        b"Content-Length: 3\n\n{}",
    ],
)
def test_a_frame_that_is_none_ends_the_connection(wire: Wire, frame: bytes) -> None:
    wire.begin()
    wire.raw(frame)
    status, told = wire.ended()
    assert status == 2
    assert told.count("\n") == 1 and told.startswith("railbond: the connection to the editor is closed: ")


def test_headers_in_other_letters_and_with_others_are_understood(wire: Wire) -> None:
    body = b'{"jsonrpc":"2.0","id":7,"method":"shutdown"}'
    wire.begin()
    wire.raw(b"content-type: application/vscode-jsonrpc\r\ncontent-length: %d\r\n\r\n%s" % (len(body), body))
    assert wire.until(lambda message: message.get("id") == 7)["result"] is None


def test_a_refused_rename_is_no_fault_in_the_log(wire: Wire) -> None:
    wire.begin()
    wire.open("yard", YARD)
    refused = wire.ask("textDocument/rename", {**place(wire, 4, 11), "newName": "T1"})["error"]
    assert refused["code"] == -32803 and "`T1` is a name already" in refused["message"]
    wire.ask("shutdown")
    wire.tell("exit")
    status, told = wire.ended()
    assert status == 0 and "Traceback" not in told


def test_it_ends_when_its_editor_is_gone(tmp_path: Path) -> None:
    """Even where something else holds the other end of its standard input open."""
    editor = subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE)
    with Wire(tmp_path) as wire:
        wire.begin(processId=editor.pid)
        wire.open("yard", YARD)
        time.sleep(0.2)
        assert wire.process.poll() is None
        editor.kill()
        editor.wait()
        assert wire.ended()[0] == 1


def test_an_address_that_no_file_can_have(wire: Wire) -> None:
    wire.begin()
    for uri in ("file:///x%00.trackplan", "file:///%ff.trackplan", "untitled:yard", "nonsense", ""):
        asked = {"textDocument": {"uri": uri}, "position": {"line": 0, "character": 0}}
        assert wire.ask(HOVER, asked).get("result", 0) is None, uri
        document = {"uri": uri, "languageId": "trackplan", "version": 1, "text": YARD}
        wire.tell("textDocument/didOpen", {"textDocument": document})
        assert "error" not in wire.ask(HOVER, asked), uri


def test_what_steers_is_spelled_out_in_all_that_is_told(wire: Wire) -> None:
    """Messages, hovers, titles and refusals; only edits hold a line as it is."""
    steers = "\x1b[31m\u202e\0"
    wire.begin()
    wire.open("yard", f'{YARD}include "b{steers}.trackplan"\nsegment {steers} stop -> stop 1 m\n')
    wire.until(lambda one: bool(one.get("params", {}).get("diagnostics")))
    asked = {**place(wire, 4, 11), "context": {"diagnostics": []}, "newName": steers}
    asked["range"] = {"start": {"line": 0, "character": 0}, "end": {"line": YARD.count("\n") + 2, "character": 0}}
    assert "is no name" in wire.ask("textDocument/rename", asked)["error"]["message"]
    wire.ask(HOVER, asked)
    actions = wire.ask("textDocument/codeAction", asked)["result"]
    for one in actions:
        one.pop("edit", None)
    text = json.dumps([wire.seen, actions], ensure_ascii=False)
    assert "\\\\x1b" in text and not re.search(r"\\u00(?!a0)|\u202e", text)
