"""The page: drawing, data, style and script in one file that needs nothing from outside and can reach nothing."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping, Sequence
from html import escape
from pathlib import Path
from typing import Any

from railbond.circuit.facts import Facts
from railbond.faces.drawing.drawn import Drawn, PaperWindow, opened
from railbond.faces.drawing.legend import mark_samples, used_marks
from railbond.faces.drawing.picture import PictureChoice, drawing, rooms, title_of
from railbond.faces.drawing.sheets import PAPERS, Paper, TitleBlock, print_style, printed_sheets
from railbond.faces.drawing.staging import stage
from railbond.faces.drawing.style import DARK, INKED, LIGHT, RULES, TINTS
from railbond.findings import Finding

from .electrics import electrics, place, told
from .track import track

HERE = Path(__file__).parent
SCRIPTS = ("graph.js", "train.js", "panes.js", "drawing.js", "hauling.js", "page.js", "news.js")


def railroad(
    facts: Facts,
    findings: Sequence[Finding],
    title: str = "",
    setting: Mapping[str, str] | None = None,
    printed: tuple[TitleBlock, Paper] | None = None,
) -> dict[str, Any]:
    """All that the page shows: the drawing as marks of SVG and their frame, and the rail graph, the findings and the
    ways of trains as data.

    It begins with the points as in `setting`, all others for their first route, and prints on sheets as `printed` says.
    """
    scene = stage(facts.layout, rooms(facts))
    name = title or title_of(facts) or "The railroad"
    look = PictureChoice("", legend=False, listed=False, styled=False, live=True)
    drawn = drawing(facts, findings, {}, look, scene)._replace(title=name)
    block, paper = printed or (None, PAPERS["a4"])
    return {
        "title": name,
        "frame": PaperWindow(*map(round, drawn.frame)),
        "marks": drawn.marks,
        "words": drawn.words,
        "kinds": used_marks(facts, scene),
        "sheets": printed_sheets(drawn, block, paper, "track") if block else "",
        "paper": paper,
        "graph": electrics(facts),
        "setting": dict(setting or {}),
        "findings": told(facts, findings),
        "track": track(facts, scene),
        "cells": {piece: cell.at for piece, cell in scene.cells.items()},
        "files": list(facts.sources),
        "pieces": {name: place(facts.sources, one.statement.at) for name, one in facts.layout.pieces.items()},
    }


def page(shown: Mapping[str, Any], follows: str = "") -> str:
    """One self-contained HTML file; `follows` is the address, on its own origin, at which it asks for changes.

    Its content policy lets in this very script and style and nothing else.
    """
    script, style = _scripts(), _style() + print_style(Paper(*shown["paper"]))
    asks = "'self'" if follows else "'none'"
    policy = (
        f"default-src 'none'; script-src '{_hash(script)}'; style-src '{_hash(style)}'; img-src data:;"
        f" connect-src {asks}; base-uri 'none'; form-action 'none'"
    )
    data = {key: value for key, value in shown.items() if key not in ("marks", "sheets")} | {"follows": follows}
    parts = {
        "POLICY": policy, "TITLE": escape(shown["title"]), "STYLE": style, "SCRIPT": script,
        "SVG": _svg(shown), "SHEETS": shown["sheets"], "WORDS": in_items(shown["words"]), "KEYS": _keys(),
        "DATA": _inert(data),
    }  # fmt: skip
    text = _text("page.html")
    for key, value in parts.items():
        text = text.replace(f"<!--{key}-->", value)
    return text


def _svg(shown: Mapping[str, Any]) -> str:
    """The drawing, each mark an element of its own, so that it can be replaced by itself."""
    marks = "".join(f"<g>{one}</g>" for one in shown["marks"])
    drawn = Drawn(shown["marks"], PaperWindow(*shown["frame"]), shown["title"], shown["words"], list)
    return f'{opened(drawn, styled=False)}<g id="track" class="rb">{marks}</g></svg>'


def _keys() -> str:
    """What every mark says; the script shows those that the drawing has."""
    return "".join(f'<li data-mark="{mark}" hidden>{drawn} {escape(said)}</li>' for mark, drawn, said in mark_samples())


def in_items(words: Sequence[str]) -> str:
    """The drawing in words, as a list."""
    return "".join(f"<li>{escape(one)}</li>" for one in words)


def _style() -> str:
    """The drawing's own rules with colors that can change: by the reader's scheme, or an editor's theme."""
    inks = "".join(
        f".rb .rail.{ink},.rb .frog.{ink},.rb .wire.{ink}{{stroke:var(--{ink})}}.rb .solder.{ink}{{fill:var(--{ink})}}"
        for ink in INKED
    )
    tints = "".join(
        f".rb .tint{n}{{stroke:var(--tint{n})}}.rb .district.name{n}{{fill:var(--name{n})}}"
        for n in range(1, TINTS + 1)
    )
    light, dark = ("".join(f"--{name}:{color};" for name, color in one.items()) for one in (LIGHT, DARK))
    schemes = (
        f":root,body.vscode-light,body.vscode-high-contrast-light{{{light}}}"
        f"@media screen and (prefers-color-scheme:dark){{:root{{{dark}}}}}"
        f"body.vscode-dark,body.vscode-high-contrast:not(.vscode-high-contrast-light){{{dark}}}"
        f"body.vscode-light,body.vscode-high-contrast-light{{{light}}}@media print{{:root,body{{{light}}}}}"
    )
    return schemes + RULES + inks + tints + _text("live.css")


def _scripts() -> str:
    """The script, one file after the other, in a scope of its own."""
    return '"use strict";\n{\n' + "\n".join(_text(name) for name in SCRIPTS) + "\n}\n"


def _text(name: str) -> str:
    return (HERE / name).read_text(encoding="utf-8")


def _hash(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def _inert(data: Mapping[str, Any]) -> str:
    """JSON that can stand in a script element, whatever a plan's texts hold."""
    return json.dumps(data, separators=(",", ":")).replace("<", "\\u003c").replace("\u2028", "\\u2028")
