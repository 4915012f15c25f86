"""Sound railroads of any size, of the five kinds that clubs build, as text; every wire has its size and length.

No random track: each kind is the same few lines again and again, so that what is measured is the growth alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

DISTRICT = 20
"""Turnouts to a district, each behind a gap in both rails, as breakers want it."""
POWER = "scale HO\nbooster B1 15 V 5 A\n"
EACH_WIRE = "22 AWG 20 cm"


def yards(turnouts: int) -> str:
    """One lead after another, ten tracks turning out of each, all in a row behind one another."""
    return _text(_ladder(turnouts, "45 cm"))


def ladders(turnouts: int) -> str:
    """The same with no length between the turnouts: each ladder's turnouts meet one another."""
    return _text(_ladder(turnouts, ""))


def main_line(turnouts: int) -> str:
    """Two tracks side by side with a crossover every few meters."""
    return _text(_crossovers(turnouts // 2))


def throat(slips: int) -> str:
    """A square of double slips, every track of which crosses every other."""
    side = round(slips**0.5)
    lines = [POWER.strip(), "district d0 from B1 trips 4 A", "bus d0 -> P0 1 m 14 AWG"]
    for row in range(side):
        for column in range(side):
            name = f"S{row}x{column}"
            lines.append(f"slip {name} double number 6 isolated-frog")
            lines.append(f"frog {name} switched from stock rails")
            lines += _square_ends(name, row, column, side)
    return "\n".join(lines) + "\n"


def _square_ends(name: str, row: int, column: int, side: int) -> Iterator[str]:
    """The two tracks that leave a slip to the right, and those that come in from the left at the edge."""
    for end, start, is_last, to in (
        ("a2", "a1", column == side - 1, f"S{row}x{column + 1}"),
        ("b2", "b1", row == side - 1, f"S{row + 1}x{column}"),
    ):
        track = f"{end[0]}{row}x{column}"
        if (column if end == "a2" else row) == 0:
            yield from _track(f"in{track}", "stop", f"{name}.{start}", "50 cm", "P0")
        yield from _track(track, f"{name}.{end}", "stop" if is_last else f"{to}.{start}", "50 cm", "P0")


def _ladder(turnouts: int, between: str) -> Iterator[str]:
    """Turnouts each behind the last, a track at each, and every tenth one behind a length of lead."""
    before = "stop"
    for number in range(turnouts):
        name, wire = f"T{number}", f"P{number // DISTRICT}"
        if number % DISTRICT == 0:
            yield from _district(number // DISTRICT)
        yield f"turnout {name} left number 6 isolated-frog"
        yield f"frog {name} switched from stock rails"
        if between or number % 10 == 0:
            yield from _track(f"lead{number}", before, f"{name}.points", between or "60 cm", wire)
        else:
            yield f"joint {before} -> {name}.points"
        if number and number % DISTRICT == 0:
            yield f"gap {before} both rails"
        yield from _track(f"track{number}", f"{name}.diverging", "stop", "1.8 m", wire)
        before = f"{name}.through"
    yield from _track("last", before, "stop", "90 cm", f"P{(turnouts - 1) // DISTRICT}")


def _crossovers(count: int) -> Iterator[str]:
    north, south = "stop", "stop"
    for number in range(count):
        one, other, wire = f"N{number}", f"S{number}", f"P{2 * number // DISTRICT}"
        is_first = 2 * number % DISTRICT == 0
        if is_first:
            yield from _district(2 * number // DISTRICT)
        yield f"turnout {one} left number 6 isolated-frog"
        yield f"turnout {other} left number 6 isolated-frog"
        yield f"frog {one} switched from stock rails"
        yield f"frog {other} switched from stock rails"
        yield from _track(f"north{number}", north, f"{one}.points", "1.5 m", wire)
        yield from _track(f"south{number}", south, f"{other}.through", "1.5 m", wire)
        yield from _track(f"over{number}", f"{one}.diverging", f"{other}.diverging", "20 cm", wire)
        if number and is_first:
            yield f"gap {north} both rails"
            yield f"gap {south} both rails"
        north, south = f"{one}.through", f"{other}.points"
    wire = f"P{2 * (count - 1) // DISTRICT}"
    yield from _track("north", north, "stop", "1 m", wire)
    yield from _track("south", south, "stop", "1 m", wire)


def _district(number: int) -> Iterator[str]:
    yield f"district d{number} from B1 trips 4 A"
    yield f"bus d{number} -> P{number} 1 m 14 AWG"


def _track(name: str, start: str, stop: str, length: str, wire: str) -> Iterator[str]:
    yield f"segment {name} {start} -> {stop} {length}"
    yield f"feeder {wire} -> {name} {EACH_WIRE}"


def _text(lines: Iterator[str]) -> str:
    return POWER + "\n".join(lines) + "\n"


KINDS: dict[str, Callable[[int], str]] = {
    "yards": yards,
    "ladders": ladders,
    "main line": main_line,
    "throat of slips": throat,
}


def shorted(text: str) -> str:
    """A railroad whose wires are so long and thin that no short trips a breaker."""
    return text.replace("1 m 14 AWG", "20 m 24 AWG")
