"""Where power comes from: districts, blocks and reversers, and the plugs of a module that has no district."""

from __future__ import annotations

from collections.abc import Iterator

from trackplan.span import Span, Word
from trackplan.statements import Block, Booster, Bus, Cab, District, Endplate, Feeder, FrogSwitched, Reverser
from trackplan.typed import Literal

from .model import Supply
from .names import Names
from .symbols import SymbolTable

Legs = tuple[str, str]

LEGS: Legs = ("red", "black")


def make_supplies(symbols: SymbolTable, names: Names) -> dict[str, Supply]:
    """Every supply by its whole name, in the plan's order, a module's plugs first."""
    fixed = _plugs(symbols, names)
    fixed |= {names.whole(one.name): _district(one, names) for one in symbols.of(District)}
    fixed |= {names.whole(one.name): _cab(one, names) for one in symbols.of(Cab)}
    found = dict(fixed)
    for kind in (Block, Reverser):
        for name in names.of(kind):
            statement = names.defined[name]
            assert isinstance(statement, Block | Reverser)
            found[name] = behind(name, statement, found, names)
    plugs = {name: one for name, one in fixed.items() if one.kind == "plug"}
    return plugs | {name: found[name] for name in names.of(District, Cab, Block, Reverser)}


def _district(district: District, names: Names) -> Supply:
    name = names.whole(district.name)
    booster = names.find(district, district.booster, (Booster,), "booster")
    return Supply(name, "district", _legs(district, names), name, booster, district)


def _cab(cab: Cab, names: Names) -> Supply:
    return Supply(names.whole(cab.name), "cab", _legs(cab, names), None, None, cab)


def _legs(supply: District | Cab, names: Names) -> Legs:
    if supply.legs and supply.legs[0] == supply.legs[1]:
        message = f"the two wires of `{supply.name}` need two names, such as `legs red black`"
        names.fault("impossible", supply, supply.legs[1], message, name=supply.name)
    return (str(supply.legs[0]), str(supply.legs[1])) if supply.legs else LEGS


def behind(name: str, statement: Block | Reverser, before: dict[str, Supply], names: Names) -> Supply:
    """A block or reverser: its district's legs and booster, wires of its own. A block may be a cab's too, a reverser
    may come after a block. `before` holds the districts, cabs, plugs and blocks."""
    kind: Literal["block", "reverser"] = "block" if isinstance(statement, Block) else "reverser"
    district = _before(statement, statement.district, before, names)
    legs, booster = (district.legs, district.booster) if district else (LEGS, None)
    others = statement.others or () if isinstance(statement, Block) else ()
    found = [district, *(_before(statement, word, before, names) for word in others)]
    choices = tuple(dict.fromkeys(one.name for one in found if one)) if others else ()
    root, detector = (district.district, district.name) if district and district.kind == "block" else (None, "")
    root = root or (district.name if district else None)
    return Supply(name, kind, legs, root, booster, statement, choices, detector)


def _before(statement: Block | Reverser, word: Word, before: dict[str, Supply], names: Names) -> Supply | None:
    """What feeds a block or reverser; a fault where there is no such thing."""
    symbols = (District, Cab) if isinstance(statement, Block) and any(names.of(Cab)) else (District,)
    what = " or ".join(kind.__name__.lower() for kind in symbols)
    found = before.get(names.whole(word))
    if found and (found.kind == "plug" or isinstance(found.statement, symbols) or _detects(statement, found, before)):
        return found
    after = names.defined.get(names.whole(word))
    if isinstance(statement, Block) and isinstance(after, Reverser):
        _out_of_order(statement, word, after, names)
        return before.get(names.whole(after.district))
    return before.get(names.find(statement, word, symbols, what) or "")


def _out_of_order(block: Block, word: Word, reverser: Reverser, names: Names) -> None:
    """Tells that a block is to come before the reverser in which it is, and turns the two round where it is the one."""
    from trackplan.amend import set_word

    message = f"`{word}` is a reverser: a block has its detector before it, not behind it"
    behind_it = [one for one in names.defined.values() if isinstance(one, Block) and one.district == word]
    if len(behind_it) > 1 or not isinstance(names.defined.get(names.whole(reverser.district)), District):
        mend = f"one detector before {word} sees its whole section: put {word} in one block, and take the others out"
        names.fault("impossible", block, word, message, mend)
        return
    edits = set_word(block, word, reverser.district), set_word(reverser, reverser.district, block.name)
    names.fault("impossible", block, word, message, f"put {block.name} between {reverser.district} and {word}", edits)


def _detects(statement: Block | Reverser, block: Supply, before: dict[str, Supply]) -> bool:
    """Whether a reverser may come after a block: a detected one of a district, without a toggle."""
    if block.kind != "block" or block.choices or not block.district:
        return False
    return isinstance(statement, Reverser) and before[block.district].kind != "cab"


def _plugs(symbols: SymbolTable, names: Names) -> dict[str, Supply]:
    """A module without a district takes its power through its bus plug: a name that its wires use and that no
    statement defines."""
    if not symbols.of(Endplate) or symbols.of(District):
        return {}
    found: dict[str, Bus | Feeder | Block | Reverser] = {}
    for statement, word in _sources(symbols):
        if (whole := names.whole(word.partition(".")[0])) not in names.defined:
            found.setdefault(whole, statement)
    if len(found) > 1:
        found = {name: one for name, one in found.items() if not names.near(name, names.of(Bus))}
    legs = spoken_legs(symbols)
    return {name: Supply(name, "plug", legs, None, None, statement) for name, statement in found.items()}


def unread(name: str, at: Span, symbols: SymbolTable, names: Names) -> Supply:
    """Stands for a supply whose own line was not understood, so that what it feeds is not told as dead."""
    word, nobody, legs = Word(names.typed(name)), Word(""), spoken_legs(symbols)
    if names.whole("reverser") in names.missing:
        return Supply(name, "reverser", legs, None, None, Reverser(at, word, nobody, None))
    return Supply(name, "plug", legs, None, None, Bus(at, word, nobody, None, None, None))


def _sources(symbols: SymbolTable) -> Iterator[tuple[Bus | Feeder | Block | Reverser, Word]]:
    """The words that say where a module's wires come from, each with its statement."""
    yield from ((bus, bus.supply) for bus in symbols.of(Bus))
    if not symbols.of(Bus):
        yield from ((feeder, feeder.supply) for feeder in symbols.of(Feeder))
    yield from ((block, block.district) for block in symbols.of(Block))
    yield from ((reverser, reverser.district) for reverser in symbols.of(Reverser))


def spoken_legs(symbols: SymbolTable) -> Legs:
    """Legs that no statement names: red and black, or the two other words by which the plan calls them."""
    words = [feeder.supply.partition(".")[2] for feeder in symbols.of(Feeder)]
    for frog in symbols.of(FrogSwitched):
        words += [frog.through.partition(".")[2], frog.diverging.partition(".")[2]]
    words += [str(plate.left) for plate in symbols.of(Endplate) if plate.left]
    legs = list(dict.fromkeys(filter(None, words)))
    return (legs[0], legs[1]) if len(legs) == 2 and set(legs) != set(LEGS) else LEGS
