"""A construction: hand-laid or unusual trackwork, told by its own rails. This one is a live-frog turnout:

    construction C1
        positions  through diverging
        rail       right-stock left-stock through-closure through-frog-rail diverging-closure diverging-frog-rail
        frog       point  when through    wants left-stock   onto through-frog-rail
                          when diverging  wants right-stock  onto diverging-frog-rail
        blade      through-closure    beside left-stock   touches through    open diverging
        blade      diverging-closure  beside right-stock  touches diverging  open through
        pass       left-stock  through-closure   point  through-frog-rail    when through
        pass       right-stock diverging-closure point  diverging-frog-rail  when diverging
        joined     through-closure   point  through-frog-rail
        joined     diverging-closure point  diverging-frog-rail
        opening    points     left right-stock             right left-stock               enters
        opening    through    left frog through-frog-rail  right stock right-stock        leaves  when through
        opening    diverging  left stock left-stock        right frog diverging-frog-rail leaves  when diverging
    end

- `positions` names what its points can be set to; `aligned` after them says that these are routes of track without
  points, which other points choose.
- `rail` names its rails, `frog` a metal frog: for some positions the rail whose polarity it wants, the frog rail that
  it leads `onto`, and the wire of its contacts (`leg through` or `leg diverging`; unless told, that of the
  position's place in the list).
- `joined` names rails that are one metal, each with the next; `touching` where only a touch joins them, `soldered`
  where it was added. `blade` is a rail that touches another in some positions and stands open beside it in others.
- `pass` names rails that a wheel rolls over, one after the other.
- `opening` is an end, its rails seen looking out of it; `frog` and `stock` say what a gap there may call them. The
  looking direction `enters` or `leaves` there. Two tracks that are never connected by a route are two `part`s.
- `when` and positions limit a `joined`, a `pass` or an `opening` to these. A name of more words than one stands in
  quotes.

A rail is joined to the neighbors at an end, left to right as seen looking out of the one and the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from railbond.layout.template import Impossible, Side, Template
from trackplan.construction import (
    BladeClause,
    Clause,
    Construction,
    EndRail,
    FrogClause,
    JoinedClause,
    OpeningClause,
    PassClause,
    PositionsClause,
    RailClause,
    Wanted,
)
from trackplan.span import Word
from trackplan.statements import Statement

from .drawing import Drawing

Words = tuple[Word, ...]

LEGS = {"through": 0, "diverging": 1}
KINDS: dict[str | None, str] = {None: "build", "touching": "touch", "soldered": "bond"}


def template(statement: Construction, work: tuple[Statement, ...], cuts: tuple[tuple[float, str], ...]) -> Template:
    """The template that a construction tells. Raises `Impossible`, at the word, for what does not fit together."""
    if work:
        raise Impossible("a construction tells all its bonds and cuts itself")
    return _template(statement.clauses)


@lru_cache(maxsize=256)
def _template(clauses: tuple[Clause, ...]) -> Template:
    return _Construction(clauses).template()


class _Construction:
    """The clauses put on a drawing, the names first and what speaks of them afterwards."""

    def __init__(self, clauses: tuple[Clause, ...]) -> None:
        self.clauses = clauses
        told = [one for one in clauses if isinstance(one, PositionsClause)]
        for more in told[1:]:
            raise Impossible("the positions are told already", more.names[0])
        names = told[0].names if told else ()
        _once(names, "position")
        openings = [one for one in clauses if isinstance(one, OpeningClause)]
        self.ends = len(openings)
        parts = max((_part(one, self.ends) for one in openings), default=0) + 1
        aligned = bool(told and told[0].aligned)
        self.drawing = Drawing(*map(str, names), parts=parts, aligned=aligned)
        _once([one.name for one in openings], "end")

    def template(self) -> Template:
        self._name_rails()
        for clause in self.clauses:
            if isinstance(clause, JoinedClause):
                self._row(clause.rails)
                kind = KINDS[clause.how and str(clause.how)]
                self.drawing.tie(*map(str, clause.rails), kind=kind, when=self._when(clause.positions))  # type: ignore[arg-type]
            elif isinstance(clause, PassClause):
                self._row(clause.rails)
                self.drawing.rolls(self._when(clause.positions), *map(str, clause.rails))
            elif isinstance(clause, BladeClause):
                self._blade(clause)
            elif isinstance(clause, OpeningClause):
                self._opening(clause)
        return self._whole()

    def _name_rails(self) -> None:
        """Every rail and frog has its number before any is spoken of."""
        named = [one for one in self.clauses if isinstance(one, RailClause | FrogClause)]
        words = [word for one in named for word in (one.names if isinstance(one, RailClause) else (one.name,))]
        _once(words, "rail")
        for one in named:
            if isinstance(one, RailClause):
                self.drawing.rails(*map(str, one.names))
            else:
                self.drawing.frog(str(one.name), {}, {}, {})
        frogs = [one for one in named if isinstance(one, FrogClause)]
        for place, clause in enumerate(frogs):
            self._frog(place, clause)

    def _frog(self, place: int, clause: FrogClause) -> None:
        frog = self.drawing.frogs[place]
        wants, onto, legs = dict[str, int](), dict[str, int](), dict[str, int]()
        for wanted in clause.wants or ():
            for position in self._known(wanted.positions):
                if position in wants:
                    raise Impossible(f"what `{clause.name}` wants when {position} is told already", position)
                wants[str(position)] = self._at(wanted.rail)
                legs[str(position)] = self._leg(wanted, position)
                if wanted.onto is not None:
                    onto[str(position)] = self._at(wanted.onto)
        self.drawing.frogs[place] = frog._replace(wants=wants, rails=onto, legs=legs)

    def _leg(self, wanted: Wanted, position: Word) -> int:
        return LEGS[wanted.leg] if wanted.leg is not None else self.drawing.positions.index(position)

    def _blade(self, clause: BladeClause) -> None:
        self._row((clause.closure, clause.beside))
        touches, opens = (self._known(one) if one else () for one in (clause.touches, clause.opens))
        for both in set(touches) & set(opens):
            raise Impossible(f"`{clause.closure}` cannot both touch and stand open when {both}", clause.closure)
        self.drawing.blade(str(clause.closure), str(clause.beside), _plain(touches), _plain(opens))

    def _opening(self, clause: OpeningClause) -> None:
        self._row((clause.left.rail, clause.right.rail))
        words: dict[str, Side] = {}
        for side, rail in _sides(clause):
            if rail.word is not None and f"{rail.word} rail" in words:
                raise Impossible(f"both rails of `{clause.name}` cannot be its {rail.word} rail", rail.word)
            if rail.word is not None:
                words[f"{rail.word} rail"] = side
        route = _plain(self._known(clause.positions or ()))
        left, right = str(clause.left.rail), str(clause.right.rail)
        leaves = clause.way == "leaves"
        self.drawing.end(str(clause.name), left, right, leaves, route, words, _part(clause, self.ends))

    def _whole(self) -> Template:
        """The template, if no rail is named in vain."""
        made = self.drawing.template()
        spoken = {metal for tie in made.ties for metal in (tie.one, tie.other)}
        spoken |= {metal for step in made.passes for metal in (step.one, step.other)}
        spoken |= {metal for end in made.ends.values() for metal in (end.left, end.right)}
        words = [word for one in self.clauses if isinstance(one, RailClause) for word in one.names]
        for word in words:
            if self.drawing.at(str(word)) not in spoken:
                raise Impossible(f"`{word}` is named as a rail, but no joined, pass or opening speaks of it", word)
        if not made.ends:
            raise Impossible("a construction has an `opening` wherever track goes on from it, and this one has none")
        return made

    def _row(self, rails: Words) -> None:
        """Two rails or more, all of them known and none named twice running."""
        if len(rails) < 2:
            raise Impossible("expected two rails or more here", rails[0])
        for rail in rails:
            self._at(rail)
        for one, other in zip(rails, rails[1:], strict=False):
            if one == other:
                raise Impossible(f"`{other}` is the same rail", other)

    def _at(self, rail: Word) -> int:
        if rail not in self.drawing.metals:
            raise Impossible(f"no rail or frog of this construction is called `{rail}`", rail)
        return self.drawing.at(str(rail))

    def _when(self, positions: Words | None) -> tuple[str, ...] | None:
        return _plain(self._known(positions)) if positions else None

    def _known(self, positions: Words) -> Words:
        for position in positions:
            if position not in self.drawing.positions:
                known = " ".join(self.drawing.positions) or "none"
                raise Impossible(f"`{position}` is no position of this construction; its positions: {known}", position)
        _once(positions, "position")
        return positions


def _once(words: Iterable[Word], what: str) -> None:
    seen: set[str] = set()
    for word in words:
        if word in seen:
            raise Impossible(f"the {what} `{word}` is told already", word)
        seen.add(word)


def _plain(words: Words) -> tuple[str, ...]:
    return tuple(map(str, words))


def _part(clause: OpeningClause, most: int) -> int:
    """The number of an opening's part, counted from 0. Raises Impossible where it is none from 1 to `most`."""
    if clause.part is None:
        return 0
    if not 1 <= clause.part <= most or not clause.part.is_integer():
        raise Impossible(f"parts are numbered from 1, and a construction has at most as many as openings: expected a "
                         f"whole number from 1 to {most}, not `{clause.part.text}`", clause.part)  # fmt: skip
    return int(clause.part) - 1


def _sides(clause: OpeningClause) -> Iterator[tuple[Side, EndRail]]:
    yield "left", clause.left
    yield "right", clause.right
