"""`railbond schedule`, `meter` and `diagnose` as they are typed."""

from __future__ import annotations

import csv
import io
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from bench.readings import facts_at
from oracle.plans import big_layout
from railbond.bench.fault_search import FaultSearch
from railbond.bench.mistake import Mistake
from railbond.bench.observation import Observation
from railbond.bench.prediction import NOTHING
from railbond.bench.removable import off
from railbond.bench.sheet import sheet_of
from railbond.command import main
from railbond.faces.meter_words import tried_before

PLANS = Path(__file__).parents[2] / "example_plans"
SIDING = str(PLANS / "passing_siding.trackplan")
EXAMPLES = sorted(PLANS.glob("*.trackplan"))


class Boxes(HTMLParser):
    """Counts boxes to tick, and notes every address that the page would load something from."""

    def __init__(self) -> None:
        super().__init__()
        self.boxes, self.open, self.loads = 0, list[str](), list[str]()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        self.boxes += given.get("type") == "checkbox"
        self.loads += [str(value) for name, value in attrs if name in ("src", "href")]
        if tag not in ("meta", "input", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_sheet_fits_its_columns_and_has_a_box_for_each_probe(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["meter", str(path)]) == 0
    text, sheet = capsys.readouterr().out, sheet_of(facts_at(str(path)))
    assert max(map(len, text.splitlines())) <= 80
    left = [one for one, _ in sheet.unseen if not tried_before(one)]
    assert text.count("[ ] ") == len(sheet.probes) + len(left) + len(sheet.unproven)
    assert main(["meter", str(path), "--all"]) == 0
    assert capsys.readouterr().out.count("[ ] ") == len(sheet.probes) + len(sheet.unseen) + len(sheet.unproven)
    assert len(re.findall(r"must (?:beep|be SILENT)", text)) >= len(sheet.probes)


def test_a_large_plan_with_a_short_of_its_own_gets_a_sheet_too(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whoever hunts a short on a club's layout needs the sheet most."""
    text, plan = big_layout(30), tmp_path / "club.trackplan"
    feeder = next(line for line in text.splitlines() if re.match(r"feeder +\w+ (?!.*crossed)", line))
    plan.write_text(text.replace(feeder, f"{feeder} crossed"))
    assert main(["meter", str(plan)]) == 0
    told = capsys.readouterr()
    assert "the plan itself has shorts" in told.err
    assert re.search(r"must beep", told.out) and re.search(r"must be SILENT", told.out)


@pytest.mark.parametrize("command", ["meter", "schedule"])
@pytest.mark.parametrize("face", ["text", "page"])
def test_cautions_stand_on_every_paper(command: str, face: str, capsys: pytest.CaptureFixture[str]) -> None:
    main([command, SIDING, "--as", face])
    text = " ".join(capsys.readouterr().out.split())
    assert "licensed electrician" in text
    assert "off the track" in text
    assert ("Pull the plug of every power supply first" if command == "meter" else "burns skin") in text


@pytest.mark.parametrize("command", ["meter", "schedule"])
def test_a_page_is_well_formed_and_needs_nothing_else(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "page.html"
    assert main([command, SIDING, "--as", "page", "-o", str(out)]) == 0
    page = Boxes()
    page.feed(out.read_text(encoding="utf-8"))
    assert not page.open and not page.loads
    main([command, SIDING])
    assert page.boxes == capsys.readouterr().out.count("[ ] ")


def test_a_page_takes_names_of_a_plan_as_text(tmp_path: Path) -> None:
    plan, out = tmp_path / "a.trackplan", tmp_path / "a.html"
    plan.write_text(Path(SIDING).read_text(encoding="utf-8").replace("Otter Ford", "<script>x</script>"))
    main(["schedule", str(plan), "--as", "page", "-o", str(out)])
    assert "<script>x" not in out.read_text(encoding="utf-8")


def test_the_sheet_as_csv_says_what_each_probe_shows(capsys: pytest.CaptureFixture[str]) -> None:
    main(["meter", SIDING, "--as", "csv"])
    table = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    sheet = sheet_of(facts_at(SIDING))
    shown = {words for row in table for words in row["shows"].split("; ")}
    assert len(table) == len(sheet.probes)
    assert shown == {one.words for one in sheet.mistakes} - {one.words for one, _ in sheet.unseen}
    assert all((row["must"] == "beep") == bool(row["ohms"]) for row in table)


def test_two_plans_give_the_changes(capsys: pytest.CaptureFixture[str]) -> None:
    plans = [str(PLANS / "faulty" / f"{name}.trackplan") for name in ("unfed-rail", "set-against")]
    assert main(["schedule", *plans]) == 0
    text = capsys.readouterr().out
    assert text.index("Take out") < text.index("Add")
    assert "metal joiner (17) was: east.start / T2.points, east's left rail" in " ".join(text.split())
    assert main(["schedule", plans[0], plans[0]]) == 0
    assert "Nothing: a layout built to the one plan" in capsys.readouterr().out


def test_what_was_seen_is_explained(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    seen = tmp_path / "a.seen"
    seen.write_text("beeps P1.red and T1.frog with T1 diverging\nsilent P1.red and T1.frog\n")
    assert main(["diagnose", SIDING, str(seen)]) == 0
    text = capsys.readouterr().out
    assert "All that was seen points to this:" in text and "the frog contacts of T1 are swapped" in text
    assert "passing_siding.trackplan:23" in "".join(text.split())


def test_a_contradiction_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Its place stands whole, however long the path is: an editor jumps to `PATH:LINE:`."""
    folder = tmp_path / "what-the-evening-crew-saw" / "beside-the-long-yard-on-saturday"
    folder.mkdir(parents=True)
    seen = folder / "a.seen"
    seen.write_text("beeps P1.red and west.left\nsilent P1.red and west.left\n")
    assert len(str(seen)) > 80
    assert main(["diagnose", SIDING, str(seen)]) == 1
    out = capsys.readouterr().out
    assert f"{seen}:2:" in out
    assert ":2: `silent P1.red and west.left` contradicts" in " ".join(out.split())


@pytest.mark.parametrize("line", ["sings", "beeps P1.red and nowhere.left"])
def test_a_line_that_cannot_be_understood_ends_it(
    line: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    seen = tmp_path / "a.seen"
    seen.write_text(f"holds main\n{line}\n")
    assert main(["diagnose", SIDING, str(seen)]) == 2
    assert "a.seen:2:1: " in capsys.readouterr().err


@pytest.mark.parametrize("command", ["meter", "schedule", "diagnose"])
def test_a_file_that_is_not_there_is_told(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([command, "nowhere.trackplan"]) == 2
    assert "nowhere.trackplan" in capsys.readouterr().err


class Bench:
    """A member who reads what is asked for and does it: throws points, takes wires off, holds the meter to places."""

    def __init__(self, search: FaultSearch, true: Mistake) -> None:
        self.search, self.true = search, true
        self.points, self.off, self.asked = dict(search.resolver.first), set[str](), 0
        self.words = {one.words: name for name, one in search.diagnosis.screws.removable.items()}

    def does(self, text: str) -> str:
        """Carries out every instruction and gives the meter's answer; puts everything back when it is found."""
        told = " ".join(text.split())
        if "Do: " in told:
            self.off, self.true = set(), NOTHING
            return "mended"
        for what, names in re.findall(r"- (put back|take off) (.+?)(?= - )", told):
            (self.off.discard if what == "put back" else self.off.add)(self.words[names])
        for stands in re.findall(r"- set (.+?)(?: \(leave| - )", told):
            if stands.startswith("all points"):
                self.points = dict(self.search.resolver.first)
            else:
                self.points |= dict(part.split(" ", 1) for part in stands.split(", "))
        self.asked += 1
        still = re.search(r"`(.+?)`, with", told)
        if still:
            return "n"
        ends = re.findall(r"(?:probe|probe once more) between (.+?) and (.+?)(?: If| This|, with|$)", told)[-1]
        name = self.search.diagnosis.points.conductor
        asked = Observation("beeps", True, self.points | off(self.off), (name[ends[0]], name[ends[1]]))
        return "b" if self.search.diagnosis.prediction.answer(self.true, asked) else "s"


@pytest.mark.parametrize("kind", ["frog contacts swapped", "swapped pair", "drop on the wrong rail", "swapped bus"])
def test_without_a_file_it_asks_to_the_end(
    kind: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A member who does what the lines on the screen say, finds the mistake, mends it, and is told that all is well."""
    search = FaultSearch(facts_at(SIDING))
    true = next(one for one in search.diagnosis.singles if one.kind == kind)
    bench, screen, typed = Bench(search, true), [""], ["trips main"] if "drop" in kind or "pair" in kind else []

    def answered(_: str) -> str:
        text = capsys.readouterr().out
        screen[0] += text
        return typed.pop() if typed else bench.does(text)

    monkeypatch.setattr("builtins.input", answered)
    monkeypatch.setenv("RAILBOND_TRACE", "1")
    assert main(["diagnose", SIDING]) == 0
    end = capsys.readouterr().out
    named = screen[0].partition("It is ")[2].partition("Do: ")[0]
    assert " ".join(true.words.split()) in " ".join(named.split())
    assert "as the plan says in all that was asked" in " ".join(end.split())


@pytest.mark.parametrize(
    ("seen", "told"),
    [
        ("trips main\ntrips main when the T1 switch is thrown", "swapped"),
        ("engine jerks at T1\nholds main", "T1"),
        ("the east is dead", "bus wires"),
        ("lamp dim at east", "two wires to east"),
        ("buzzes at T1 diverging", "T1"),
    ],
)
def test_what_people_say_is_understood(
    seen: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "a.seen"
    path.write_text(seen)
    assert main(["diagnose", SIDING, str(path), "--all"]) in (0, 1)
    assert told in capsys.readouterr().out


def test_a_plan_with_shorts_of_its_own_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    main(["meter", str(PLANS / "faulty" / "legs-joined.trackplan")])
    told = capsys.readouterr()
    assert "the plan itself has shorts" in told.err
    assert "mend the plan first" in " ".join(told.out.split())
