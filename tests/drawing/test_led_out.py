"""A label that finds no place is led out of the crowd, never further than it must."""

from __future__ import annotations

from math import cos, hypot, pi, sin

from railbond.faces.drawing.label_places import Label, PossiblePlace, choices
from railbond.faces.drawing.label_room import LabelRoom
from railbond.faces.drawing.led_out import led_out
from railbond.faces.drawing.shapes import Box


def ring(openings: tuple[float, ...]) -> LabelRoom:
    """Words close together all round (0, 0), but for some narrow openings, by their angles in degrees."""
    room = LabelRoom()
    for step in range(720):
        angle = step / 2
        if all(abs(angle - opening) > 4 for opening in openings):
            for far in (58.0, 64.0, 70.0):
                room.take(Box(far * cos(angle * pi / 180), far * sin(angle * pi / 180), 2.0, 2.0))
    return room


def label() -> Label:
    return Label(choices(lambda size: iter(tuple[PossiblePlace, ...]()), (80.0, 13.0)), str, (0.0, 0.0), (80.0, 13.0))


def test_a_line_leads_through_a_narrow_opening() -> None:
    room = ring((47.5,))
    place = led_out(label(), room)
    assert hypot(place.box.x, place.box.y) < 300
    assert all(map(room.is_clear, place.lines))
    assert room.is_free(place.box)


def test_what_is_wholly_shut_in_is_led_to_the_nearest_place() -> None:
    room = ring(())
    place = led_out(label(), room)
    assert hypot(place.box.x, place.box.y) < 150
    assert room.is_free(place.box)


def test_no_line_leads_along_level_track() -> None:
    place = led_out(label(), ring((0.0, 180.0, 47.5)))
    (x, y), (u, v) = place.lines[0].one, place.lines[0].other
    assert abs(v - y) > 0.08 * abs(u - x)
