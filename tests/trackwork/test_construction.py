"""Any built-in template is written as a construction that reads back as the very same; what does not fit is told."""

from __future__ import annotations

from itertools import product

import pytest

from layout.plans import layout
from railbond.layout.shape import Shape
from railbond.layout.template import Impossible, Template
from railbond.trackwork import forms, template_for
from railbond.trackwork.construction import __doc__ as LESSON
from railbond.trackwork.writing import written
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Statement

HANDS = ("left", "right", "curved left", "wye")
BUILDS = ("dead-frog", "live-frog", "isolated-frog")
PLAIN_BUILDS = ("dead-frog", "isolated-frog")
LINES = [
    *(f"turnout P {hand} {build}" for hand, build in product(HANDS, (*BUILDS, "movable-frog", "sprung-frog"))),
    *(f"turnout P right {build} sprung {route}" for build, route in product(BUILDS, ("through", "diverging"))),
    *(f"turnout P wye {build} sprung {route}" for build, route in product(BUILDS, ("left", "right"))),
    *(f"stub P {hand} {build}" for hand, build in product(("left", "right"), BUILDS)),
    *(
        f"three-way P {shape} {build}"
        for shape, build in product(("symmetrical", "staggered left", "staggered right"), PLAIN_BUILDS)
    ),
    *(f"crossing P 30 degrees {build}" for build in PLAIN_BUILDS),
    *(f"gauntlet P 60 cm {build}" for build in PLAIN_BUILDS),
    *(f"slip P {slips} {build}" for slips, build in product(("single", "double"), PLAIN_BUILDS)),
]
BOND = "bond P closure rails to stock rails\n"
CUT = [f"cut P {what}\n" for what in ("closure jumpers", "around frog", "around frog without jumpers", "frog rails")]
CUTS = ["", *CUT, CUT[0] + CUT[-1]]
WORK = ["", *(bond + cut for bond, cut in product(("", BOND), CUTS) if bond + cut)]


def statements(text: str) -> list[Statement]:
    reading = read(Source("plan", text))
    assert not reading.broken, reading.broken
    return reading.statements


def read_back(template: Template) -> Template:
    (statement,) = statements(written("P", template))
    return template_for(statement, (), ())


def metal_of(template: Template) -> Template:
    """The template without how it lies, which a construction does not tell."""
    return template._replace(shape=Shape())


def test_every_kind_build_and_work_reads_back_as_it_is() -> None:
    tried = 0
    for line, work in product(LINES, WORK):
        piece, *done = statements(f"{line}\n{work}")
        try:
            template = template_for(piece, tuple(done), ())
        except Impossible:
            continue
        assert read_back(template) == metal_of(template), (line, work)
        tried += 1
    assert tried > 2 * len(LINES)


@pytest.mark.parametrize("name", forms())
def test_every_named_form_is_one_of_them(name: str) -> None:
    (statement,) = statements(forms()[name])
    template = template_for(statement, (), ())
    assert read_back(template) == metal_of(template)


def test_every_file_of_a_kind_has_its_forms() -> None:
    kinds = {type(statements(text)[0]).__name__ for text in forms().values()}
    assert kinds == {"Turnout", "Stub", "ThreeWay", "Crossing", "Slip", "Gauntlet"}


def test_the_lesson_shows_a_live_frog_turnout() -> None:
    """The example of the lesson is the built-in turnout, rail for rail, but for the names of the rails."""
    shown = "\n".join(line[4:] for line in LESSON.split("\n\n")[1].split("\n"))
    (mine,) = statements(shown)
    (built,) = statements("turnout T left live-frog")
    one, other = template_for(mine, (), ()), template_for(built, (), ())
    order = [other_index(one, metal.words) for metal in other.metals]
    moved = {old: new for new, old in enumerate(order)}

    def rails(template: Template, number: dict[int, int]) -> tuple[object, ...]:
        ties = {(frozenset((number[t.one], number[t.other])), t.when, t.kind) for t in template.ties}
        passes = {(frozenset((number[p.one], number[p.other])), p.route) for p in template.passes}
        seen = template.ends.items()
        ends = {name: end._replace(left=number[end.left], right=number[end.right]) for name, end in seen}
        return ties, passes, ends, {(number[b.closure], number[b.stock], b.open) for b in template.blades}

    assert rails(one, moved) == rails(other, {index: index for index in range(len(order))})


def other_index(template: Template, words: str) -> int:
    """The lesson's rail that the built-in turnout calls by these words."""
    name = {"through stock rail": "right-stock", "diverging stock rail": "left-stock", "frog": "point"}.get(words)
    name = name or words.replace(" closure rail", "-closure").replace(" frog rail", "-frog-rail")
    return [metal.words for metal in template.metals].index(name)


BASE = """\
construction C
    positions  one two
    rail       x y z
    frog       f  when one wants x onto z
    joined     x z when two
    pass       y f z when one
    blade      z beside x touches one open two
    opening    p left x right y enters
    opening    q left z right y leaves when one two
end
"""
FAULTS = [
    ("pass       y f z", "pass       y g z", "g", "no rail or frog of this construction is called `g`"),
    ("when two\n", "when three\n", "three", "`three` is no position of this construction; its positions: one two"),
    (
        "rail       x y z",
        "rail       x y z w",
        "w",
        "`w` is named as a rail, but no joined, pass or opening speaks of it",
    ),
    ("rail       x y z", "rail       x y z x", "x", "the rail `x` is told already"),
    ("positions  one two", "positions  one two one", "one", "the position `one` is told already"),
    ("joined     x z", "joined     x", "x", "expected two rails or more here"),
    ("joined     x z", "joined     x z z", "z", "`z` is the same rail"),
    ("open two", "open one two", "z", "`z` cannot both touch and stand open when one"),
    ("opening    q", "opening    p", "p", "the end `p` is told already"),
    ("left z right y", "left z right z", "z", "`z` is the same rail"),
    ("left z right y", "left frog z right frog y", "frog", "both rails of `q` cannot be its frog rail"),
    ("onto z", "onto z when one wants y", "one", "what `f` wants when one is told already"),
    ("rail       x y z", "positions a\n    rail x y z", "a", "the positions are told already"),
    *(
        (
            "leaves when one two",
            f"leaves when one two part {part}",
            part,
            "parts are numbered from 1, and a construction has at most as many as openings: expected a whole number "
            f"from 1 to 2, not `{part}`",
        )
        for part in ("0.2", "1.5", "3", "99999999")
    ),
]


@pytest.mark.parametrize(("old", "new", "at", "message"), FAULTS)
def test_what_does_not_fit_is_told_at_its_word(old: str, new: str, at: str, message: str) -> None:
    assert old in BASE
    text = BASE.replace(old, new)
    fault = layout(f"{text}segment s stop -> C.p 1 m\nsegment t C.q -> stop 1 m\n").faults[0]
    assert fault.rule == "impossible" and fault.message == message
    assert text[fault.at.start : fault.at.end] == at


def test_a_construction_without_ends_is_told() -> None:
    (fault,) = layout("construction C\n  rail x y\n  tie x y\nend\n").faults
    assert "has an `opening` wherever track goes on" in fault.message


def test_a_construction_keeps_its_shape_through_a_mend() -> None:
    """An edit elsewhere reads the construction again, or not; its clauses are the same all the same."""
    from trackplan.edit import Edit, revise
    from trackplan.span import Span

    text = BASE + "segment s stop -> C.p 1 m\n"
    source = Source("plan", text)
    at = text.index("enters")
    edited = revise(read(source).statements, [Edit(Span("plan", at, at + 6), "leaves")], {"plan": source})
    assert template_for(edited[0], (), ()).ends["p"].leaves
    assert edited[0].at == read(source).statements[0].at
