"""A real browser for the page: Debian's Chromium without a window, driven by Playwright."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from needs import program

FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
SIZES = {"phone": (390, 844), "laptop": (1366, 768), "beamer": (1920, 1080)}


@contextmanager
def browser() -> Iterator[Any]:
    """The browser, which is ended with the block."""
    from playwright.sync_api import sync_playwright

    path = program("chromium")
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=path, args=FLAGS)
        try:
            yield running
        finally:
            running.close()


class Tab:
    """A page that is open, with all that it complained of and all that it asked the network for."""

    def __init__(self, running: Any, file: Path, size: str = "laptop", scheme: str = "light") -> None:
        width, height = SIZES[size]
        self.context = running.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)
        self.page = self.context.new_page()
        self.errors: list[str] = []
        self.asked: list[str] = []
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))
        self.page.on("console", lambda said: self.errors.append(said.text) if said.type == "error" else None)
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.goto(file.as_uri())

    def close(self) -> None:
        self.context.close()


def violations(tab: Tab) -> list[str]:
    """What axe-core finds against WCAG 2 A and AA and its own best practices."""
    import axe_playwright_python

    script = Path(axe_playwright_python.__file__).with_name("axe.min.js").read_text(encoding="utf-8")
    tab.page.evaluate(script)
    found = tab.page.evaluate("axe.run(document, {resultTypes: ['violations']})")
    nodes = [(one["id"], node) for one in found["violations"] for node in one["nodes"]]
    return [f"{name}: {node['html'][:160]} {node['failureSummary']}" for name, node in nodes]
