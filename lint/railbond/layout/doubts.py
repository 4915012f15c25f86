"""Numbers that can hardly be meant: mostly a unit that was mistyped."""

from __future__ import annotations

from trackplan.quantities import MEASURES, Length, Quantity
from trackplan.special import Crossing, Gauntlet, Scissors, Slip, Stub, ThreeWay, Turnout
from trackplan.statements import Booster, Bus, Cab, Engine, Feeder, Lamp, Segment, Statement, where

from .names import Names
from .symbols import SymbolTable

SHORTEST, LONGEST = 0.001, 100.0
"""Meters of one segment: a rail of a millimeter cannot be held, and a hundred meters fill a hall."""

LIKELY = 0.01, 20.0
"""Meters that are worth a guess."""

LONGEST_DROP = 12.0
"""Meters of one drop, which is a short wire from a run: common practice is well below one."""

LONGEST_RUN = 60.0
"""Meters of one bus run: digital power is never led so far from one booster (common practice ends at 30 m)."""

BRIGHTEST = 1.0
"""Amperes of one lamp at a buffer stop: a headlight bulb takes a tenth of it, a light-emitting diode a hundredth."""

WEAKEST = 0.02
"""Amperes of a booster or a cab: the smallest motor takes more (common practice, from memory)."""

NARROWEST, LONGEST_DEAD = 0.0001, 1.0
"""Meters without power at a frog: the thinnest saw cuts more than a tenth of a millimeter."""

LIKELY_DEAD = 0.002, 0.2
"""Meters of such a length that are worth a guess."""

LONGEST_ENGINE = 5.0
"""Meters from an engine's zero to any of its wheels: those that people ride on are shorter."""

UNITS = ("cm", "mm", "m", "in", "ft")
"""Units that are guessed, the usual ones first."""


def check_segments(symbols: SymbolTable, names: Names) -> None:
    """Tells segments of a length that nobody lays."""
    for one in symbols.of(Segment):
        if one.length > LONGEST:
            doubt(names, one, one.length, f"longer than {LONGEST:g} m of track in one segment", one.name)
        elif one.length < SHORTEST:
            doubt(names, one, one.length, "shorter than any rail that can be laid", one.name)


def check_drops(symbols: SymbolTable, names: Names) -> None:
    """Tells drops of a length that no drop has."""
    for one in symbols.of(Feeder):
        if one.length is not None and is_long_for_a_drop(one):
            doubt(names, one, one.length, f"longer than any drop ({LONGEST_DROP:g} m at most)", str(one.supply))


def check_runs(symbols: SymbolTable, names: Names) -> None:
    """Tells runs of a length that nobody lays."""
    for one in symbols.of(Bus):
        if one.length is not None and one.length > LONGEST_RUN:
            doubt(names, one, one.length, f"longer than any run ({LONGEST_RUN:g} m at most)", str(one.terminal))


def is_long_for_a_drop(feeder: Feeder) -> bool:
    """Whether nobody would solder it: the run would be laid nearer."""
    return feeder.length is not None and feeder.length > LONGEST_DROP


def check_lamps(symbols: SymbolTable, names: Names) -> None:
    """Tells lamps of a current that no lamp takes."""
    for one in symbols.of(Lamp):
        if one.current > BRIGHTEST:
            meant = f"{one.current.text.rstrip('A ')} mA"
            _tell(names, one, one.current, "more than any lamp takes", str(one.end), meant)


def check_supplies(symbols: SymbolTable, names: Names) -> None:
    """Tells boosters and cabs of a current that no engine runs on."""
    for one in symbols.among(Booster, Cab):
        if one.current < WEAKEST:
            meant = f"{one.current.text.removesuffix('mA').rstrip()} A" if one.current.text.endswith("mA") else ""
            _tell(names, one, one.current, "less than any engine takes", one.name, meant)


def check_engines(symbols: SymbolTable, names: Names) -> None:
    """Tells engines with a wheel where no engine has one."""
    for one in symbols.of(Engine):
        if far := max((place for place in (*one.left, *one.right) if place > LONGEST_ENGINE), default=None):
            what = f"further back than any engine's wheel ({LONGEST_ENGINE:g} m at most)"
            _tell(names, one, far, what, one.name, "")


def check_dead(symbols: SymbolTable, names: Names) -> None:
    """Tells dead lengths that no frog has."""
    for one in symbols.among(Turnout, Stub, ThreeWay, Crossing, Slip, Scissors, Gauntlet):
        if one.dead is not None and not NARROWEST <= one.dead <= LONGEST_DEAD:
            than = (
                "shorter than any cut" if one.dead < NARROWEST else f"longer than any frog ({LONGEST_DEAD:g} m at most)"
            )
            _tell(names, one, one.dead, than, one.name, likely(one.dead.text, LIKELY_DEAD))


def doubt(names: Names, statement: Statement, length: Length, what: str, name: str) -> None:
    """Tells a length, with the unit that makes it a likely one."""
    _tell(names, statement, length, what, name, likely(length.text))


def _tell(names: Names, statement: Statement, number: Quantity, what: str, name: str, meant: str) -> None:
    from trackplan.edit import replace

    message = f"`{number.text}` is {what}: is the unit right?"
    edits = (replace(where(statement, number), meant),) if meant else ()
    mend = f"write `{meant}`, if that is meant" if meant else "write the number that was meant"
    names.fault("unit-in-doubt", statement, number, message, mend, edits, name=name)


def likely(text: str, between: tuple[float, float] = LIKELY) -> str:
    """The same number with another unit, such that it is a length between two, in meters; empty where there is none."""
    number = text.rstrip("abcdefghijklmnopqrstuvwxyz ")
    try:
        amount = float(number)
    except ValueError:
        return ""
    units = MEASURES["LENGTH"].units
    return next((f"{number} {unit}" for unit in UNITS if between[0] <= amount * units[unit] <= between[1]), "")
