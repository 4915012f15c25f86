"""What is published belongs to the version that it names: somebody types in two documents, and never sees a finding of
a text that stands there no more."""

from __future__ import annotations

import os
import time
from pathlib import Path
from random import Random

import pytest

from editor.wire import Message, Wire
from railbond.doorway import enter
from railbond.editor.diagnostics import message
from trackplan.span import Source

SHARED = "booster  B1    15 V  5 A\ndistrict main  from B1  trips 4 A\n"
TRACK = """\
include  "shared.trackplan"
segment  line  stop -> J    1.5 m
segment  spur  J -> stop    1.5 m
gap      J     both rails
feeder   main -> line
feeder   main -> spur
"""
THOROUGH = os.environ.get("HYPOTHESIS_PROFILE") == "thorough"
KEYS = 1200 if THOROUGH else 60
"""About a minute of typing, in the thorough profile."""


def typed(text: str, random: Random) -> str:
    """The text after one more change: lines come and go, faults are made and mended."""
    lines = text.splitlines(keepends=True)
    choice = random.randrange(4)
    if choice == 0:
        lines.insert(random.randrange(len(lines)), "# a word\n")
    elif choice == 1 and any(line.startswith("#") for line in lines):
        lines.remove(next(line for line in lines if line.startswith("#")))
    elif choice == 2:
        return (
            text.replace("-> spur\n", "-> spur  crossed\n") if "crossed" not in text else text.replace("  crossed", "")
        )
    else:
        lines.append(f"segment  s{random.randrange(10**6)}  stop -> stop  1 m\n")
    return "".join(lines)


def wanted(folder: Path, name: str, texts: dict[str, str]) -> set[tuple[int, str]]:
    """Line and message of all that an inspection of these texts finds in a document."""
    held = {str(folder / f"{one}.trackplan"): text for one, text in texts.items()}

    def open_text(path: str) -> str:
        if path not in held:
            raise FileNotFoundError(path)
        return held[path]

    path = str(folder / f"{name}.trackplan")
    source = Source(path, held[path])
    found = enter(path, open_text).inspection.findings
    return {(source.line_of(one.at.start), message(one)) for one in found if one.at.path == path}


@pytest.mark.parametrize("seed", [1, 2])
def test_no_finding_of_another_version(tmp_path: Path, seed: int) -> None:
    random, texts = Random(seed), {"one": TRACK, "two": TRACK, "shared": SHARED}
    (tmp_path / "shared.trackplan").write_text(SHARED)
    versions = {"one": [TRACK], "two": [TRACK]}
    with Wire(tmp_path) as wire:
        wire.begin()
        for name in versions:
            wire.open(name, TRACK)
        for _ in range(KEYS):
            name = random.choice(["one", "two"])
            versions[name].append(typed(versions[name][-1], random))
            wire.change(name, len(versions[name]), versions[name][-1])
            time.sleep(random.choice([0.0, 0.01, 0.05, 0.15]))
        last = {wire.uri(name): len(own) for name, own in versions.items()}
        waiting = set(last)

        def is_last(found: Message) -> bool:
            if published(found):
                uri = found["params"]["uri"]
                waiting.difference_update({uri} if found["params"].get("version") == last.get(uri) else ())
            return not waiting

        wire.until(is_last)
        wire.rest(1)
        told = [one["params"] for one in wire.seen if published(one)]
    assert len(told) >= 2  # each document at its end; on a busy machine nothing of what came before
    for one in told:
        name = Path(one["uri"]).stem
        if name in versions:
            now = {**texts, name: versions[name][one["version"] - 1]}
            seen = {(found["range"]["start"]["line"], found["message"]) for found in one["diagnostics"]}
            assert seen == wanted(tmp_path, name, now), (name, one["version"])


def published(found: Message) -> bool:
    return found.get("method") == "textDocument/publishDiagnostics"


def test_a_change_in_one_document_says_nothing_of_another(tmp_path: Path) -> None:
    with Wire(tmp_path) as wire:
        wire.begin()
        for name in ("one", "two"):
            wire.open(name, SHARED + TRACK.partition("\n")[2])
            wire.until(lambda found, name=name: published(found) and found["params"]["uri"] == wire.uri(name))  # type: ignore[misc]
        wire.rest(0.5)
        wire.seen.clear()
        wire.change("one", 2, SHARED + TRACK.partition("\n")[2] + "# more\n")
        wire.until(published)
        wire.rest(0.5)
        assert [one["params"]["uri"] for one in wire.seen if published(one)] == [wire.uri("one")]
