"""Points that a spring holds for one route, while trains from the other trail through them."""

from __future__ import annotations

from railbond.layout.template import End, Frog, Pass, Template


def sprung_to(template: Template, stands: str) -> Template:
    """The same metal with `stands` as its only position, in which a train may pass every route.

    A blade of another route touches nothing but while a train pushes it, and a frog never wants that route's polarity.
    """
    return template._replace(
        positions=(stands,),
        ties=tuple(tie for tie in template.ties if tie.when in (None, stands)),
        passes=tuple(Pass(one, other, route and stands) for one, other, route in template.passes),
        ends={name: _sprung_end(end, stands) for name, end in template.ends.items()},
        blades=tuple(blade for blade in template.blades if blade.open == stands),
        frogs=tuple(_sprung_frog(frog, stands) for frog in template.frogs),
    )


def _sprung_end(end: End, stands: str) -> End:
    return end._replace(routes=(stands,) if end.routes else ())


def _sprung_frog(frog: Frog, stands: str) -> Frog:
    wants, rails, legs = ({stands: one[stands]} for one in (frog.wants, frog.rails, frog.legs))
    return Frog(frog.metal, wants, rails, legs)
