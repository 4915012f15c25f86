"""The protocol as the editor may rely on it: every request is answered, and by the error code that fits.

The library answers what it understands; what comes too early, too late or in the wrong shape is answered here.
"""

from __future__ import annotations

import json
import logging
from typing import Any, NamedTuple

from lsprotocol import types
from pygls.exceptions import JsonRpcException
from pygls.protocol import LanguageServerProtocol

PARSE_ERROR, INVALID_REQUEST, INVALID_PARAMS = -32700, -32600, -32602
NOT_INITIALIZED = -32002
REQUEST_FAILED = -32803
"""LSP 3.17: the request was understood and cannot be met."""

TEXTS = (types.TEXT_DOCUMENT_DID_OPEN, types.TEXT_DOCUMENT_DID_CHANGE, types.TEXT_DOCUMENT_DID_CLOSE)
"""What the library hears only to have each document's text once more, put together line by line at every key."""


class Misshapen(NamedTuple):
    """A message that has no shape we know: whom to answer, and why it was not understood."""

    id: Any
    method: str
    code: int
    why: str


class PlanProtocol(LanguageServerProtocol):
    """Refuses what comes before `initialize` and after `shutdown`, and what cannot be understood."""

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self.begun = self.over = False
        for kept in TEXTS:
            self.fm.builtin_features.pop(kept)
        logging.getLogger("pygls.protocol.json_rpc").addFilter(is_news)

    def structure_message(self, data: dict[str, Any]) -> Any:
        """The message as a typed one; what does not fit is kept for an answer."""
        try:
            return super().structure_message(data)
        except Exception as error:
            why = str(error.__cause__ or error).strip().splitlines()[:1]
            return Misshapen(data.get("id"), str(data.get("method", "")), INVALID_PARAMS, "".join(why))

    def handle_message(self, message: Any) -> None:
        """Answers a message, or refuses it."""
        if not isinstance(message, Misshapen) and not hasattr(message, "jsonrpc"):
            own = message if isinstance(message, dict) else {}
            message = Misshapen(own.get("id"), "", INVALID_REQUEST, "this is no message of JSON-RPC 2.0")
        refused = self._refused(message)
        if refused is None:
            super().handle_message(message)
        elif (asked := getattr(message, "id", None)) is not None or not getattr(message, "method", ""):
            self.refuse(asked, *refused)

    def _refused(self, message: Any) -> tuple[int, str] | None:
        """Why a message is not heard, if it is not; keeps count of where in its life the server is."""
        method = getattr(message, "method", "")
        if method == types.EXIT or (not method and not isinstance(message, Misshapen)):
            return None
        if isinstance(message, Misshapen):
            return message.code, message.why
        if self.over:
            return INVALID_REQUEST, "the server has been shut down"
        if method == types.INITIALIZE:
            again, self.begun = self.begun, True
            return (INVALID_REQUEST, "the server has been initialized already") if again else None
        self.over = self.begun and method == types.SHUTDOWN
        return None if self.begun else (NOT_INITIALIZED, "the server has not been initialized")

    def refuse(self, asked: Any, code: int, why: str) -> None:
        """Sends an error response."""
        body = json.dumps({"jsonrpc": "2.0", "id": asked, "error": {"code": code, "message": why}})
        if self.writer:
            self.writer.write(f"Content-Length: {len(body)}\r\n\r\n{body}".encode())


def is_news(record: logging.LogRecord) -> bool:
    """Whether a log's reader needs to hear of it: what was refused in plain words is no fault of ours."""
    error = record.exc_info[1] if record.exc_info else None
    return not (isinstance(error, JsonRpcException) and error.code == REQUEST_FAILED)
