"""Plans as people write them, and slips as people make them: the folders `plans`, `held_out`, `newcomers`,
`advisers`, `veterans`, `teachers` and `wirers`.

Each layout is a folder. `plan.trackplan` is its sound plan (of a set of modules: `meet.trackplan`, with the modules'
plans beside it), and `slips.txt` tells slips of the hand, each made alone in the sound plan:

    swapped wires: the two drops to the bluff track were soldered the wrong way round
    in   town.trackplan
    -    feeder  P1 -> bluff
    +    feeder  P1 -> bluff  crossed
    told segment bluff

First the kind of slip and what happened. `in` names the file, the plan itself unless said. A line after `-` stands in
the sound plan (how it is spaced does not matter), the line after `+` stands there instead. Nothing but `-` is a line
forgotten. Nothing but `+` is a line too many: it goes below the last line that begins with the same word. What is right
again is always the sound plan, or a text that means the same.

The slip must be told at its own line, or at a line that names what it is about: the rail that a drop goes to, the
turnout whose frog or cut it is. Innocent lines of the same kind do not count, and a bus run is told at its own line.
`told` gives the beginning of any other line at which a person would look for it too.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).parent
PLANS, HELD_OUT = HERE / "plans", HERE / "held_out"
NEWCOMERS, ADVISERS, VETERANS = HERE / "newcomers", HERE / "advisers", HERE / "veterans"
TEACHERS, WIRERS = HERE / "teachers", HERE / "wirers"
ONLY_ITSELF = {"bus"}


class Slip(NamedTuple):
    """One slip: `before` and `after` are lines of `file` of the sound plan and of the plan with the slip."""

    kind: str
    words: str
    file: str
    before: tuple[str, ...]
    after: tuple[str, ...]
    told: tuple[str, ...]


class Corpus(NamedTuple):
    """A sound plan: its texts by file name, the one that is inspected, and slips that can be made in it."""

    name: str
    root: str
    texts: dict[str, str]
    slips: list[Slip]

    def with_slip(self, slip: Slip) -> dict[str, str]:
        """The texts with a slip made. Raises ValueError where its lines do not stand in the plan, each once."""
        return {**self.texts, slip.file: "".join(_slipped(self.texts[slip.file], slip))}

    def lines_to_tell(self, slip: Slip) -> set[tuple[str, int]]:
        """The lines of the plan with the slip at which it may be told: files, and lines counted from 0."""
        subjects = {name for line in (*slip.before, *slip.after) for name in _subjects(line)}
        kinds = {line.split()[0] for line in (*slip.before, *slip.after)}
        found = set()
        for file, text in self.with_slip(slip).items():
            for number, line in enumerate(map(_words, text.splitlines())):
                own = file == slip.file and line in map(_words, slip.after)
                names = bool(_names(line) & subjects) and line.split()[0] not in kinds
                if own or names or any(f"{line} ".startswith(f"{_words(told)} ") for told in slip.told):
                    found.add((file, number))
        return found


def corpora(folder: Path) -> list[Corpus]:
    """Every layout of a folder, by name."""
    return [corpus(one) for one in sorted(folder.iterdir()) if one.is_dir()]


def corpus(folder: Path) -> Corpus:
    """One layout."""
    texts = {path.name: path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.trackplan"))}
    root = "meet.trackplan" if "meet.trackplan" in texts else "plan.trackplan"
    return Corpus(folder.name, root, texts, list(_slips((folder / "slips.txt").read_text(encoding="utf-8"), root)))


def _slips(text: str, root: str) -> Iterator[Slip]:
    for paragraph in re.split(r"\n\s*\n", text.strip()):
        head, *rest = paragraph.splitlines()
        kind, _, words = head.partition(": ")
        parts: dict[str, list[str]] = {"in": [], "-": [], "+": [], "told": []}
        for line in rest:
            mark, _, said = line.strip().partition(" ")
            if mark not in parts:
                raise ValueError(f"a slip's line begins with in, -, + or told: {line!r}")
            parts[mark].append(said.strip())
        file = parts["in"][0] if parts["in"] else root
        yield Slip(kind, words, file, tuple(parts["-"]), tuple(parts["+"]), tuple(parts["told"]))


def _slipped(text: str, slip: Slip) -> Iterator[str]:
    lines = text.splitlines(keepends=True)
    gone = [_place(lines, line) for line in slip.before]
    new = dict(zip(gone, slip.after, strict=False))
    for nth, line in enumerate(lines):
        if nth not in gone:
            yield line
        elif nth in new:
            yield f"{new[nth]}\n"
        for more in slip.after[len(gone) :]:
            if nth == _last_of(lines, more.split()[0]):
                yield f"{more}\n"


def _place(lines: list[str], wanted: str) -> int:
    found = [nth for nth, line in enumerate(lines) if _words(line) == _words(wanted)]
    if len(found) != 1:
        raise ValueError(f"{len(found)} lines read {wanted!r}")
    return found[0]


def _last_of(lines: list[str], first: str) -> int:
    return max((nth for nth, line in enumerate(lines) if line.split()[:1] == [first]), default=len(lines) - 1)


def _words(line: str) -> str:
    """A line without its comment, its words parted by single blanks."""
    return " ".join(re.sub(r'("[^"]*")|#.*', r"\1", line).split())


def _names(line: str) -> set[str]:
    """The names on a line: its words without what follows a dot."""
    return {word.partition(".")[0] for word in line.split()[1:]}


def _subjects(line: str) -> set[str]:
    """What a line is about."""
    first, *rest = _words(line).split()
    if first in ONLY_ITSELF or not rest:
        return set()
    if first == "feeder" and "->" in rest[:-1]:
        rest = rest[rest.index("->") + 1 :]
    if first in ("common", "joint", "couple"):
        return _names(line) - {"of", "->", "black", "red"}
    return {rest[0].partition(".")[0]}
