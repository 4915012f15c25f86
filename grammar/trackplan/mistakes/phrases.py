"""The parts of plan.lark in the words of the trade: what a message says was expected."""

from __future__ import annotations

from ..words import Expected, expected

# A part of plan.lark, and below a kind of word that stands in a statement as it is.
PHRASES = {
    "title": 'the title in quotes, such as `"Quarry Junction"`',
    "file": 'a file name in quotes, such as `"club.trackplan"`',
    "reason": 'the reason in quotes, such as `"its joiners are soldered"`',
    "name": "a name for the {kind}",
    "end": "an end (such as `T1.points`, a joint, an endplate or `stop`)",
    "leg": "a leg such as `red`, or one of a terminal such as `P1.red`",
    "legs": "the names of the two legs, such as `red black`",
    "supply": "what feeds it (a district, block, reverser or terminal)",
    "supplies": "two or more supplies that share it, such as `main yard`",
    "choices": "`or` and another cab or district",
    "terminal": "the terminal at the far end, such as `P1`",
    "fed_rail": "the segment to feed, or one rail of it such as `west.left`",
    "solder_place": "the joint that is soldered (an end such as `T1.through`, or a joint)",
    "metal": "the metal of the rail (`nickel-silver`, `brass` or `steel`)",
    "cut_place": "the place of the cut (an end such as `T1.through`, a joint or a segment)",
    "scale_name": "the scale, such as `HO`",
    "module_name": "the name of a module",
    "module_names": "the names of the modules that may stand in any order",
    "owner": 'the owner in quotes, such as `"the quarry gang"`',
    "endplate_name": "an endplate, such as `quarry.E`",
    "booster_name": "the name of a booster",
    "district_name": "the name of a district",
    "turnout_name": "the name of a turnout",
    "fed_frog": "the name of a turnout, or of one of its frogs such as `D1.2`",
    "split": "`split at` an angle",
    "contacts": "`through contacts of` a turnout",
    "mover_name": "the turnout whose points move the contacts",
    "clauses": "what it is made of (`positions`, `rail`, `frog`, `joined`, `pass`, `blade` or `opening`)",
    "clause": "what more it is made of (`positions`, `rail`, `frog`, `joined`, `pass`, `blade` or `opening`)",
    "positions_clause": "the positions of its points, such as `positions through diverging`",
    "rail_clause": "the names of its rails, such as `rail left right`",
    "joined_clause": "rails that are one metal, such as `joined left right`",
    "pass_clause": "rails that a wheel rolls over, such as `pass left right`",
    "blade_clause": "a blade, such as `blade left beside right touches through open diverging`",
    "opening_clause": "an end, such as `opening points left a right b enters`",
    "position_names": "the names of positions, such as `through diverging`",
    "rail_names": "the names of rails, in quotes where they are more than one word",
    "rail_name": "the name of a rail, in quotes where it is more than one word",
    "quoted_name": "a name in quotes",
    "end_rail": "the rail there, with `frog` or `stock` before it where it is that",
    "end_name": "a name for the end, such as `points`",
    "wants": "`when` and what the frog wants then, such as `when through wants left`",
    "wanted": "`when` and what the frog wants then, such as `when through wants left`",
    "when": "`when` and the positions in which it holds",
    "contact": "the wire of the contacts (`through` or `diverging`)",
    "way": "whether the looking direction `enters` or `leaves` here",
    "part_number": "the number of the part, such as `2`",
    "position": "how the points stand, such as `diverging`",
    "table_end": "a table and the name of the track, such as `TT.lead`",
    "lit_end": "the end of track where the lamp is, such as `siding.finish`",
    "heading": "the angle round the pit, such as `15 degrees`",
    "pit_place": "the place at the pit (an angle such as `30 degrees`, or at a transfer table `40 cm`)",
    "limit_name": "the name of a limit, such as `feeder-spacing`",
    "rule_name": "the name of a rule, such as `feeders-too-far-apart`",
    "accepted_name": "the name of the piece where it is accepted",
    "all_places": "`everywhere`",
    "hand": "the hand (`left`, `right` or `wye`)",
    "build": "the build (`dead-frog`, `live-frog` or `isolated-frog`)",
    "plain_build": "the build (`dead-frog` or `isolated-frog`)",
    "turnout_build": "the build (`dead-frog`, `live-frog`, `isolated-frog`, `movable-frog` or `sprung-frog`)",
    "stub_hand": "the hand (`left` or `right`)",
    "route": "the route for which the points spring back (`through` or `diverging`)",
    "shape": "the shape (`symmetrical`, `staggered left` or `staggered right`)",
    "slips": "the kind of slip (`single` or `double`)",
    "angle": "the angle of the crossing, such as `19 degrees`",
    "rail": "the rail (`left rail`, `right rail`, `both rails`, `frog rail` or `stock rail`)",
    "what": "what to cut (`closure jumpers`, `around frog`, `around frog without jumpers` or `frog rails`)",
    "length": "a length with its unit, such as `90 cm`",
    "place": "the distance from its start, such as `20 cm`",
    "size": "a wire size, such as `14 AWG`",
    "voltage": "a voltage, such as `15 V`",
    "current": "a current, such as `4 A`",
    "resistance": "the resistance of its output, such as `50 mohm`",
    "duration": "how long it runs on without power, such as `300 ms`",
    "speed": "the speed at which it crawls, such as `20 mm/s`",
    "dead_length": "the length of the frog without power, such as `22 mm`",
    "rail_code": "the code of the rail, such as `83`",
    "frog_number": "the number of the frog, such as `6`",
    "positions": "the places of the wheels with their unit, such as `0 31 62 mm`",
    "unweighted": "`unweighted` and the places of the wheels that bear little weight",
    "value": "a value with its unit, such as `2 m`",
    "statement": "the kind of statement, such as `segment`, `turnout` or `feeder`",
}
WORD_PHRASES = {
    "rail": PHRASES["rail"],
    "->": "an arrow `->`",
    "LENGTH": "the unit after the last number of the list, such as `0 31 62 mm`",
}


def describe(line: str, ahead: Expected) -> str:
    """What may follow the text of a line, as a part of a sentence."""
    kind = line.split(None, 1)[0] if line.strip() else ""
    parts = [PHRASES[role].format(kind=kind) for role in ahead.roles]
    parts += [WORD_PHRASES.get(word) or keyword_phrase(line, word) for word in ahead.words if word != "NUMBER"]
    if ahead.ends:
        parts.append("the end of the line" if parts else "nothing more on this line")
    if len(parts) > 2 and not any("," in part for part in parts):
        return f"{', '.join(parts[:-1])} or {parts[-1]}"
    return ", or ".join(parts)


def keyword_phrase(line: str, word: str) -> str:
    """A keyword with those that must come after it: `closure rails to stock rails`."""
    phrase = word
    after = expected(f"{line} {phrase}")
    while len(after.words) == 1 and not after.roles and not after.ends:
        phrase += f" {after.words[0]}"
        after = expected(f"{line} {phrase}")
    return f"`{phrase}`"
