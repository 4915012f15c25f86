"""Random plans that mix every kind of trackwork, well formed and electrically anything."""

from __future__ import annotations

from random import Random

from hypothesis import strategies as st

from railbond.trackwork import forms, template_for
from railbond.trackwork.writing import written
from trackplan.read import read
from trackplan.span import Source

BUILDS = ("dead-frog", "live-frog", "isolated-frog")
PLAIN = ("dead-frog", "isolated-frog")
BARE = "around frog without jumpers"
MOST_SETTINGS = 128


class Kind:
    """A way to lay a piece: its line for a name, its ends, and how many settings it has."""

    def __init__(self, line: str, ends: tuple[str, ...], settings: int) -> None:
        self.line, self.ends, self.settings = line, ends, settings


TURNOUT, WYE = ("points", "through", "diverging"), ("points", "left", "right")
CROSSED = ("a1", "a2", "b1", "b2")
KINDS = [
    *(Kind(f"turnout {{}} {hand} {build}", TURNOUT, 2) for hand in ("left", "right") for build in BUILDS),
    *(Kind(f"turnout {{}} left {build}", TURNOUT, 2) for build in ("movable-frog", "sprung-frog")),
    *(Kind(f"turnout {{}} right {build} sprung diverging", TURNOUT, 1) for build in BUILDS),
    *(Kind(f"turnout {{}} wye {build}", WYE, 2) for build in BUILDS),
    *(Kind(f"stub {{}} {hand} {build}", TURNOUT, 2) for hand in ("left", "right") for build in BUILDS),
    *(
        Kind(f"three-way {{}} {shape} {build}", ("points", "left", "through", "right"), 3)
        for shape in ("symmetrical", "staggered left", "staggered right")
        for build in PLAIN
    ),
    *(Kind(f"crossing {{}} 20 degrees {build}", CROSSED, 2) for build in PLAIN),
    *(Kind(f"gauntlet {{}} 60 cm {build}", CROSSED, 2) for build in PLAIN),
    *(Kind(f"slip {{}} {slips} {build}", CROSSED, 4) for slips in ("single", "double") for build in PLAIN),
    *(Kind(f"scissors {{}} {build}", CROSSED, 32) for build in BUILDS),
    Kind(
        "turntable {0} 30 cm\napproach-track {0}.pit1 at 0 degrees\napproach-track {0}.pit2 at 170 degrees",
        ("pit1", "pit2"),
        4,
    ),
    *(Kind(f"construction:{name}", (), 4) for name in forms()),
]


def random_mixed(rng: Random, most: int = MOST_SETTINGS) -> str:
    """A plan of some pieces of any kind, joined, cut, fed and worked on at random."""
    return _Plan(rng, most).text()


def random_piece(rng: Random) -> str:
    """The same of one piece, of any kind that there is."""
    return _Plan(rng, max(kind.settings for kind in KINDS), 1).text()


def mixed_plans() -> st.SearchStrategy[str]:
    return st.builds(random_mixed, st.randoms(use_true_random=False))


class _Plan:
    def __init__(self, rng: Random, most: int, pieces: int | None = None) -> None:
        self.rng = rng
        self.lines = ["booster B1 15 V 5 A", "district main from B1", "district yard from B1", "reverser R1 in main"]
        self.ends: list[str] = []
        self.movers: list[str] = []
        self.segments = 0
        while pieces != 0 and most >= 4 and (len(self.ends) < 3 or rng.random() < 0.6):
            kind = rng.choice([one for one in KINDS if one.settings <= most])
            most //= kind.settings
            self._piece(kind)
            pieces = pieces and pieces - 1

    def text(self) -> str:
        self.rng.shuffle(self.ends)
        while len(self.ends) > 1 and self.rng.random() < 0.8:
            self._join(self.ends.pop(), self.ends.pop())
        for end in self.ends:
            self._join(end, "stop")
        return "\n".join(self.lines) + "\n"

    def _piece(self, kind: Kind) -> None:
        name = f"P{len(self.lines)}"
        line, ends = kind.line.format(name), kind.ends
        if line.startswith("construction:"):
            line, ends = _construction(name, line.partition(":")[2])
        self.lines.append(line)
        self.ends += [f"{name}.{end}" for end in ends]
        keyword = line.split()[0]
        if keyword == "turntable":
            self.lines.append(f"feeder {self._supply()} -> {name}.bridge")
        elif keyword == "scissors":
            for part in ("a1", "a2", "b1", "b2", "x"):
                self._work(f"{name}-{part}", line, keyword if part != "x" else "crossing")
        else:
            self._work(name, line, keyword)

    def _work(self, name: str, line: str, keyword: str) -> None:
        if keyword in ("turnout", "stub", "slip", "three-way", "scissors") and self.rng.random() < 0.4:
            self.lines.append(f"bond {name} closure rails to stock rails")
        if keyword in ("turnout", "stub", "scissors") and "live-frog" in line and self.rng.random() < 0.5:
            self.lines.append(f"cut {name} {self.rng.choice(('closure jumpers', 'around frog', BARE, 'frog rails'))}")
        has_frog = "\n    frog " in line if keyword == "construction" else "dead-frog" not in line
        if has_frog and self.rng.random() < 0.8:
            frogs = [name]
            if keyword in ("slip", "crossing", "gauntlet") and self.rng.random() < 0.5:
                frogs = [f"{name}.{frog}" for frog in "12" if self.rng.random() < 0.8]
            self.lines += [f"frog {frog} {self._feed()}" for frog in frogs]
        if keyword in ("turnout", "stub", "three-way", "slip"):
            self.movers.append(name)

    def _feed(self) -> str:
        legs = self.rng.choice(("through main.red diverging main.black", "through main.black diverging main.red"))
        mover = f"with {self.rng.choice(self.movers)} " if self.movers else ""
        own = "switched from stock rails", f"switched {legs}", "automatic main"
        return self.rng.choice((*own, f"switched {mover}{legs}"))

    def _join(self, one: str, other: str) -> None:
        """Directly, or by a segment that may be cut and fed; at a pit there is nothing to cut."""
        pits = ".pit" in one, ".pit" in other
        if self.rng.random() < 0.3:
            self.lines.append(f"joint {one} -> {other}")
            if other != "stop" and not any(pits) and self.rng.random() < 0.3:
                self.lines.append(f"gap {one} both rails")
            return
        self.segments += 1
        name = f"s{self.segments}"
        self.lines.append(f"segment {name} {one} -> {other} 1 m")
        for end, at_pit in zip(("start", "finish") if other != "stop" else ("start",), pits, strict=False):
            if not at_pit and self.rng.random() < 0.4:
                self.lines.append(f"gap {name}.{end} {self.rng.choice(('left rail', 'right rail', 'both rails'))}")
        if self.rng.random() < 0.6:
            self.lines.append(f"feeder {self._supply()} -> {name}{self.rng.choice(('', '', '', ' crossed'))}")

    def _supply(self) -> str:
        return self.rng.choice(("main", "main", "main", "main", "yard", "R1"))


def _construction(name: str, form: str) -> tuple[str, tuple[str, ...]]:
    """A built-in form, told by its own rails."""
    (statement,) = read(Source("form", forms()[form])).statements
    template = template_for(statement, (), ())
    return written(name, template), tuple(template.ends)
