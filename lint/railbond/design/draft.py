"""A plan and the lines that are written into it, each with its reason."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.doorway import enter
from railbond.findings import Finding
from trackplan.edit import Edit, add_line, apply
from trackplan.read import read
from trackplan.span import Source, Span
from trackplan.tidy import lay_out

OpenText = Callable[[str], str]

GROUPS = (
    ("power", ("booster", "district", "block", "reverser", "bus")),
    ("cuts", ("gap",)),
    ("turnouts", ("cut", "bond", "frog")),
    ("drops", ("feeder",)),
)
"""In which order new lines follow one another at the end of a plan that has none of their kind yet, and their heads."""


class WrittenLine(NamedTuple):
    """A statement that is written into the plan, and why. `about` is the piece or supply that it serves."""

    text: str
    why: str
    about: str = ""

    @property
    def kind(self) -> str:
        return self.text.split(None, 1)[0]


def in_words(names: list[str]) -> str:
    """`west`; `west and line`; `west, line and mill`."""
    return " and ".join([*([", ".join(names[:-1])] if names[1:] else []), *names[-1:]])


class Draft:
    """A plan by its path, its text as it was read, and the lines written so far."""

    def __init__(self, root: str, open_text: OpenText) -> None:
        self.root, self.open_text = root, open_text
        self.before = open_text(root)
        self.lines: list[WrittenLine] = []
        self.findings: list[Finding] | None = None
        """What is found in the plan with its lines, once that was asked."""
        self.dearest = 0.0
        """The most steps of effort that it took to find that."""

    def write(self, *lines: WrittenLine) -> None:
        """Adds lines; what was known of the plan is known no more."""
        self.lines += [line for line in lines if line not in self.lines]
        self.forget()

    def put(self, lines: list[WrittenLine]) -> None:
        """Puts other lines in the place of all that were written."""
        self.lines = list(lines)
        self.forget()

    def forget(self) -> None:
        self.findings = None
        for name in ("facts", "text"):
            self.__dict__.pop(name, None)

    @cached_property
    def text(self) -> str:
        """The plan with the lines in it."""
        return written(Source(self.root, self.before), self.lines)

    @cached_property
    def facts(self) -> Facts:
        """The facts of the plan with the lines in it."""
        return enter(self.root, self.opened).facts

    def opened(self, path: str) -> str:
        """A file's text, that of the plan as it is by now."""
        return self.text if path == self.root else self.open_text(path)

    def has(self, kind: str) -> bool:
        """Whether such a line was written."""
        return any(line.kind == kind for line in self.lines)


def written(source: Source, lines: list[WrittenLine]) -> str:
    """A plan's text with lines added: each kind below the last of its kind, and what is new to the plan at its end."""
    last: dict[str, Span] = {}
    there: dict[str, list[str]] = {}
    for one in read(source).statements:
        kind = _kind(source, one.at)
        last[kind] = one.at
        there.setdefault(kind, []).append(" ".join(source.text[one.at.start : one.at.end].split()))
    edits, blocks = list[Edit](), list[str]()
    for head, kinds in GROUPS:
        waiting: dict[str, list[str]] = {}
        for kind in kinds:
            after = last.get(kind) or _before(last, kinds, kind)
            own = [line.text for line in lines if line.kind == kind]
            if after and own:
                columns = _columns([*there.get(kind, ()), *own], _edge(source, after))[-len(own) :]
                edits.append(add_line(after, "\n".join(columns)))
            elif own:
                waiting[kind] = own
        new = [text for own in waiting.values() for text in own]
        blocks += ["\n".join([f"# {head}", *_columns(new)])] if new else []
    text = apply(source, edits)
    if not blocks:
        return text
    newline = source.newline
    end = text if text.endswith("\n") or not text else text + newline
    return end + newline + (newline * 2).join(block.replace("\n", newline) for block in blocks) + newline


def _kind(source: Source, at: Span) -> str:
    return source.text[at.start : at.end].split(None, 1)[0]


def _before(last: dict[str, Span], kinds: tuple[str, ...], kind: str) -> Span | None:
    """Where a kind that the plan does not have follows in its group: below the last of what comes before it."""
    found = [last[one] for one in kinds[: kinds.index(kind)] if one in last]
    return max(found, key=lambda at: at.end, default=None)


def _edge(source: Source, at: Span) -> int:
    """In which column the second word of a line stands."""
    text = source.text[at.start : at.end]
    return len(text) - len(text.split(None, 1)[-1]) if len(text.split(None, 1)) > 1 else 0


def _columns(lines: list[str], edge: int = 0) -> list[str]:
    """Lines laid out in columns, the keyword as wide as in those above."""
    texts = lay_out(read(Source("lines", "\n".join(lines) + "\n"))).splitlines()
    words = [text.split(None, 1) for text in texts]
    return [
        f"{first.ljust(edge - 1)} {rest}" if edge else text for text, (first, rest) in zip(texts, words, strict=True)
    ]
