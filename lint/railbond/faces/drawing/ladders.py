"""Draws a yard's ladder as one slope: its turnouts lie on it, and its tracks leave it level, side by side."""

from __future__ import annotations

from collections.abc import Mapping

from railbond.layout.model import Layout

from .caps import another_way, take_in
from .facing import is_straight, length
from .net import Net, Strand

RUNG = 0.6
"""Meters of the longest track between two turnouts of a ladder."""
FEWEST = 3


def join_ladders(net: Net, layout: Layout) -> None:
    """Makes one node of the turnouts of each ladder."""
    rungs = {}
    for strand in net.strands:
        if len(strand.darts) == 1 and _is_rung(net, layout, strand):
            dart = strand.darts[0] if _leaves_by(net, strand.darts[0]) else strand.darts[0] ^ 1
            rungs[net.at[dart]] = dart
    entered = {net.at[dart ^ 1] for dart in rungs.values()}
    strands = {dart: strand for strand in net.strands for one in strand.darts for dart in (one, one ^ 1)}
    for first in [node for node in rungs if node not in entered]:
        chain = [first]
        while chain[-1] in rungs and _side(net, chain[-1]) == _side(net, net.at[rungs[chain[-1]] ^ 1]):
            chain.append(net.at[rungs[chain[-1]] ^ 1])
        if len(chain) >= FEWEST and _worth(net, layout, strands, chain):
            _join(net, strands, chain, [rungs[node] for node in chain[:-1]])


def _is_turnout(net: Net, node: int) -> bool:
    here = net.nodes[node]
    return here.kind == "piece" and len(here.around) == 3 and len(here.straight) == 1 and not here.even


def _leaves_by(net: Net, dart: int) -> bool:
    """Whether a dart leaves a turnout by its straight route's frog end."""
    node = net.nodes[net.at[dart]]
    side = node.east if dart in node.east else node.west
    return _is_turnout(net, net.at[dart]) and len(side) == 2 and is_straight(net, dart)


def _enters_by(net: Net, dart: int) -> bool:
    node = net.nodes[net.at[dart]]
    side = node.east if dart in node.east else node.west
    return _is_turnout(net, net.at[dart]) and len(side) == 1


def _is_rung(net: Net, layout: Layout, strand: Strand) -> bool:
    out = strand.darts[0]
    ends = _leaves_by(net, out) and _enters_by(net, out ^ 1), _leaves_by(net, out ^ 1) and _enters_by(net, out)
    facing = net.goes_east(out) != net.goes_east(out ^ 1)
    return any(ends) and facing and len(strand.chain) < 2 and length(layout, strand) <= RUNG


def _diverging(net: Net, node: int) -> int:
    here = net.nodes[node]
    return next(dart for dart in here.around if not any(dart in pair for pair in here.straight))


def _side(net: Net, node: int) -> bool:
    """Whether the track that leaves the ladder there lies above its straight one."""
    here = net.nodes[node]
    dart = _diverging(net, node)
    return (here.east if dart in here.east else here.west).index(dart) == 1


def _worth(net: Net, layout: Layout, strands: Mapping[int, Strand], chain: list[int]) -> bool:
    """Whether what leaves it is a yard's: track that is longer than the rungs, and no turnout is met twice."""
    tracks = [length(layout, strands[_diverging(net, node)]) for node in chain]
    ahead = {net.at[_diverging(net, node) ^ 1] for node in chain}
    return len(set(chain)) == len(chain) and min(tracks) > RUNG and not ahead & set(chain)


def _join(net: Net, strands: Mapping[int, Strand], chain: list[int], rungs: list[int]) -> None:
    """Merges from the western end on, so that what is taken in lies east of what takes it in."""
    above = _side(net, chain[0])
    lead = next(dart for dart in net.nodes[chain[0]].around if not _leaves_by(net, dart) and _enters_by(net, dart))
    east = net.goes_east(rungs[0])
    net.level |= {net.nodes[node].name: _diverging(net, node) for node in chain}
    name = net.nodes[chain[0]].name
    for node in chain:
        net.nodes[node].straight = []
    for rung in rungs if east else rungs[::-1]:
        take_in(net, rung if east else rung ^ 1, (-1 if above else 1) * (1 if east else -1))
    if not _leads_straight(net, strands[lead], lead, (-1 if above else 1) * (1 if east else -1), rungs):
        net.leads[lead] = name, -1 if above else 1


def _leads_straight(net: Net, strand: Strand, lead: int, rises: int, rungs: list[int]) -> bool:
    """Whether the track to a ladder leaves a turnout at the ladder's own slope: then it runs on in it without a kink,
    and that turnout is taken in. `rises` is 1 where the eastern end of that track lies above, or -1."""
    alone = len(strand.darts) == 1 and len(strand.chain) < 2
    out = lead if net.goes_east(lead) else lead ^ 1
    turnout = net.nodes[net.at[lead ^ 1]]
    side = turnout.east if out != lead else turnout.west
    outermost = side[-1 if (rises > 0) == (out != lead) else 0] == lead ^ 1
    lies_level = turnout.name in net.tall.keys() | net.apexes or net.at[lead ^ 1] in net.scissors.values()
    parts = bool(turnout.straight) and not lies_level and not any(lead ^ 1 in pair for pair in turnout.straight)
    if alone and outermost and len(side) > 1 and parts and not another_way(net, out):
        take_in(net, out, rises, [end for rung in rungs for end in (rung, rung ^ 1)])
        return True
    return False
