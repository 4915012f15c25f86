"""Mistakes with numbers and units. Each function tells its own mistake, or None."""

from __future__ import annotations

import re

from ..quantities import MEASURES, shorten
from ..record import NamedTuple
from ..span import Span
from ..statements import Broken
from ..tables import KEYWORDS
from .fault import Misreading

# Units as they are spoken, without a plural's s.
SPOKEN = {
    "millimeter": "mm", "millimetre": "mm", "centimeter": "cm", "centimetre": "cm", "meter": "m",
    "metre": "m", "inch": "in", "inche": "in", "foot": "ft", "feet": "ft", "volt": "V", "amp": "A",
    "ampere": "A", "milliamp": "mA", "ga": "AWG", "gauge": "AWG", "sqmm": "mm2", "deg": "degrees",
    "degree": "degrees", "percent": "%", "second": "s", "sec": "s", "°": "degrees", "Ω": "ohm",
}  # fmt: skip
_TYPED = re.compile(r"([+−-]?[0-9.,/]+)[ \t]*([^\W\d_][\w/]*|[°%Ω])?")
_MARKED = re.compile(r"(?:([0-9]+(?:\.[0-9]+)?)\s*['’′](?!'))?\s*(?:([0-9]+(?:\.[0-9]+)?)\s*(?:[\"”″]|''))?")
_DOTTED = re.compile(r"([0-9]\s*)(in|ft|cm|mm|m|V|A|deg|ga)\.(?=\s|$)")
_YARDS = re.compile(r"([0-9]+(?:\.[0-9]+)?)\s*(?:yards?|yds?)\b")
_FRACTION = re.compile(r"(?:([0-9]+)[ -])?([0-9]+)/([1-9][0-9]*)(?![\w/])")
_ROW = re.compile(r"[0-9]+(?:\.[0-9]+)?(?:,[0-9]+(?:\.[0-9]+)?)+")
_PLAIN = re.compile(r"[0-9]+(?:\.[0-9]+)?")


class Typed(NamedTuple):
    """A number as typed, what looks like its unit, and where they end."""

    number: str
    unit: str
    end: int


def bad_quantity(fault: Misreading) -> Broken | None:
    """A number without its unit, with a wrong one, or written in a way that is not read."""
    kinds = [kind for kind in MEASURES if fault.takes(kind)]
    if fault.token.kind not in ("NUMBER", "figure") or not kinds:
        return None
    typed = split(fault)
    meant = meant_quantity(typed, [unit for kind in kinds for unit in MEASURES[kind].units])
    return fault.tell(f"{what_is_wrong(typed)}: {fault.wanted}", meant, typed.end)


def marked_feet(fault: Misreading) -> Broken | None:
    """`3' 6"`."""
    marked = _MARKED.match(fault.line, fault.token.start)
    if not marked or not marked[0].strip() or not fault.takes("LENGTH"):
        return None
    pairs = zip(marked.groups(), ("ft", "in"), strict=True)
    meant = " ".join(f"{number} {unit}" for number, unit in pairs if number)
    end = marked.start() + len(marked[0].rstrip())
    return fault.tell("feet and inches are typed as words, such as `3 ft 6 in`", meant, end)


def unit_first(fault: Misreading) -> Broken | None:
    """`AWG 14`."""
    unit, number = fault.token.text, fault.after
    kinds = [kind for kind, measure in MEASURES.items() if unit in measure.units and fault.takes(kind)]
    if not kinds or number.kind != "NUMBER":
        return None
    return fault.tell(f"a unit stands after its number: {fault.wanted}", f"{number.text} {unit}", number.end)


def numbered_name(fault: Misreading) -> Broken | None:
    if fault.token.kind not in ("figure", "NUMBER") or not fault.takes("WORD"):
        return None
    kind, number = fault.before[0].text[:1].upper() if fault.before else "", fault.token.text
    meant = f"{kind}{number}" if kind and len(fault.before) == 1 and number.isdecimal() else None
    such = f" (such as `{meant}`)" if meant else ""
    return fault.tell(f"names start with a letter, {fault.shown} does not: {fault.wanted}{such}", meant)


def split(fault: Misreading) -> Typed:
    match = _TYPED.match(fault.line, fault.token.start)
    if match is None:
        return Typed(fault.token.text, "", fault.token.end)
    number, unit = match.groups()
    if unit is None or unit in KEYWORDS:
        return Typed(number, "", match.end(1))
    return Typed(number, unit, match.end())


def what_is_wrong(typed: Typed) -> str:
    number = f"`{shorten(typed.number)}`"
    if typed.number[0] in "-−":
        return f"{number} is less than nothing"
    if "," in typed.number:
        return f"{number} has a comma, and decimals are typed with a point"
    if not _PLAIN.fullmatch(typed.number):
        return f"{number} is not a plain number"
    return f"`{shorten(typed.unit)}` is not a unit that fits here" if typed.unit else f"{number} has no unit"


def meant_quantity(typed: Typed, units: list[str]) -> str | None:
    """The quantity as it should have been typed, where there is one way only to take it."""
    number = re.sub(r"^\.", "0.", re.sub(r",(?!\d{3}\b)", ".", typed.number))
    unit = meant_unit(typed.unit, units)
    return f"{number} {unit}".rstrip() if unit is not None and _PLAIN.fullmatch(number) else None


def meant_unit(typed: str, units: list[str]) -> str | None:
    if len(units) == 1 and not typed:
        return units[0]
    spoken = SPOKEN.get(typed.lower().removesuffix("s"), SPOKEN.get(typed, typed))
    return next((unit for unit in units if unit.lower() == spoken.lower()), None)


def written_units(fault: Misreading) -> Broken | None:
    """`3 ft. 6 in.`, `2 yards`: all of a line at once."""
    now = _YARDS.sub(lambda one: f"{3 * float(one[1]):g} ft", _DOTTED.sub(r"\1\2", fault.line))
    return _rewritten(fault, now, "units are written without a dot, and yards as feet")


def fractions(fault: Misreading) -> Broken | None:
    """`3 1/2 ft`."""
    now = _FRACTION.sub(lambda one: f"{float(one[1] or 0) + float(one[2]) / float(one[3]):.6g}", fault.line)
    return _rewritten(fault, now, "fractions are written as decimals")


def listed_numbers(fault: Misreading) -> Broken | None:
    """`0,31,62 mm`, the places of wheels."""
    if "positions" not in fault.expected.roles:
        return None
    now = _ROW.sub(lambda one: one[0].replace(",", " "), fault.line)
    return _rewritten(fault, now, "the places of wheels stand with blanks between them")


def _rewritten(fault: Misreading, now: str, message: str) -> Broken | None:
    """What a line becomes, told where it changes first; None where that is before what has been read already."""
    line = fault.line
    if now == line:
        return None
    shortest = min(len(line), len(now))
    first = next((at for at in range(shortest) if line[at] != now[at]), shortest)
    first = now.rfind(" ", 0, first) + 1
    tail = next((at for at in range(1, shortest - first) if line[-at] != now[-at]), shortest - first) - 1
    end, until = len(line) - tail, len(now) - tail
    return Broken(Span("", first, end), f"{message}: write `{now[first:until]}`", now[first:until])
