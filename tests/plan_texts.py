"""Random plans as text: every form of statement in language.md, with blanks, comments and line breaks anywhere."""

from __future__ import annotations

import re

from hypothesis import strategies as st

# {part} stands for what PARTS draws, [...] may be left out, a|b is one or the other.
FORMS = """
plan {text}
scale {name}
include {text}
module {name} {text} [owner {text}]
couple {name} -> {name}
any order of {name} [{name}] between {name} and {name}
booster {name} {volts} {amps} [{ohms}]
district {name} from {name} [trips {amps}] [legs {name} {name}]
block {name} in {name}
block {name} in {name} or {name} or {name}
cab {name} {volts} {amps} [legs {name} {name}]
common {name} of {name} {name} [{name}]
reverser {name} in {name} [trips {amps}]
bus {name} -> {name} [{length}] [{size}] [crossed]
feeder {name} -> {name} [at {length}] [{size} {length}] [crossed] [split at {angle}]
feeder {name} -> {name} [crossed] through contacts of {name} {route}
segment {name} {end} -> {end} {length} [code {number}]
segment {name} {end} -> {end} {length} code {number} brass|steel|nickel-silver
turnout {name} left|right|wye [number {number}] dead-frog|live-frog|isolated-frog [dead {length}]
turnout {name} curved left|right [number {number}] movable-frog|sprung-frog [dead {length}] [sprung {route}]
stub {name} left|right [number {number}] dead-frog|live-frog|isolated-frog [dead {length}]
three-way {name} {shape} [number {number}] dead-frog|isolated-frog [dead {length}]
crossing {name} {angle} dead-frog|isolated-frog [dead {length}]
slip {name} single|double [number {number}] dead-frog|isolated-frog [dead {length}]
construction {name} positions {name} left [aligned] rail {name} {text} {clause} end
construction {name} frog {text} {clause} {clause} end
construction {name} opening {name} left [frog] {name} right [stock] {text} enters|leaves [when {name}] [part 2] end
scissors {name} [number {number}] dead-frog|live-frog|isolated-frog [{angle}] [dead {length}]
gauntlet {name} {length} [number {number}] dead-frog|isolated-frog [dead {length}]
turntable {name} {length}
transfer-table {name} {length}
approach-track {name} at {angle}|{length} [far-side]
lamp {name} {amps}
joint {end} -> {end}
gap {name} [at {length}] {rail}
endplate {name} [left {name}]
rails code {number} [brass]
solder joiners at {name}
bond {name} closure rails to stock rails
cut {name} {what}
frog {name} switched [with {name}] through {name} diverging {name}
frog {name} switched [with {name}] left {name} right {name}
frog {name} switched from stock rails
frog {name} automatic {name} [trips {amps}]
frog {name} unpowered because {text}
engine {name} left {places} right {places} {amps} [unweighted {places}] [capacitor {time}] [crawls {speed}]
train {name} {length} [metal-wheels {length}]
limit {name} {length}|{size}|{volts}|{amps}|{number}
accept {name} at {name} [because {text}]
""".strip().splitlines()

CLAUSES = (
    "joined a b", "joined a b c when x y touching", 'pass "a b" c when x', "blade a beside b touches x open y",
    "frog f when x wants a onto b leg through when y wants b", "blade a beside b", "joined a b soldered",
)  # fmt: skip

DECIMALS = st.from_regex(r"[1-9][0-9]{0,2}(\.[0-9])?", fullmatch=True)
NAMES = st.from_regex(r"[A-Z][a-z0-9_]{0,3}(-[a-z0-9])?(\.[a-z]{1,5})?", fullmatch=True)


def with_unit(*units: str) -> st.SearchStrategy[str]:
    return st.builds("{}{}{}".format, DECIMALS, st.sampled_from(["", " ", "  "]), st.sampled_from(units))


def characters_but(*others: str) -> st.SearchStrategy[str]:
    """Any character that a line of a file can hold, but for some."""
    return st.characters(exclude_characters=["\n", "\r", *others], exclude_categories=["Cs"])


PARTS: dict[str, st.SearchStrategy[str]] = {
    "name": NAMES,
    "end": st.one_of(NAMES, st.just("stop")),
    "text": st.text(characters_but('"'), max_size=9).map('"{}"'.format),
    "volts": with_unit("V"),
    "amps": with_unit("A", "mA"),
    "ohms": with_unit("ohm", "mohm"),
    "length": st.one_of(with_unit("mm", "cm", "m", "in", "ft"), DECIMALS.map("{} ft 6 in".format)),
    "size": st.one_of(
        with_unit("mm2", "mm²", "mm2 stranded"),
        st.integers(0, 40).map("{} AWG".format),
        st.sampled_from(["2/0 AWG", "2x 14 AWG", "3x22AWG  solid"]),
    ),
    "clause": st.sampled_from(CLAUSES),
    "angle": st.sampled_from(["90 degrees", "19degrees", "12.5 degrees"]),
    "route": st.sampled_from(["through", "diverging"]),
    "shape": st.sampled_from(["symmetrical", "staggered left", "staggered right"]),
    "time": with_unit("s", "ms"),
    "speed": with_unit("cm/s", "mm/s"),
    "number": DECIMALS,
    "places": st.builds("{} {}".format, st.lists(DECIMALS, max_size=3).map(" ".join), with_unit("mm", "in")),
    "rail": st.sampled_from(["left rail", "right rail", "both rails", "frog rail", "stock rail"]),
    "what": st.sampled_from(["closure jumpers", "around frog", "around frog without jumpers", "frog rails"]),
}
COMMENTS = st.text(characters_but(), max_size=9).map("#{}".format)
BLANKS = st.sampled_from([" ", " ", " ", "  ", "\t", "\u00a0", "\n  ", "  # why\n\t"])


@st.composite
def statement_lines(draw: st.DrawFn) -> str:
    """One statement, as plainly or as oddly typed as the language allows."""
    form = draw(st.sampled_from(FORMS))
    form = re.sub(r"\[([^]]*)\] ?", lambda part: draw(st.sampled_from(["", part[1] + " "])), form)
    form = re.sub(r"\S*\|\S*", lambda choice: draw(st.sampled_from(choice[0].split("|"))), form)
    words = [re.sub(r"\{(\w+)\}", lambda part: draw(PARTS[part[1]]), word) for word in form.split()]
    return words[0] + "".join(draw(BLANKS) + word for word in words[1:])


BROKEN_LINES = st.sampled_from(["segment west W -> T1  90   # why", "tunrout T1", 'plan "', "  ", "\t# x", "%"])


@st.composite
def plans(draw: st.DrawFn) -> str:
    """A text of statements, broken lines, comments and blank lines, with LF or CRLF line ends."""
    line = st.one_of(statement_lines(), statement_lines(), BROKEN_LINES, COMMENTS, st.just(""))
    after = st.one_of(st.just(""), st.just(""), st.just("   "), COMMENTS.map("  {}".format))
    lines = draw(st.lists(st.builds("{}{}".format, line, after), max_size=9))
    text = "\n".join(lines) + draw(st.sampled_from(["", "\n", "\n\n"]))
    return draw(st.sampled_from(["", "\ufeff"])) + text.replace("\n", draw(st.sampled_from(["\n", "\r\n"])))
