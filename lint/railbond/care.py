"""What is dangerous about a job at the bench, and what to do first: told of whatever a mend does and a test asks.

No rule has to think of it. What a mend does follows from the statements that it changes and from its words; what a test
asks follows from the words of the lesson. Cautions defer to local codes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from trackplan.edit import Edit
from trackplan.span import Source

from .findings import Danger, Fix

ORDER: tuple[Danger, ...] = ("cuts", "solders", "rewires", "ohms", "volts", "breaker")
CAUTIONS: dict[Danger, str] = {
    "cuts": "Cut rail with the supply's plug pulled and safety glasses on: a saw slips, a cutting disc shatters, and "
    "rail dust gets into eyes.",
    "solders": "Pull the supply's plug before you solder at track or wires. An iron burns skin and sets fire to what "
    "it lies on, ties melt (a damp pad helps), and fumes are not to be breathed. Wear glasses under a layout.",
    "rewires": "Pull the plug of every supply before you change wires at a booster, breaker, reverser or power pack. "
    "The mains side stays closed: it is for a licensed electrician, and your local code goes first.",
    "ohms": "Before a meter set to ohms or to beep touches a rail: every supply off at its plug, engines and lighted "
    "cars off the track. It would read through them, or harm them.",
    "volts": "Measure volts at the low-voltage track only, with dry hands, never inside a mains-powered supply.",
    "breaker": "Try a breaker only with somebody at the plug, and for a second: wire and rail can glow before it "
    "trips. If it hums on, pull the plug and touch nothing.",
}

# What hands do for a statement that is added, taken out or changed. Whatever else a plan says is no job.
JOBS: dict[str, tuple[Danger, ...]] = {
    "gap": ("cuts",), "cut": ("cuts",), "bond": ("solders",), "solder": ("solders",), "joint": ("cuts", "solders"),
    "feeder": ("solders",), "frog": ("solders",), "lamp": ("solders",), "couple": ("rewires",),
    "bus": ("solders", "rewires"), "common": ("solders", "rewires"), "endplate": ("rewires",),
    **dict.fromkeys(("booster", "cab", "district", "block", "reverser"), ("rewires",)),
    **dict.fromkeys(
        ("segment", "turnout", "stub", "three-way", "crossing", "slip", "scissors", "gauntlet", "construction",
         "turntable", "transfer-table", "approach-track"), ("cuts", "solders"),
    ),
}  # fmt: skip
_BEGINNINGS = tuple(JOBS)
# Words and beginnings of words; those that end with a blank are whole. A mark, such as a hyphen, stands by itself.
WORDS: dict[Danger, tuple[str, ...]] = {
    "cuts": ("cut ", "cuts ", "cutting ", "gap ", "gaps ", "gapped ", "saw ", "sawn ", "insulated "),
    "solders": (
        "solder", "bond", "feed ", "feeder ", "feeders ", "drop ", "drops ", "wire ", "wires ", "swap ",
        "capacitor ", "capacitors ", "network ",
    ),
    "rewires": (
        "booster ", "boosters ", "breaker ", "breakers ", "supply ", "supplies ", "reverser ", "reversers ", "bus ",
        "district ", "districts ", "power pack ", "power packs ", "uncross ", "detector ", "detectors ",
    ),
}  # fmt: skip
TESTS: dict[Danger, tuple[str, ...]] = {
    "ohms": ("ohm ", "ohms ", "beep ", "beeps ", "meter from ", "with a meter ", "meter between "),
    "volts": ("volt", "alternating - current meter ", "lamp across ", "power on "),
    "breaker": ("coin ", "breaker must ", "the breaker stays ", "axle over the gap "),
}
BEEP = (
    "A cheap meter beeps below some tens of ohms, so a beep through dirt, a lamp or a motor is no proof of a wire: "
    "take those off first, and touch the leads together once to hear what a good joint sounds like."
)
RANGE = (
    "Digital power is alternating: set the meter to alternating volts (V~, 20 V or more). On direct volts it reads "
    "next to nothing, and a live rail seems dead. An analog power pack wants direct volts."
)


def of_fix(fix: Fix, sources: Mapping[str, Source]) -> set[Danger]:
    """What hands have to do for a mend: by the statements that it changes, and by its words, which may tell of more."""
    changed = {word for edit in fix.edits for word in _keywords(edit, sources)}
    return {danger for word in changed for danger in JOBS.get(word, ())} | of_words(fix.words)


def _keywords(edit: Edit, sources: Mapping[str, Source]) -> set[str]:
    """The first words of the lines that an edit adds, and of the statement that it changes."""
    added = {line.split(None, 1)[0] for line in edit.text.splitlines() if line.strip()}
    source = sources.get(edit.at.path)
    if edit.line or source is None:
        return added
    first, last = source.line_of(edit.at.start), source.line_of(edit.at.end)
    changed = {_statement_of(source, line) for line in range(first, last + 1)}
    return changed | (added if edit.text.startswith(_BEGINNINGS) else set())


def _statement_of(source: Source, line: int) -> str:
    """The keyword of the statement that a line belongs to; a line that is indented goes on with the one before."""
    while (not (text := source.line_text(line)).strip() or text[0].isspace()) and line:
        line -= 1
    return next(iter(text.split(None, 1)), "")


def of_lines(lines: Iterable[str]) -> set[Danger]:
    """What hands have to do for new lines of a plan."""
    return {danger for line in lines if line.strip() for danger in JOBS.get(line.split(None, 1)[0], ())}


def of_words(text: str) -> set[Danger]:
    """What hands have to do for a mend that is told in words alone."""
    return _speaks_of(text, WORDS)


def of_test(text: str) -> set[Danger]:
    """What a way to find a fault asks of whoever tries it."""
    return _speaks_of(text, TESTS)


def _speaks_of(text: str, words: Mapping[Danger, tuple[str, ...]]) -> set[Danger]:
    """The dangers one of whose words, or beginnings of words, stands in a text."""
    said = " ".join(["", *re.findall(r"\w+|[^\w\s]", text.lower()), ""])
    return {danger for danger, own in words.items() if any(f" {word}" in said for word in own)}


def told(dangers: Iterable[Danger]) -> tuple[str, ...]:
    """The cautions, in one order."""
    known = set(dangers)
    return tuple(CAUTIONS[danger] for danger in ORDER if danger in known)


def test_in_full(text: str) -> str:
    """A test as a lesson tells it: with the range that a voltmeter wants, and what a beep is worth."""
    asks = of_test(text)
    more = [RANGE] if re.search(r"\bvolt(?:meter|s)\b", text, re.I) and "lternating" not in text else []
    return " ".join([text, *more, *([BEEP] if "ohms" in asks else [])])
