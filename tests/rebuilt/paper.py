"""Builds a layout from the schedule's rows, line by line, and does nothing that no line asks for."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterable, Mapping

from . import special, turnouts
from .bench import Bench, Node, Thing, When
from .constructions import construction

Row = Mapping[str, str]


def rows_of(text: str) -> list[Row]:
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


class Builder:
    """`jumpered` says how live-frog turnouts are sold: with the two wires under the frog, or without."""

    def __init__(self, jumpered: bool = False) -> None:
        self.bench, self.jumpered = Bench(), jumpered
        self.tracks: dict[str, dict[str, tuple[float, bool]]] = {}
        """The approach tracks of each table: degrees or meters along its pit, and whether on its far side."""
        self.throws: dict[tuple[str, str], list[When]] = {}
        """How it stands for each throw of a changeover contact."""

    def build(self, rows: Iterable[Row]) -> Bench:
        rows = [row for row in rows if row["kind"] != "part"]
        for kind in ("lay", "cut"):  # what has no rails yet cannot be soldered to
            for row in rows:
                if row["kind"] == kind:
                    self.do(row)
        for table, tracks in self.tracks.items():
            turns = "turntable" in next(row["note"] for row in rows if (row["kind"], row["name"]) == ("lay", table))
            self.bench.positions[table] = tuple(headings(tracks) if turns else shifts(tracks))
        for row in rows:
            if row["kind"] not in ("lay", "cut"):
                self.do(row)
        return self.bench

    def do(self, row: Row) -> None:
        JOBS[row["kind"]](self, row)

    def lay(self, row: Row) -> None:
        keyword, _, *rest = row["note"].split()
        if keyword == "approach-track":
            self._track(row)
            return
        module = row["name"].rpartition(".")[0]
        assert row["note"].split()[1] == row["name"].removeprefix(f"{module}." if module else "")
        self.bench.lay(row["name"], self._thing(keyword, rest, row["note"]))

    def _track(self, row: Row) -> None:
        _, track, _, number, unit, *far = row["note"].split()
        name, place = track.rpartition(".")[2], meters(f"{number} {unit}") or float(number)
        self.tracks.setdefault(row["name"], {})[name] = place, bool(far)
        special.add_track(self.bench.things[row["name"]], name)

    def _thing(self, keyword: str, rest: list[str], note: str) -> Thing:
        if keyword == "segment":
            return turnouts.segment(meters(re.search(r"-> \S+ ([\d.]+ ?(?:mm|cm|m|ft|in)(?: [\d.]+ in)?)", note)[1]))  # type: ignore[index]
        if keyword == "construction":
            return construction(note.split(None, 2)[2].removesuffix("end"))
        if keyword in ("turntable", "transfer-table"):
            return special.table()
        build = next((word for word in rest if word.endswith("-frog")), "")
        if keyword == "turnout":
            hand = next(word for word in rest if word in ("left", "right", "wye"))
            sprung = rest[rest.index("sprung") + 1] if "sprung" in rest else ""
            return turnouts.turnout(hand, build, sprung, self.jumpered)
        if keyword == "stub":
            return turnouts.stub(rest[0], build, self.jumpered)
        if keyword == "three-way":
            return special.three_way(" ".join(rest[:2]) if rest[0] == "staggered" else rest[0], build)
        if keyword == "gauntlet":
            return special.gauntlet(build)
        return special.slip(rest[0], build) if keyword == "slip" else special.crossing(build)

    def joiner(self, row: Row) -> None:
        """Metal joiners make one of two rails. The rails must be those that meet there."""
        ends = [tuple(end.rpartition(".")[::2]) for end in row["place"].split(" / ")]
        rails = [self.metal(words, end) for words, end in zip(row["rail"].split(" | "), ends, strict=True)]
        (one, at), (other, beyond) = ends
        outs = self.bench.things[one].ends[at], self.bench.things[other].ends[beyond]
        sides = [{side for side in (0, 1) if out[side] == rail[1]} for out, rail in zip(outs, rails, strict=True)]
        assert any(1 - side in sides[1] for side in sides[0]), f"these rails do not meet: {row['rail']}"
        assert row["note"].startswith(("insulated joiner", "metal joiner"))
        if row["note"].startswith("metal joiner"):
            self.bench.join(*rails)

    def cut(self, row: Row) -> None:
        self.bench.saw(row["name"], row["rail"], meters(row["place"].partition(" at ")[2]))

    def jumper(self, row: Row) -> None:
        """What is told to be parted is, by whatever it hangs together; what is told to be kept is kept or made."""
        one, other = ((row["name"], words) for words in row["rail"].split(" - "))
        self._known(one, other)
        if row["note"].startswith("cut"):
            self.bench.part(one, other)
        else:
            assert "solder" in row["note"]
            self.bench.join(one, other)

    def bond(self, row: Row) -> None:
        one, other = ((row["name"], words) for words in row["rail"].split(" - "))
        self._known(one, other)
        self.bench.join(one, other)

    def _known(self, *nodes: Node) -> None:
        for node in nodes:
            assert node[1] in self.bench.things[str(node[0])].metals, node

    def frog(self, row: Row) -> None:
        """The frog's own wire, and the throws of its contacts."""
        piece, place = row["name"], row["place"]
        contact = re.match(r"(?:changeover )?contact \d+", place)
        if place.startswith("leave"):
            return
        if place.startswith("automatic frog unit"):
            unit: Node = ("unit", piece, place.partition(":")[0])
            if row["rail"]:
                assert row["rail"] in self.bench.things[piece].frogs
                self.bench.join(unit, (piece, row["rail"]))
            return
        assert contact
        common: Node = ("contact", piece, contact[0])
        if row["rail"]:
            assert row["rail"] in self.bench.things[piece].frogs, row
            self.bench.join(common, (piece, row["rail"]))
        else:
            self.bench.join(common, self.source(row["from"]), stands(place))
            if contact[0].startswith("changeover"):
                self.throws.setdefault((piece, contact[0]), []).append(stands(place))

    def changeovers(self) -> None:
        """A changeover contact is moved by one machine: one throw is closed while it stands one way, the other while
        it stands the other way, and there is no third."""
        for contact, throws in self.throws.items():
            (mover, one), (_, other) = throws  # type: ignore[misc]
            thing = self.bench.things[mover]
            assert one | other == set(thing.positions) and not one & other, (contact, throws)
            machines = [{frozenset(half) for half in halves} for halves in thing.machines]
            assert not machines or {one, other} in machines, (contact, throws)

    def drop(self, row: Row) -> None:
        name, _, place = row["place"].partition(" at ")
        if "split ring" in row["place"]:
            self._half_ring(row)
            return
        when = stands(row["note"]) if row["note"].startswith("through contacts") else None
        node: Node = (name, row["rail"])
        assert row["rail"] in self.bench.things[name].metals, row
        if self.bench.things[name].length:
            node = (*node, meters(place))
        self.bench.join(node, self.source(row["from"]), when)

    def _half_ring(self, row: Row) -> None:
        """A wire to a half of the ring. Each brush touches the half in which the end of the bridge that it is at
        stands: the left rail's is at the head end, the right rail's at the tail."""
        name = row["name"]
        start, stop = map(float, re.search(r"half from ([\d.]+) to ([\d.]+) degrees", row["place"]).groups())  # type: ignore[union-attr]
        assert abs((stop - start) % 360 - 180) < 1e-6
        half: Node = ("half ring", name, str(start))
        self.bench.join(half, self.source(row["from"]))
        heads = headings(self.tracks.get(name, {}))
        for rail, turn in (("bridge left rail", 0), ("bridge right rail", 180)):
            touching = {at for at, head in heads.items() if (head + turn - start) % 360 < 180}
            self.bench.join(half, (name, rail), (name, frozenset(touching)))

    def bus(self, row: Row) -> None:
        self.bench.join(self.source(row["from"]), self.source(row["place"]))

    def common(self, row: Row) -> None:
        legs = [self.source(leg) for leg in row["place"].split(", ")]
        for one, other in zip(legs, legs[1:], strict=False):
            self.bench.join(one, other)

    def device(self, row: Row) -> None:
        """A toggle's two poles connect its block's wires to those of one supply after the other."""
        pole = re.match(r"toggle, pole (\S+):", row["place"])
        if pole:
            self.bench.join((row["name"], pole[1]), self.source(row["from"]), stands(row["place"]))

    def source(self, words: str) -> Node:
        """A leg of a supply or terminal, or a rail of a turnout."""
        piece, own, rail = words.partition("'s ")
        if own:
            return piece, rail
        name, _, leg = words.rpartition(".")
        return name, leg

    def metal(self, words: str, end: tuple[str, str]) -> Node:
        """A rail that comes out at an end; of plain track the stretch there."""
        piece, _, rail = words.partition("'s ")
        assert piece == end[0], f"{words} is no rail at {end}"
        length = self.bench.things[piece].length
        return (piece, rail, 0.0 if end[1] == "start" else length) if length else (piece, rail)


def stands(text: str) -> When:
    """`... while D stands a or a-b`."""
    found = re.search(r"while (\S+) stands ([\w.-]+(?: or [\w.-]+)*)", text)
    assert found, text
    return found[1], frozenset(found[2].split(" or "))


def meters(text: str) -> float:
    """A length with its unit."""
    units = {"mm": 0.001, "cm": 0.01, "m": 1.0, "in": 0.0254, "ft": 0.3048}
    return sum(float(number) * units[unit] for number, unit in re.findall(r"([\d.]+) ?(mm|cm|m|in|ft)\b", text))


Tracks = Mapping[str, tuple[float, bool]]


def headings(tracks: Tracks) -> dict[str, float]:
    """Where a turntable's head end points at each stand: at each track, and with its tail there."""
    found = {name: at % 360 for name, (at, _) in tracks.items()}
    for track, at in dict(found).items():
        if not any(abs((one - at) % 360 - 180) <= 0.5 for one, _ in tracks.values()):
            found[f"{track}-turned"] = (at + 180) % 360
    return found


def shifts(tracks: Tracks) -> dict[str, float]:
    """The stands of a transfer table: each place is called after the near track there, else after the far one."""
    found: dict[str, float] = {}
    for name, (at, _) in sorted(tracks.items(), key=lambda one: one[1][1]):
        if not any(abs(at - other) <= 0.001 for other in found.values()):
            found[name] = at
    return found


JOBS: dict[str, Callable[[Builder, Row], None]] = {
    "lay": Builder.lay, "joiner": Builder.joiner, "cut": Builder.cut, "jumper": Builder.jumper, "bond": Builder.bond,
    "frog": Builder.frog, "drop": Builder.drop, "bus": Builder.bus, "common": Builder.common, "device": Builder.device,
}  # fmt: skip
