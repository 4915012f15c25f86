"""Writes a template as a `construction`, so that any kind of trackwork can be taken as the start of one's own."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import groupby

from railbond.layout.template import End, Frog, Metal, Template, Tie
from trackplan.tables import KEYWORDS

MARGIN = "    "
COLUMN = len("positions")
WIDTH = 100
LEGS = ("through", "diverging")
HOW = {"build": "", "touch": "touching", "bond": "soldered"}
WORDS = re.compile(r'"[^"]*"|\S+')
PLAIN = re.compile(r"[^\W\d_]\w*(-\w+)*")

Row = tuple[tuple[int, ...], str]
"""Metals one after the other, and what is said of all of them."""


def written(name: str, template: Template) -> str:
    """The statement that tells this template, of which plain track's lengths and cuts are no part."""
    lines = [WORDS.findall(line) for line in _Writer(template).lines()]
    return "\n".join((f"construction {name}", *(folded(words) for words in lines), "end"))


def folded(words: list[str]) -> str:
    """A clause, on as many lines as it needs, its words in the second column."""
    keyword, *rest = words
    lines = [f"{MARGIN}{keyword:<{COLUMN}}"]
    for word in rest:
        if len(lines[-1]) + len(word) >= WIDTH:
            lines.append(" " * (len(MARGIN) + COLUMN))
        lines[-1] += f" {word}"
    return "\n".join(lines)


class _Writer:
    def __init__(self, template: Template) -> None:
        self.template = template
        self.names = [quoted(metal.words) for metal in template.metals]

    def lines(self) -> Iterator[str]:
        if self.template.positions:
            aligned = "aligned" if self.template.aligned else ""
            yield f"positions {' '.join(self.template.positions)} {aligned}"
        yield from self._metals()
        yield from self._ties()
        yield from (f"pass {self._words(rails)} {when}" for rails, when in chained(self._passes()))
        for name, end in self.template.ends.items():
            yield self._opening(name, end)

    def _metals(self) -> Iterator[str]:
        frogs = {frog.metal: frog for frog in self.template.frogs}
        for is_frog, group in groupby(enumerate(self.template.metals), key=lambda one: one[1].frog):
            metals: list[tuple[int, Metal]] = list(group)
            if is_frog:
                yield from (f"frog {self.names[at]} {self._wants(frogs[at])}" for at, _ in metals)
            else:
                yield f"rail {self._words(at for at, _ in metals)}"

    def _wants(self, frog: Frog) -> str:
        return " ".join(self._wanted(frog, position) for position in frog.wants)

    def _wanted(self, frog: Frog, position: str) -> str:
        onto = f"onto {self.names[frog.rails[position]]}" if position in frog.rails else ""
        return f"when {position} wants {self.names[frog.wants[position]]} {onto} leg {LEGS[frog.legs[position]]}"

    def _ties(self) -> Iterator[str]:
        """Ties and blades in the template's order; a blade that touches nothing comes last."""
        blades = list(dict.fromkeys((blade.closure, blade.stock) for blade in self.template.blades))
        rows: list[Row] = []
        for (pair, kind), group in groupby(self.template.ties, key=lambda tie: ((tie.one, tie.other), tie.kind)):
            ties = list(group)
            if kind == "touch" and pair in blades:
                blades.remove(pair)
                yield from self._tied(rows)
                rows = []
                yield self._blade(pair, ties)
            else:
                rows.append((pair, f"{_when([tie.when for tie in ties])} {HOW[kind]}"))
        yield from self._tied(rows)
        yield from (self._blade(pair, []) for pair in blades)

    def _tied(self, rows: list[Row]) -> Iterator[str]:
        yield from (f"joined {self._words(rails)} {said}" for rails, said in chained(rows))

    def _blade(self, pair: tuple[int, int], ties: list[Tie]) -> str:
        touches = " ".join(tie.when for tie in ties if tie.when)
        opens = " ".join(one.open for one in self.template.blades if (one.closure, one.stock) == pair)
        closure, stock = (self.names[metal] for metal in pair)
        touching = f"touches {touches}" if touches else ""
        return f"blade {closure} beside {stock} {touching} {f'open {opens}' if opens else ''}"

    def _passes(self) -> Iterator[Row]:
        for pair, group in groupby(self.template.passes, key=lambda one: (one.one, one.other)):
            yield pair, _when([one.route for one in group])

    def _opening(self, name: str, end: End) -> str:
        words = {side: word.split()[0] for word, side in end.rails.items()}
        left, right = (f"{side} {words.get(side, '')} {self.names[end.side(side)]}" for side in ("left", "right"))
        part = f"part {end.part + 1}" if end.part else ""
        return f"opening {name} {left} {right} {'leaves' if end.leaves else 'enters'} {_when(end.routes)} {part}"

    def _words(self, metals: Iterable[int]) -> str:
        return " ".join(self.names[metal] for metal in metals)


def chained(rows: Iterable[Row]) -> list[Row]:
    """Rows of which one begins where the one before ends, and that say the same, told as one."""
    found: list[Row] = []
    for metals, said in rows:
        if found and found[-1][1] == said and found[-1][0][-1] == metals[0]:
            found[-1] = ((*found[-1][0], *metals[1:]), said)
        else:
            found.append((metals, said))
    return found


def quoted(words: str) -> str:
    """A name as the language takes it: in quotes where it is no single word of its own."""
    return words if PLAIN.fullmatch(words) and words not in KEYWORDS else f'"{words}"'


def _when(positions: Iterable[str | None]) -> str:
    told = [position for position in positions if position]
    return f"when {' '.join(told)}" if told else ""
