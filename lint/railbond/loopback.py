"""A page that is served on this machine and to nobody else.

It listens on the loopback address, its own address holds a secret, and a request that names another host (as a page
of somebody else's does whose name was pointed at this machine) or comes from another page is not answered.
"""

from __future__ import annotations

import json
import secrets
import sys
from collections.abc import Callable
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Condition, Thread
from typing import Any
from urllib.parse import parse_qs, urlsplit

from railbond.saying import complain

PATIENCE = 20.0
"""Seconds after which a question for news is answered although there are none."""

LONGEST = 16
"""Digits of a version that anybody was ever told."""

HOST = "127.0.0.1"

HEADERS = {
    "Cache-Control": "no-store",
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Content-Security-Policy": "frame-ancestors 'none'",
    "Referrer-Policy": "no-referrer",
}


class _Quiet(ThreadingHTTPServer):
    """Says nothing of a browser that went away while it was answered: that is no fault, and the terminal is the
    user's."""

    daemon_threads = True

    def handle_error(self, _request: Any, _address: Any) -> None:
        if not isinstance(sys.exc_info()[1], ConnectionError):
            complain(f"the page could not be shown ({sys.exc_info()[1]!r})")


class Loopback:
    """Serves one page, and the news of it as they come: each a version and what is to be shown."""

    def __init__(self, page: Callable[[], str], port: int = 0) -> None:
        self.page = page
        self.version = 0
        self.latest: dict[str, Any] = {}
        self.changed = Condition()
        self.secret = secrets.token_urlsafe(24)
        self.http = _Quiet((HOST, port), self._handler())
        self.hosts = {f"{name}:{self.http.server_port}" for name in (HOST, "localhost")}

    @property
    def address(self) -> str:
        return f"http://{HOST}:{self.http.server_port}/{self.secret}/"

    def start(self) -> None:
        Thread(target=self.http.serve_forever, kwargs={"poll_interval": 0.2}, daemon=True).start()

    def stop(self) -> None:
        self.http.shutdown()
        self.http.server_close()

    def tell(self, news: dict[str, Any]) -> None:
        """Has everybody who looks at the page know."""
        with self.changed:
            self.version += 1
            self.latest = news
            self.changed.notify_all()

    def news(self, after: int, has: str = "") -> dict[str, Any]:
        """What is new since a version; waits for it, but not for ever. Of `changes` since a number a page is told that
        `has` what bears it, of all that is `shown` any other."""
        with self.changed:
            self.changed.wait_for(lambda: self.version > after, PATIENCE)
            news = self.latest if self.version > after else {}
            needless = "shown" if has and news.get("since") == has else "changes"
            return {"version": self.version, **{key: one for key, one in news.items() if key != needless}}

    def answer(self, path: str, host: str, origin: str) -> tuple[int, str, str]:
        """Status, kind and text of the answer to a request."""
        parts = urlsplit(path)
        _, secret, rest = [*parts.path.split("/", 2), "", ""][:3]
        known = secrets.compare_digest(secret.encode(), self.secret.encode())
        if not known or host not in self.hosts or origin not in ("", f"http://{host}"):
            return 404, "text/plain", "There is nothing here.\n"
        if rest == "":
            return 200, "text/html", self.page()
        if rest == "news":
            (after,) = parse_qs(parts.query).get("after", ["0"])[:1]
            known_version = int(after) if after.isdecimal() and len(after) < LONGEST else 0
            (has,) = parse_qs(parts.query).get("has", [""])[:1]
            return 200, "application/json", json.dumps(self.news(known_version, has))
        return 404, "text/plain", "There is nothing here.\n"

    def _handler(self) -> type[BaseHTTPRequestHandler]:
        owner = self

        class Handler(BaseHTTPRequestHandler):
            def do_GET(self) -> None:
                host, origin = (self.headers.get(name) or "" for name in ("Host", "Origin"))
                status, kind, text = owner.answer(self.path, host, origin)
                content = text.encode("utf-8", "replace")
                self.send_response(status)
                for name, value in {**HEADERS, "Content-Type": f"{kind}; charset=utf-8"}.items():
                    self.send_header(name, value)
                self.send_header("Content-Length", str(len(content)))
                self.end_headers()
                self.wfile.write(content)

            def log_message(self, format: str, *arguments: object) -> None:
                """Nothing: the terminal is the user's."""

        return Handler
