"""The whole schematic: what is drawn, and where it lies on the paper."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil
from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.circuit.plain_words import setting_said
from railbond.findings import Finding
from trackplan.span import Span
from trackplan.statements import Plan

from .course import Point
from .drawn import COLUMN, Drawn, PaperWindow, whole
from .fault_places import places
from .flags import bursts, flags, is_burst
from .in_words import in_words
from .ink import inks
from .label_room import LabelRoom
from .labels import placed
from .legend import legend, listed, used_marks
from .letters import wide, wrapped
from .marks import couplings, cuts, ends, joints, pits
from .markup import text
from .names import district_names, module_names, plain_names, short, turnout_names
from .obstacles import track_room
from .overpasses import overpasses
from .rails import bands, rails, supply_of
from .scale import NAME, TITLE
from .scene import Scene
from .shapes import Box
from .staging import stage
from .style import TINTS
from .wires import feeders, frogs

MARGIN = 28.0
STEP = 26.0
"""In what steps plain track is drawn longer for what is on it."""
NARROWEST = 584.0

FROG = 22.0
"""How much longer track is drawn at trackwork, for each of its frogs but the first."""


class PictureChoice(NamedTuple):
    """What a picture shows besides the track: its title, the legend and the list of findings, and its style."""

    title: str = ""
    legend: bool = True
    listed: bool = True
    styled: bool = True
    live: bool = False
    column: float = COLUMN
    columns: bool = True
    """Whether a long list of findings may stand in columns side by side, as wide as the picture."""


def draw(
    facts: Facts,
    findings: Sequence[Finding] = (),
    setting: Mapping[str, str] | None = None,
    look: PictureChoice | None = None,
) -> str:
    """The schematic of a plan. With a `setting` of some turnouts its rails show their polarity as it is then, every
    other turnout set for its first route; without one, what they carry however the points stand."""
    look = look or PictureChoice(title_of(facts))
    return whole(drawing(facts, findings, setting, look), look.styled)


def drawing(
    facts: Facts,
    findings: Sequence[Finding] = (),
    setting: Mapping[str, str] | None = None,
    look: PictureChoice | None = None,
    scene: Scene | None = None,
) -> Drawn:
    """The same, to be put on a sheet; on a `scene` that is staged already."""
    return _Picture(facts, findings, setting, look or PictureChoice(title_of(facts)), scene).drawn()


def title_of(facts: Facts) -> str:
    """What the plan calls itself."""
    return next((str(one.title) for one in facts.statements if isinstance(one, Plan)), "")


class _Picture:
    def __init__(
        self,
        facts: Facts,
        findings: Sequence[Finding],
        setting: Mapping[str, str] | None,
        look: PictureChoice,
        scene: Scene | None = None,
    ) -> None:
        self.facts, self.findings, self.setting, self.look = facts, findings, setting, look
        self.stands = {name: each[0] for name, each in facts.graph.positions.items()} | dict(setting or {})
        self.scene: Scene = scene or stage(facts.layout, rooms(facts))
        self.shelf: LabelRoom = track_room(self.scene, self.stands)
        self.ink = inks(facts, None if setting is None else self.stands)

    def drawn(self) -> Drawn:
        marks = self._body() or [text(0, 0, "This plan has no track.", "setting", "start")]
        west, east, top, low = self.shelf.reach
        least = min(NARROWEST, self.look.column) if self.look.legend or self.look.title else 0.0
        west, east = west - MARGIN, max(east + MARGIN, west + MARGIN + least)
        column = min(east - west - 2 * MARGIN, self.look.column)
        head, top = self._head(west + MARGIN, top - MARGIN, column)
        room = east - west - 2 * MARGIN if self.look.columns else column
        foot, wide, below = self._foot(column, room, low + 2 * MARGIN)
        marks[0] = f"{head}{marks[0]}"
        if foot:
            marks[-1] += f'<g transform="translate({west + MARGIN:.1f} 0)">{"".join(foot)}</g>'
        words = in_words(self.facts, self.scene, self.ink, self.findings)
        written = Box(west + MARGIN + wide / 2, (low + below) / 2 + MARGIN, wide, max(below - low - MARGIN, 0))
        title = self.look.title or "The schematic of the plan"
        frame = PaperWindow(west, top, east - west, below - top + MARGIN)
        return Drawn(marks, frame, title, words, lambda: [*self.shelf.boxes(), written])

    def _body(self) -> list[str]:
        facts, scene, room = self.facts, self.scene, self.shelf
        tint = tints(facts)
        parts = [
            *bands(facts, scene, tint),
            *pits(facts, scene),
            *rails(facts, scene, self.ink, self.stands, self.look.live),
        ]
        parts += [*joints(facts, scene, room), *couplings(facts, scene, room), *cuts(facts, scene, room)]
        parts += [*overpasses(facts, scene, self.ink, self.look.live), *ends(facts, scene, room)]
        if self.setting is not None and "short" not in self.ink:
            shorts = [one for one in self.findings if is_burst(one, self.stands)]
            parts += bursts(places(facts, scene, shorts, {}), room)
        dots: dict[Span, Point] = {}
        parts += placed([*feeders(facts, scene, self.ink, room, dots)], room)
        labels = [*flags(self.findings, places(facts, scene, self.findings, dots)), *frogs(facts, scene, room)]
        labels += [*turnout_names(facts, scene), *plain_names(facts, scene)]
        labels += [*district_names(facts, scene, tint), *module_names(facts, scene)]
        return [*parts, *placed(labels, room)]

    def _head(self, west: float, top: float, column: float) -> tuple[str, float]:
        """The title, above all else; and where it begins."""
        if not self.look.title:
            return "", top
        said = "as it is however the points stand"
        if self.setting is not None:
            others = len(self.stands) - len(self.setting)
            rest = ", all others for their first route" if others else ""
            said = f"{setting_said(self.facts, self.setting.items())}{rest}"
        below = wrapped(said, 14, column)
        lines = [(one, "setting", 20) for one in below[::-1]]
        lines += [(one, "title", 26) for one in wrapped(self.look.title, TITLE * 1.1, column)[::-1]]
        out, y = [], top - 14.0
        for place, (words, kind, rise) in enumerate(lines):
            out.append(text(west, y, words, kind, "start"))
            y -= rise if place != len(below) - 1 else 24
        self.shelf.take(Box(west + column / 2, (y + top) / 2, column, top - y))
        return "".join(out[::-1]), y

    def _foot(self, width: float, room: float, low: float) -> tuple[list[str], float, float]:
        """What is told below the drawing; how wide it is, and where it ends."""
        if not self.look.legend:
            return [], width, low - MARGIN
        out, low = legend(self.facts, set(self.ink), used_marks(self.facts, self.scene), width, low)
        wide = width
        if self.findings and self.look.listed:
            told, wide, low = listed(self.facts, self.findings, 1, width, low + 12, room)
            out += told
        return out, wide, low


def tints(facts: Facts) -> dict[str, int]:
    """A tint for each supply that feeds some track; neighbors in the plan have different ones."""
    names = dict.fromkeys(filter(None, (supply_of(facts, name) for name in facts.layout.pieces)))
    return {name: number % TINTS + 1 for number, name in enumerate(names)}


def rooms(facts: Facts) -> dict[str, float]:
    """How long each plain piece must be drawn for its name, its feeders, its cuts and what is said of the frogs beside
    it: in whole steps, so that the picture stays as it is while a name is typed letter by letter, or a wire is taken
    from one piece to the next."""
    drops: dict[str, set[int]] = {}
    for drop in facts.layout.drops:
        drops.setdefault(drop.piece, set()).add(id(drop.statement))
    beside = _frogs_beside(facts)
    needs = (
        (name, max(58.0, wide(short(name), NAME) + 16, 52.0 * len(drops.get(name, ())) + 16) + beside.get(name, 0.0))
        for name in facts.layout.pieces
    )
    return {name: STEP * (ceil(need / STEP) + len(facts.layout.pieces[name].template.links)) for name, need in needs}


def _frogs_beside(facts: Facts) -> dict[str, float]:
    """What pieces need more where they meet trackwork of several frogs, as each is led to words of its own."""
    frogs = {name: sum(metal.frog for metal in one.template.metals) for name, one in facts.layout.pieces.items()}
    several = {name: FROG * (count - 1) for name, count in frogs.items() if count > 1}
    more: dict[str, float] = {}
    for meeting in facts.layout.meetings:
        for here, there in ((meeting.one.piece, meeting.other.piece), (meeting.other.piece, meeting.one.piece)):
            if there in several:
                more[here] = more.get(here, 0.0) + several[there]
    return more
