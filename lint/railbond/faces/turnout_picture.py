"""A small drawing of a turnout that names each of its metals, so that a finger finds them at the bench."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from railbond.bench.job import Job

WIDTH, HEIGHT = 820, 260
LEAST = 680
"""No narrower is it shown, as its letters would be too small to read: on a phone it is moved sideways."""


class NamedRail(NamedTuple):
    """A rail of a left-hand turnout, seen from above with the points on the left: the line that it takes, where its
    name stands, and where that begins, ends or has its middle. `{main}` is the route that goes straight on."""

    name: str
    line: tuple[tuple[float, float], ...]
    at: tuple[float, float]
    anchor: str = "middle"


RAILS = (
    NamedRail("{side} stock rail", ((70, 145), (170, 145), (300, 140), (420, 105), (590, 30)), (250, 126)),
    NamedRail("{main} stock rail", ((70, 225), (590, 225)), (330, 246)),
    NamedRail("{main} closure rail", ((180, 150), (424, 150)), (300, 167)),
    NamedRail("{side} closure rail", ((180, 221), (260, 214), (340, 192), (424, 156)), (246, 193)),
    NamedRail("{main} frog rail", ((468, 150), (590, 150)), (598, 154), "start"),
    NamedRail("{side} frog rail", ((468, 137), (590, 84)), (598, 88), "start"),
)
FROG = ((428, 151), (462, 138), (462, 152))
ENDS = (("points", (62, 189), "end"), ("{main}", (745, 192), "start"), ("{side}", (745, 62), "start"))


def pictures(jobs: Sequence[Job]) -> list[tuple[str, str]]:
    """A headline and a drawing, as SVG, for each hand and build of turnout that is laid."""
    found: dict[tuple[str, str], list[str]] = {}
    for job in (one for one in jobs if one.kind == "lay"):
        keyword, *words = job.note.split()
        if keyword == "turnout":
            hand = next(word for word in words[1:] if word in ("left", "right", "wye"))
            build = next(word.rstrip(",") for word in words[1:] if word.rstrip(",").endswith("-frog"))
            found.setdefault((hand, build), []).append(job.name)
    return [(f"The rails of {', '.join(names)}: {' '.join(kind)}", svg(*kind)) for kind, names in found.items()]


def svg(hand: str, build: str) -> str:
    """The drawing. A wye's left route is drawn as going straight on; in truth it bends as well."""
    main, side = ("left", "right") if hand == "wye" else ("through", "diverging")
    mirrored = hand != "left"
    parts = "".join(_parts(main, side, build, mirrored))
    words = f"a {hand if hand == 'wye' else f'{hand}-hand'} turnout with the names of its rails"
    return (
        f'<svg viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{words}" width="100%" '
        f'style="max-width:{WIDTH}px;min-width:{LEAST}px" font-family="sans-serif" font-size="13" '
        f'fill="currentColor">{parts}</svg>'
    )


def _parts(main: str, side: str, build: str, mirrored: bool) -> Iterator[str]:
    for rail in RAILS:
        yield f'<path d="{_path(rail.line, mirrored)}" fill="none" stroke="currentColor" stroke-width="3"/>'
        yield _text(rail.name.format(main=main, side=side), rail.at, rail.anchor, mirrored)
    plastic = build == "dead-frog"
    look = 'fill="none" stroke="currentColor" stroke-dasharray="3 2"' if plastic else 'fill="currentColor"'
    yield f'<path d="{_path(FROG, mirrored)} Z" {look}/>'
    yield f'<path d="{_path(((446, 156), (446, 184)), mirrored)}" stroke="currentColor"/>'
    yield _text("frog, of plastic" if plastic else "frog", (446, 198), "middle", mirrored)
    for name, at, anchor in ENDS:
        yield _text(name.format(main=main, side=side), at, anchor, mirrored, ' font-weight="bold"')


def _path(line: Sequence[tuple[float, float]], mirrored: bool) -> str:
    return "M" + " L".join(f"{x:g},{HEIGHT - y if mirrored else y:g}" for x, y in line)


def _text(words: str, at: tuple[float, float], anchor: str, mirrored: bool, more: str = "") -> str:
    """Letters stand upright in a mirror image too."""
    x, y = at
    return f'<text x="{x:g}" y="{HEIGHT - y + 9 if mirrored else y:g}" text-anchor="{anchor}"{more}>{words}</text>'
