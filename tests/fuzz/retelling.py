"""The same plan in other words: each way to retell it leaves its findings what they are, up to names and places."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable
from random import Random

Lines = list[str]
UNITS = frozenset(["A", "V", "C", "F", "m", "s"])
"""Names that are also units: in another place the word says something else."""
OTHER_SIDE = {"left": "right", "right": "left"}
CENTIMETERS = {"mm": 0.1, "cm": 1.0, "m": 100.0}
SEGMENT = re.compile(r"segment +([\w-]+) +(\S+) -> (\S+) +([\d.]+) ?(mm|cm|m)\b(.*)")
AT = re.compile(r"\bat +([\d.]+) ?(mm|cm|m)\b")
KEYWORD_TAIL = r"-(?:track|frog|side|wheels|way|table|spacing|size|length|load|drop|bus|steps)\b"
"""How keywords and limits of two words end, such as `three-way`."""
KEYWORDS = frozenset(["plan", "include", "scale", "rails", "limit", "train", "accept"])


def statements(text: str) -> Lines:
    """Whole statements, each with the lines that go on with it; comments and blank lines are left out, and so are lines
    at the very beginning that go on with nothing: in another order they would with another statement."""
    found: Lines = []
    for line in text.split("\n"):
        if not line.strip() or line.lstrip().startswith("#") or (line[0].isspace() and not found):
            continue
        if found and (line[0].isspace() or line.split()[0] == "end"):
            found[-1] += f"\n{line}"
        else:
            found.append(line)
    return found


def shuffled(
    lines: Lines, dice: Random, contradicted: Iterable[str] = (), unread: Collection[int] = ()
) -> tuple[Lines, list[int]]:
    """The lines in another order, and which line each was. Couplings and scales stay in theirs, and so do the lines
    that speak of what is `contradicted`, and those that are `unread`: of two that couple one edge, or say what cannot
    both be, the later is the one too many, and the first counts."""
    order = list(range(len(lines)))
    dice.shuffle(order)
    names = [*contradicted]
    once = ("couple", "scale")
    stay = {nth for nth in order if lines[nth].split()[0] in once or any(_names(lines[nth], one) for one in names)}
    stay.update(unread)
    staying = iter(sorted(stay))
    order = [next(staying) if nth in stay else nth for nth in order]
    return [lines[nth] for nth in order], order


def renamed(lines: Lines, names: set[str], new: Callable[[str], str]) -> Lines:
    """Every name in the place of which another stands, wherever it stands by itself, before a dot or before the dash of
    a part's name; the first word of a line is none, and a part of a keyword neither."""
    if not names:
        return lines
    known = "|".join(sorted(map(re.escape, names), key=len, reverse=True))
    pattern = re.compile(rf"(?<![\w.\"-])(?<!^)({known})(?!\w|{KEYWORD_TAIL})", re.MULTILINE)
    return [pattern.sub(lambda one: new(one[1]), line) for line in lines]


def names_of(lines: Lines) -> set[str]:
    """The names that the statements give: their second word, unless it is a joint's end."""
    givers = "segment turnout booster district block reverser endplate engine stub three-way crossing slip scissors "
    givers += "turntable transfer-table construction gauntlet movable-bridge cab"
    found = {words[1] for line in lines if (words := line.split())[0] in givers.split() and len(words) > 1}
    found |= {word for line in lines if (one := SEGMENT.match(line)) for word in (one[2], one[3]) if word != "stop"}
    buses = {words[3] for line in lines if (words := line.split())[0] == "bus" and len(words) > 3}
    return {name for name in found | buses if "." not in name and name not in UNITS}


def side_changed(text: str) -> str:
    """`left` for `right` and the other way round."""
    return re.sub(r"\b(left|right)\b", lambda one: OTHER_SIDE[one[1]], text)


def crossed_over(line: str) -> str:
    return re.sub(r"\s+crossed\b", "", line) if re.search(r"\bcrossed\b", line) else f"{line}  crossed"


def is_plain(lines: Lines) -> bool:
    """Whether a plan is of segments and turnouts only, whose sides these functions know."""
    odd = (
        "stub three-way crossing slip scissors turntable transfer-table construction engine lamp approach-track module"
    )
    return not any(line.split()[0] in odd.split() or " curved " in line or "wye" in line for line in lines)


def legs_changed(lines: Lines) -> Lines:
    """The two legs of every supply named in the other order, so that first and second wire change places.

    Left and right change places at every drop of a plan that is turned or mirrored; with the legs changed, too, no wire
    has to be said to be crossed that was not, or the other way round. That word must stay where it is: of two wires
    either of which may be the wrong one, the crossed one is told."""
    return [_legs_changed(line) for line in lines]


def _legs_changed(line: str) -> str:
    if line.split()[0] != "district":
        return line
    if re.search(r" legs +\w+ +\w+", line):
        return re.sub(r" legs +(\w+) +(\w+)", lambda one: f" legs {one[2]} {one[1]}", line)
    return f"{line}  legs black red"


def turned(lines: Lines) -> Lines:
    """Every segment's arrow turned round; whatever is seen along it changes sides."""
    lengths = {one[1]: float(one[4]) * CENTIMETERS[one[5]] for line in lines if (one := SEGMENT.match(line))}
    return legs_changed([_turned(line, lengths) for line in lines])


def _turned(line: str, lengths: dict[str, float]) -> str:
    if one := SEGMENT.match(line):
        return _ends_changed(f"segment {one[1]} {one[3]} -> {one[2]} {one[4]} {one[5]}{one[6]}", lengths)
    word = line.split()[0]
    line = _ends_changed(line, lengths)
    if word == "gap":
        line = re.sub(r"\b(left|right)(?= rail\b)", lambda one: OTHER_SIDE[one[1]], line)
        return _from_the_other_end(line, lengths.get(line.split()[1]))
    if word == "feeder":
        target = line.split("->")[1].split()[0]
        line = _from_the_other_end(line, lengths.get(target.partition(".")[0]))
        if target in lengths:
            return line
        if "." not in target:
            return crossed_over(line)
        return re.sub(r"(-> *[\w-]+\.)(left|right)\b", lambda one: one[1] + OTHER_SIDE[one[2]], line)
    return line


def _ends_changed(line: str, lengths: dict[str, float]) -> str:
    other = {"start": "finish", "finish": "start"}
    return re.sub(
        r"\b([\w-]+)\.(start|finish)\b",
        lambda one: f"{one[1]}.{other[one[2]]}" if one[1] in lengths else one[0],
        line,
    )


def _from_the_other_end(line: str, length: float | None) -> str:
    if length is None:
        return line
    return AT.sub(lambda one: f"at {length - float(one[1]) * CENTIMETERS[one[2]]:.6g} cm", line)


def mirrored(lines: Lines) -> Lines:
    """The plan as seen in a mirror: hands and sides change, and with them which leg lies where."""
    legs = {"red": "black", "black": "red"}
    for line in lines:
        if one := re.search(r" legs +(\w+) +(\w+)", line):
            legs |= {one[1]: one[2], one[2]: one[1]}
    return legs_changed([_mirrored(line, legs) for line in lines])


def _mirrored(line: str, legs: dict[str, str]) -> str:
    word = line.split()[0]
    if word in ("turnout", "gap"):
        return side_changed(line)
    if word == "endplate":
        return re.sub(r"\bleft (red|black|\w+)", lambda one: f"left {legs.get(one[1], one[1])}", line)
    if word == "feeder":
        return re.sub(r"(-> *[\w-]+\.)(left|right)\b", lambda one: one[1] + OTHER_SIDE[one[2]], line)
    return line


def joined(one: Lines, other: Lines) -> Lines:
    """Two plans in one that have nothing to do with each other; what may stand but once is the first one's."""
    heads = {"plan", "scale", "rails", "limit", "train"}
    return one + [line for line in other if line.split()[0] not in heads]


def without_heads(lines: Lines) -> Lines:
    """A plan without what two plans in one would share: every engine runs on both, and draws from both."""
    heads = {"scale", "rails", "limit", "train", "engine", "accept", "include", "module", "couple"}
    return [line for line in lines if line.split()[0] not in heads]


def split(lines: Lines, dice: Random) -> tuple[Lines, list[int]]:
    """One uncut segment in two, joined where it was whole; and which line each of the new ones was."""
    able = [nth for nth, line in enumerate(lines) if (one := SEGMENT.match(line)) and _can_be_split(one[1], lines)]
    if not able:
        return lines, list(range(len(lines)))
    nth = dice.choice(able)
    one = SEGMENT.match(lines[nth])
    assert one
    name, length = one[1], float(one[4]) * CENTIMETERS[one[5]]
    halves = [
        f"segment {name} {one[2]} -> {name}-middle {length / 2:.6g} cm{one[6]}",
        f"segment {name}-rest {name}-middle -> {one[3]} {length / 2:.6g} cm{one[6]}",
    ]
    new = [line.replace(f"{name}.finish", f"{name}-rest.finish") if _names(line, name) else line for line in lines]
    return [*new[:nth], *halves, *new[nth + 1 :]], [*range(nth + 1), nth, *range(nth + 1, len(lines))]


def _can_be_split(name: str, lines: Lines) -> bool:
    """A segment that no cut within and no wire is measured along."""
    return not any(_names(line, name) and line.split()[0] in ("feeder", "gap", "lamp") for line in lines)


def _names(line: str, name: str) -> bool:
    return re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", line) is not None
