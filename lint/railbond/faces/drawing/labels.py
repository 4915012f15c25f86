"""Places labels and marks all together, so that none lies over text, a rail or another mark.

Every label brings its places, the best first. What is minimized is the sum of their ranks (see `crowds` and
`choosing`). A label that finds no place at all is led out of the crowd by a line.
"""

from __future__ import annotations

from .choosing import chosen_together
from .crowds import settled
from .free_places import FEW, MANY, MOST, Seeker
from .label_places import Label, LabelPlace
from .label_room import LabelRoom
from .lately import Lately, next_picture
from .led_out import led_out

PLACED: Lately[tuple[object, ...], tuple[dict[int, LabelPlace], LabelRoom]] = Lately(4)
"""Where all labels of a picture were placed, and all that lay on the paper then, by all that they can be placed at and
what lay there before."""


def placed(labels: list[Label], room: LabelRoom) -> list[str]:
    """The labels drawn, in their order; what they take up is taken in `room`."""
    if not room.marked:
        chosen = _placed(labels, room)
        return [label.drawn(chosen[index]) for index, label in enumerate(labels)]
    key = room.whole, *((label.places, label.at, label.size) for label in labels)
    known = PLACED.get(key)
    if known is None:
        chosen = _placed(labels, room)
        PLACED.put(key, (chosen, room.copy()))
    else:
        chosen = known[0]
        room.become(known[1])
    return [label.drawn(chosen[index]) for index, label in enumerate(labels)]


def _placed(labels: list[Label], room: LabelRoom) -> dict[int, LabelPlace]:
    """The place of each label by its number, in the order in which they are taken up."""
    next_picture()
    most = MOST if len(labels) < MANY else FEW
    chosen = settled([Seeker(label, room, most) for label in labels], chosen_together)
    for place in chosen.values():
        _take(place, room)
    for index, label in enumerate(labels):
        if index not in chosen:
            chosen[index] = led_out(label, room)
            _take(chosen[index], room)
    return chosen


def _take(place: LabelPlace, room: LabelRoom) -> None:
    room.take(place.box)
    for line in place.lines:
        room.draw(line)
