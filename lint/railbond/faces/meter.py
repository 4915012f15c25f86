"""The bench sheet as text in 80 columns, with boxes to tick."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.bench.ohms import Ohms
from railbond.bench.sheet import ProbeGroup, Sheet

from .cautions import METER
from .folding import folded
from .meter_words import by_hand, legend, lying, reading, summary, thing, throws, tried_before, unseen_words
from .schedule import BOX, WIDTH, cautions, printed

NARROW = 24


def told(title: str, sheet: Sheet, ohms: Ohms, every: bool = False) -> str:
    """The whole sheet. `every` lists also what was tried when each job was done."""
    lines = [*folded(f"Bench sheet: {title}", WIDTH), "", *cautions(METER), "", *folded(summary(sheet), WIDTH)]
    number = 0
    for stand in sheet.stands:
        lines += ["", *_stand(sheet, stand, number, ohms)]
        number += len(stand.probes)
    lines += [*_looking(sheet), *_by_hand(sheet, every), *_unproven(sheet)]
    return printed(lines)


def _stand(sheet: Sheet, stand: ProbeGroup, number: int, ohms: Ohms) -> Iterator[str]:
    if stand.thrown:
        yield from folded(throws(stand), WIDTH, rest=" " * 4)
    names = [(sheet.points.name[probe.one], sheet.points.name[probe.other]) for probe in stand.probes]
    left, right = (max([NARROW - 10, *(len(pair[side]) for pair in names)]) for side in (0, 1))
    for index, (probe, (one, other)) in enumerate(zip(stand.probes, names, strict=True), number + 1):
        must = reading(probe, stand, ohms)
        line = f"{BOX} {index:>3}  {one:<{left}}  {other:<{right}}  {must}"
        yield from [line] if len(line) <= WIDTH else [f"{BOX} {index:>3}  {one}", f"{' ' * 9}{other}  {must}"]


def _looking(sheet: Sheet) -> Iterator[str]:
    lines = legend(sheet)
    if lines:
        yield ""
        yield "Left and right of a track are as one looks"
        for line in lines:
            yield from folded(f"  {line}", WIDTH, rest=" " * 6)
    if places := lying(sheet):
        yield ""
        yield "Where the other places lie (`railbond schedule --as page` draws the rails)"
        for place in places:
            yield from folded(f"  {place}", WIDTH, rest=" " * 6)


def _by_hand(sheet: Sheet, every: bool) -> Iterator[str]:
    """What has no reading: to be looked at, or tried with its wire off its screw."""
    shown = [one for one in sheet.unseen if every or not tried_before(one[0])]
    if not every and (words := unseen_words(sheet)):
        yield ""
        yield from folded(words, WIDTH)
    if not shown:
        return
    yield ""
    yield from folded(f"Try by hand what no reading shows ({len(shown)}):", WIDTH)
    groups: dict[str, list[str]] = {}
    for mistake, why in shown:
        groups.setdefault(by_hand(mistake), []).append(f"{thing(mistake)}; no reading shows it, as {why}")
    for head, items in groups.items():
        yield ""
        yield from folded(f"{head}:", WIDTH)
        for item in items:
            yield from _boxed(item)


def _unproven(sheet: Sheet) -> Iterator[str]:
    if sheet.unproven:
        yield ""
        yield "Too many turnouts hang together here to try every setting; look at each of these"
        for mistake in sheet.unproven:
            yield from _boxed(mistake.words)


def _boxed(text: str) -> list[str]:
    return folded(f"{BOX} {text}", WIDTH, rest=" " * 6)
