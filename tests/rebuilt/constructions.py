"""Hand-laid trackwork that is told rail by rail: what its lines say, and nothing else."""

from __future__ import annotations

import re

from .bench import Thing

CLAUSES = ("positions", "rail", "frog", "joined", "tie", "pass", "blade", "opening")


def construction(text: str) -> Thing:
    """`text` is what stands between the construction's name and its `end`."""
    made = Thing(())
    for words in clauses(text):
        READERS[words[0]](made, words[1:])
    return made


def clauses(text: str) -> list[list[str]]:
    """The words of each clause. A name of more words than one stands in quotes, and so is no keyword."""
    found: list[list[str]] = []
    for quoted, plain in re.findall(r'"([^"]*)"|(\S+)', text):
        if plain in CLAUSES and (not found or not _goes_on(found[-1])):
            found.append([plain])
        else:
            found[-1].append(quoted or plain)
    return found


def _goes_on(words: list[str]) -> bool:
    """Whether a clause wants another word: its first, or the rail on a side of an opening."""
    told = "enters" in words or "leaves" in words
    return len(words) == 1 or (words[0] == "opening" and words[-1] in ("left", "right") and not told)


def _positions(made: Thing, words: list[str]) -> None:
    made.positions = tuple(word for word in words if word != "aligned")


def _rails(made: Thing, words: list[str]) -> None:
    made.metals += tuple(words)


def _frog(made: Thing, words: list[str]) -> None:
    made.metals += (words[0],)
    made.frogs += (words[0],)


def _tie(made: Thing, words: list[str]) -> None:
    rails, tail = split(words, ("when", "touching", "soldered"))
    stands = [word for word in tail if word not in ("when", "touching", "soldered")]
    for one, other in zip(rails, rails[1:], strict=False):
        if stands:
            made.touch(one, other, *stands)
        else:
            made.one_metal(one, other)


def _blade(made: Thing, words: list[str]) -> None:
    closure, _, stock, *tail = words
    touches = split(tail[1:], ("open",))[0] if tail[:1] == ["touches"] else []
    made.touch(closure, stock, *touches)


def _opening(made: Thing, words: list[str]) -> None:
    name, rest = words[0], [word for word in words[1:] if word not in ("frog", "stock")]
    made.ends[name] = rest[rest.index("left") + 1], rest[rest.index("right") + 1]


def split(words: list[str], marks: tuple[str, ...]) -> tuple[list[str], list[str]]:
    """What stands before the first of some words, and what stands from it on."""
    at = next((place for place, word in enumerate(words) if word in marks), len(words))
    return words[:at], words[at:]


READERS = {
    "positions": _positions, "rail": _rails, "frog": _frog, "joined": _tie, "tie": _tie, "blade": _blade,
    "opening": _opening, "pass": lambda made, words: None,
}  # fmt: skip
