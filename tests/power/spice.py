"""A network as a deck for ngspice, which gives the resistance of any of its points to the supply."""

from __future__ import annotations

import subprocess
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from railbond.circuit.power.field import Frame
from railbond.circuit.power.network import Rail


class Point(NamedTuple):
    """A place on a rail, as a share of the way from its one node to the other."""

    rail: Rail
    share: float


def deck(frame: Frame, points: Iterable[Point]) -> str:
    """Every resistor of the live network, its supply's legs at ground; each rail with a point in two halves.

    `tf` gives the output impedance of each point, with the source of the ground's node set to nothing.
    """
    points = {(point.rail.one, point.rail.other, point.rail.ohms): point for point in points}.values()
    halved = {(one.rail.one, one.rail.other, one.rail.ohms): (number, one.share) for number, one in enumerate(points)}
    lines = ["resistors of a layout", "vsupply root 0 dc 1"]
    for number, one in enumerate(frame.network.resistors):
        if frame.sources_at(one.one) is None:
            continue
        names = [_name(frame, node) for node in (one.one, one.other)]
        half = halved.get((one.one, one.other, one.ohms))
        if half is None:
            lines.append(f"r{number} {names[0]} {names[1]} {one.ohms:.17g}")
        else:
            point, share = half
            lines.append(f"ra{number} {names[0]} p{point} {one.ohms * share:.17g}")
            lines.append(f"rb{number} p{point} {names[1]} {one.ohms * (1 - share):.17g}")
    asked = [f"tf v(p{number}) vsupply\nprint output_impedance_at_v(p{number})" for number in range(len(halved))]
    return "\n".join([*lines, ".control", "set numdgt=14", *asked, "quit", ".endc", ".end", ""])


def _name(frame: Frame, node: int) -> str:
    return "root" if node in frame.grounds else f"n{node}"


def impedances(program: str, text: str) -> Mapping[int, float]:
    """The output impedance of each point of a deck, in ohms, by its number."""
    done = subprocess.run([program, "-b", "/dev/stdin"], input=text, capture_output=True, text=True, timeout=120)
    found = {}
    for line in done.stdout.splitlines():
        name, equals, value = line.partition(" = ")
        if equals and name.startswith("output_impedance_at_v(p"):
            found[int(name[len("output_impedance_at_v(p") :].rstrip(")"))] = float(value)
    assert found, done.stdout + done.stderr
    return found
