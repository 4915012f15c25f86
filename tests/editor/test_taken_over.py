"""What is worked out of a plan that was typed at, by what is known of it from before, is what a fresh inspection finds:
quantities, wires and lines that come and go, in plans of one railroad or of several that are joined and parted."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from random import Random

import pytest
from hypothesis import settings

from editor.test_recalling import answer, inspector, opener, typed
from oracle.plans import random_sound, seed_faults
from railbond.circuit.facts import Facts
from railbond.inspection import Inspection, inspect
from railbond.recalling import RecentInspections
from railbond.rules import askable
from railbond.rules.asking import ask
from railbond.steady import SteadyFile
from trackplan.gather import gather
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Segment

SESSIONS = max(1, settings().max_examples // 60)
"""For each of six beginnings: one, and fifty in the thorough profile."""
EDITS = 7
Lines = list[str]
NUMBERS = ("0", "1", "2", "12", "18", "30", "120", "500", "0.5")
ENDINGS = ("", " crossed", "  # 40 cm", " 30 cm", " at 30 cm", " 22 AWG 20 cm")


def beginning(number: int, dice: Random) -> str:
    """A railroad; one with a fault; or several side by side that share a booster."""
    if number % 3 < 2:
        sound = random_sound(dice, 3)
        return sound if number % 3 else seed_faults(sound, 1, dice)[0]
    first, second = random_sound(dice, 2), random_sound(dice, 2)
    return first + "".join(renamed(line) for line in second.splitlines(keepends=True) if own(line))


def own(line: str) -> bool:
    return not line.startswith(("plan", "booster", "limit", "scale", "#"))


def renamed(line: str) -> str:
    """A line of the other railroad: each name of it as nothing of the first is called."""
    kept = {"stop", "left", "right", "both", "number", "from", "at", "through", "diverging", "rail", "rails", "to"}
    words = line.split(" ")
    return " ".join(f"z{one}" if is_name(one) and one not in kept and at else one for at, one in enumerate(words))


def is_name(word: str) -> bool:
    return word[:1].isupper() and word[1:2].isdigit() and not word.startswith("B")


def number(lines: Lines, dice: Random) -> None:
    """Another number in a line, with a digit more or less where it does."""
    at = dice.choice([at for at, line in enumerate(lines) if any(map(is_number, line.split()))])
    words = lines[at].split(" ")
    place = dice.choice([place for place, word in enumerate(words) if is_number(word)])
    words[place] = dice.choice((*NUMBERS, f"{words[place]}0", words[place][:-1] or "7"))
    lines[at] = " ".join(words)


def is_number(word: str) -> bool:
    return word.replace(".", "").isdigit()


def of(kind: str, lines: Lines) -> list[int]:
    return [at for at, line in enumerate(lines) if line.startswith(kind)] or [0]


def turn(lines: Lines, dice: Random) -> None:
    """A feeder or run crossed, or no more; or something else behind it."""
    at = dice.choice(of(dice.choice(("feeder", "bus")), lines))
    bare = lines[at].removesuffix(" crossed")
    lines[at] = bare if bare != lines[at] else lines[at] + dice.choice(ENDINGS)


def move(lines: Lines, dice: Random) -> None:
    """A wire from elsewhere, or to elsewhere, as another goes."""
    one, other = dice.choice(of("feeder", lines)), dice.choice(of("feeder", lines))
    (head, _, tail), (far, _, rest) = lines[one].partition("->"), lines[other].partition("->")
    lines[one] = dice.choice((f"{far}->{tail}", f"{head}->{rest}"))


def come_or_go(lines: Lines, dice: Random) -> None:
    """A feeder twice, or not at all; or a line that joins two railroads, or parts them."""
    at = dice.choice(of(dice.choice(("feeder", "feeder", "segment", "joint", "gap")), lines))
    if dice.random() < 0.5:
        del lines[at]
    else:
        lines.insert(at, lines[dice.choice(of("feeder", lines))])


def wire(lines: Lines, dice: Random) -> None:
    """A feeder more, to where another goes or from where another comes, or one less: wherever feeders stand."""
    at, other = dice.choice(of("feeder", lines)), lines[dice.choice(of("feeder", lines))]
    if dice.random() < 0.5 and len(of("feeder", lines)) > 1:
        del lines[at]
    else:
        (head, _, _), (_, _, tail) = lines[at].partition("->"), other.partition("->")
        lines.insert(dice.choice((at, at + 1)), dice.choice((other, f"{head}->{tail}", f"{other} crossed")))


def rename(lines: Lines, dice: Random) -> None:
    """A name everywhere, or only where it is defined."""
    words = lines[dice.choice(of(dice.choice(("segment", "turnout", "bus")), lines))].split()
    name = words[1] if len(words) > 1 else "T1"
    for at, line in enumerate(lines):
        if dice.random() < 0.9:
            lines[at] = line.replace(f" {name} ", f" {name}x ")


def spoil(lines: Lines, dice: Random) -> None:
    """A word too many in a line, half a line more, or a wire that is soldered past the end of its track."""
    at = dice.choice(of(dice.choice(("feeder", "feeder", "segment", "bus")), lines))
    kind = dice.randrange(3)
    if kind == 0:
        lines[at] += " crossed crossed"
    elif kind == 1:
        lines.insert(dice.choice((at, at + 1)), lines[at][: dice.randint(1, len(lines[at]) - 1)])
    else:
        lines[at] = f"{lines[at].removesuffix(' crossed')} at 90 m"


EDITED: tuple[Callable[[Lines, Random], None], ...] = (
    number,
    number,
    number,
    turn,
    move,
    wire,
    wire,
    come_or_go,
    rename,
    spoil,
    spoil,
)


def session(text: str, dice: Random) -> Iterator[str]:
    """A text as it is typed at, some of it taken back; now and then with a line that does not read for a while."""
    before = [text]
    for _ in range(EDITS):
        if len(before) > 1 and dice.random() < 0.3:
            before.pop()
        elif dice.random() < 0.1:
            before.append(typed(before[-1], dice))
        else:
            lines = before[-1].split("\n")
            dice.choice(EDITED)(lines, dice)
            before.append("\n".join(lines))
        yield before[-1]


@pytest.mark.parametrize("number", range(6))
def test_what_is_found_by_what_was_known_is_what_is_found(number: int) -> None:
    for again in range(SESSIONS):
        dice, recent = Random(number * 1000 + again), RecentInspections()
        text = beginning(number, dice)
        for now in (text, *session(text, dice)):
            gathered = gather("plan", opener(now))
            assert answer(recent.of(gathered, inspector([]))) == answer(inspect(gathered)), now


def test_a_length_and_a_wire_that_change_at_once_leave_no_fault_behind() -> None:
    """One that was told of a wire to the track whose length it is, with which nothing is wrong any more."""
    text, recent = random_sound(Random(5), 6), RecentInspections()
    lines = text.splitlines()
    at = next(at for at, line in enumerate(lines) if line.startswith("feeder") and " at " in line)
    name = lines[at].split("->")[1].split()[0].partition(".")[0]
    track = next(at for at, line in enumerate(lines) if line.split()[:2] == ["segment", name])
    other = next(at for at, line in enumerate(lines) if line.startswith("feeder") and name not in line)
    short = lines[track].rsplit(maxsplit=2)[0]
    for length, size in (("11 mm", "22 AWG"), ("9 m", "20 AWG")):
        lines[track], lines[other] = f"{short}  {length}", lines[other].replace("22 AWG", size)
        gathered = gather("plan", opener("\n".join(lines)))
        found = recent.of(gathered, inspector([]))
        assert answer(found) == answer(inspect(gathered))
        assert any(one.rule == "impossible" for one in found.findings) is (length == "11 mm")


def test_another_length_takes_over_the_graph_and_what_hangs_on_it() -> None:
    """And is told where it stands, however the lines above have grown."""
    text, recent, asked = random_sound(Random(5), 6), RecentInspections(), list[Facts]()

    def anew(gathered: object, facts: Facts) -> Inspection:
        asked.append(facts)
        return inspect(gathered, facts=facts)  # type: ignore[arg-type]

    recent.of(gather("plan", opener(text)), anew)
    graph = asked[0].graph
    segments = [line for line in text.splitlines() if line.startswith("segment") and line.endswith(" cm")]
    for at, line in enumerate(segments):
        text = text.replace(line, f"{line[:-3]}0 mm".replace("  #", " #"))
        text = text.replace("\n\n", f"\n\n# {'a word ' * at}\n\n", 1)
        gathered = gather("plan", opener(text))
        assert answer(recent.of(gathered, anew)) == answer(inspect(gathered))
        assert asked[-1].graph is graph


@pytest.mark.parametrize("number", range(4))
def test_a_feeder_more_or_less_is_told_from_the_plan_before(number: int) -> None:
    """What is laid out, wired and proven by it is what would be made anew; and of a plan without a fault it is told."""
    dice, told = Random(number), 0
    text = random_sound(dice, 5, quiet=number % 2 == 0)
    file = SteadyFile(read(Source("plan", text)))
    before = Facts(file.steady.statements, {"plan": file.steady.source})
    for _ in range(30):
        lines = text.split("\n")
        wire(lines, dice)
        typed = SteadyFile(read(Source("plan", "\n".join(lines))), file)
        now = typed.steady.statements, {"plan": typed.steady.source}
        facts, anew = Facts(*now, before=before), Facts(*now)
        assert facts.layout._replace(desk=None) == anew.layout._replace(desk=None)
        assert facts.graph == anew.graph
        assert facts.proof.component == anew.proof.component
        assert all(facts.proof.reachable(one) == anew.proof.reachable(one) for one in facts.graph.rails)
        told += facts.graph.names is before.graph.names
        if not anew.layout.faults:  # else it is taken back
            text, file, before = "\n".join(lines), typed, anew
    assert told > 15


@pytest.mark.parametrize("number", range(8))
def test_what_hangs_on_the_graph_no_length_changes(number: int) -> None:
    """Asked anew of plans in which all lengths of track are others, each such rule speaks or is silent as before."""
    dice = Random(number)
    sound = random_sound(dice, 8, quiet=number % 2 == 0)
    text = sound if number < 4 else seed_faults(sound, 2, dice)[0]
    other = text
    for one in {one.length for one in gather("plan", opener(text)).statements if type(one) is Segment}:
        other = other.replace(f" {one.text}\n", f" {one * dice.uniform(1.05, 1.6):.3f} m\n")
    plans = (gather("plan", opener(one)) for one in (text, other))
    before, after = (Facts(plan.statements, plan.sources) for plan in plans)
    assert other != text and metal(before) == metal(after)
    for rule in askable():
        if rule.of_graph:
            assert bool(ask(rule, before)) == bool(ask(rule, after)), rule.name


def metal(facts: Facts) -> object:
    """The rail graph without places, which a length says of cut track."""
    return [one[:4] for one in facts.graph.bonds], [one[:3] for one in facts.graph.rolls], facts.graph.sources
