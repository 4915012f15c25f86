"""From the statements of a plan to its layout: every name resolved, and every name that cannot be told."""

from __future__ import annotations

from collections.abc import Iterable

from trackplan.statements import Accept, Booster, Couple, Endplate, Engine, Joint, Limit, Statement, Train

from .accepted import acceptable, acceptances, check_acceptances, make_edges, read_scale
from .commons import common_rails
from .couplings import Couplings
from .desk import Desk
from .doubts import check_dead, check_drops, check_engines, check_lamps, check_runs, check_segments, check_supplies
from .drops import make_drops
from .ends import STOP, Ends
from .frogs import feed_frogs
from .gaps import cut_joints
from .lamps import lamps_at
from .limits import check_limits
from .loose import tell_loose
from .model import Layout
from .names import Names
from .pieces import TemplateMaker, make_pieces
from .solder import soldered_joints, usual_rail
from .symbols import Expander, SymbolTable
from .terminals import Terminals
from .track import Track


def build(
    statements: Iterable[Statement],
    templates: TemplateMaker,
    missing: Iterable[str] = (),
    prefix: str = "",
    expand: Expander = lambda _: None,
) -> Layout:
    """The layout of a plan; whatever the statements say, it is built, and what is wrong is told in `faults`.

    `templates` makes each piece's template. `missing` holds the words of the lines that could not be read:
    nothing is told of a name among them. `prefix`, such as `quarry.`, goes before every name that is defined.
    `expand` gives the parts of what stands for several pieces.
    """
    names = Names(missing, prefix)
    symbols = SymbolTable(statements, names, expand)
    pieces = make_pieces(symbols, names, templates)
    track = Track(names, Ends(names, pieces, symbols.ends))
    track.lay(symbols)
    tell_loose(symbols, names, track)
    couple_edges(symbols, names, track)
    cut_joints(symbols, names, track)
    power = Terminals(symbols, names)
    drops = make_drops(symbols, names, track.ends, power)
    frogs = feed_frogs(symbols, names, pieces, power)
    edges = make_edges(symbols, names, track, power)
    accepted_at = acceptable(names, track, power)
    check_acceptances(symbols.of(Accept), names, accepted_at, track.ends.named)
    check_segments(symbols, names)
    check_drops(symbols, names)
    check_runs(symbols, names)
    check_lamps(symbols, names)
    check_supplies(symbols, names)
    check_engines(symbols, names)
    check_dead(symbols, names)
    check_limits(symbols, names)
    scale = read_scale(symbols, names)
    soldered = soldered_joints(symbols, names, track)
    commons = common_rails(symbols, names, power)
    lamps = lamps_at(symbols, names, track)
    return Layout(
        pieces=pieces,
        meetings=track.meetings,
        stops=[end for end, (target, _) in track.met.items() if target == STOP],
        edges=edges,
        supplies=power.supplies,
        terminals=power.terminals,
        runs=power.runs,
        drops=drops,
        frogs=frogs,
        engines=symbols.of(Engine),
        trains=symbols.of(Train),
        limits={str(limit.name): limit for limit in symbols.of(Limit)},
        acceptances=acceptances(symbols.of(Accept)),
        joints=symbols.of(Joint),
        scale=scale,
        faults=names.faults,
        boosters={names.whole(booster.name): booster for booster in symbols.of(Booster)},
        rails=usual_rail(symbols, names),
        soldered=soldered,
        commons=commons,
        lamps=lamps,
        desk=Desk(names, track, power, templates),
        acceptable=accepted_at,
    )


def couple_edges(symbols: SymbolTable, names: Names, track: Track) -> None:
    """Couples the plan's own endplates; those of its modules are coupled where the modules are known."""
    edges = {names.whole(plate.name): track.edges.get(names.whole(plate.name)) for plate in symbols.of(Endplate)}
    couplings = Couplings(edges, names.whole, names.near)
    for couple in symbols.of(Couple):
        if not any(names.silent(names.whole(word)) for word in (couple.one, couple.other)):
            couplings.couple(couple)
    for meeting in couplings.meetings:
        track.record(meeting)
    names.faults += couplings.faults
