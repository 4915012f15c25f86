"""The schedule: what a plan asks for by hand count, the parts, the CSV, and the changes between two plans."""

from __future__ import annotations

import csv
from collections import Counter
from io import StringIO
from pathlib import Path
from random import Random

import pytest

from bench.readings import facts, facts_at
from oracle.plans import random_sound, seed_faults
from railbond.bench.changes import changes
from railbond.bench.job import KINDS, STAGES, Job
from railbond.bench.jobs import jobs
from railbond.bench.parts import parts
from railbond.faces.schedule import DEEDS, both_rails, changed, told
from railbond.faces.schedule_csv import HEAD, changed_rows, rows

SIDING = Path(__file__).parents[2] / "example_plans" / "passing_siding.trackplan"
EXAMPLES = sorted(SIDING.parent.glob("*.trackplan"))


def work(path: Path = SIDING) -> list[Job]:
    return jobs(facts_at(str(path)))


def test_every_job_of_the_siding_is_told() -> None:
    """Counted by hand in the plan: six feeders of two drops, two bus runs of two wires; six places where ends meet have
    two joiners each, two of them insulated; cut around its frog and bonded, T2 has four places to cut, two jumpers to
    keep and two bonds; T1's contact has three screws and T2's unit two wires of its own."""
    assert Counter(job.kind for job in work()) == {
        "lay": 6, "joiner": 12, "jumper": 6, "bond": 2, "frog": 5, "drop": 12, "bus": 4, "device": 2,
    }  # fmt: skip
    assert sum(job.note == "insulated joiner" for job in work()) == 2


def test_work_goes_stage_by_stage() -> None:
    """What cannot be reached once the track lies comes first: metal at the frogs, bonds, wires underneath."""
    stages = [job.stage for job in work()]
    assert list(dict.fromkeys(stages)) == list(STAGES)
    assert stages == sorted(stages, key=list(STAGES).index)
    first = [job for job in work() if job.stage == "before laying"]
    assert {job.kind for job in first} == {"jumper", "bond", "frog"}
    assert all(job.rail for job in first)


def test_every_kind_of_job_has_its_words() -> None:
    assert set(DEEDS) == set(KINDS)


def test_a_drop_is_told_with_all_that_its_hands_need() -> None:
    drop = next(job for job in work() if job.kind == "drop" and job.place == "loop at 180 cm")
    told_of = drop.rail, drop.color, drop.size, drop.length, drop.source
    assert told_of == ("left rail", "red", "22 AWG", pytest.approx(0.3), "P2.red")


def test_which_contact_goes_to_which_wire() -> None:
    contacts = {job.place: job.source for job in work() if job.kind == "frog" and job.name == "T1"}
    assert contacts == {
        "changeover contact 1: wire to its common": "",
        "changeover contact 1: throw while T1 stands through": "P1.red",
        "changeover contact 1: throw while T1 stands diverging": "P1.black",
    }


def test_a_slip_has_two_contacts_that_two_machines_move() -> None:
    """Entered from a1, frog 1 wants the left polarity and frog 2 the right one: they can never share a feed."""
    throat = work(SIDING.parent / "station_throat.trackplan")
    notes = [(job.rail, job.note) for job in throat if job.kind == "frog" and job.name == "D" and job.rail]
    assert notes == [("frog 1", "moved by D's points at ends 2"), ("frog 2", "moved by D's points at ends 1")]
    assert sum(job.kind == "frog" and job.name == "D" for job in throat) == 6


def test_a_split_ring_is_two_wires() -> None:
    terminal = work(SIDING.parent / "engine_terminal.trackplan")
    ring = [(job.place, job.source) for job in terminal if job.kind == "drop" and job.name == "TT"]
    assert ring == [
        ("TT split ring, half from 80 to 260 degrees", "P2.red"),
        ("TT split ring, half from 260 to 80 degrees", "P2.black"),
    ]


def test_parts_are_all_that_is_bought() -> None:
    bought = {part.what: part.number for part in parts(work())}
    assert bought["turnout left number 6 isolated-frog"] == bought["turnout right number 6 live-frog"] == 1
    assert bought["plain track"] == pytest.approx(0.9 + 2.4 + 2.4 + 0.6)
    assert (bought["metal joiners"], bought["insulated joiners"]) == (10, 2)
    assert (bought["changeover contacts"], bought["automatic frog units"]) == (1, 1)


def test_what_is_bought_whole_is_counted_once() -> None:
    plan = "booster B1 15 V 5 A\ndistrict main from B1\nscissors S number 6 live-frog\n"
    ends = "".join(f"segment {end} stop -> S.{end} 1 m\n" for end in ("a1", "b1", "a2", "b2"))
    bought = {part.what: part.number for part in parts(jobs(facts(f"{plan}{ends}")))}
    assert bought["scissors number 6 live-frog"] == 1
    assert not any(what.startswith(("turnout", "crossing")) for what in bought)


def test_meters_of_wire_are_those_of_the_plan_and_the_allowance() -> None:
    """22 AWG, one color: 20 + 25 + 25 + 30 + 30 + 20 cm; 14 AWG: 3 + 2.5 m."""
    meters = {part.what: part.number for part in parts(work(), 20) if part.unit == "m"}
    assert meters["22 AWG, red"] == meters["22 AWG, black"] == pytest.approx(1.5 * 1.2)
    assert meters["14 AWG, red"] == pytest.approx(5.5 * 1.2)


def test_wire_whose_length_nobody_told_is_counted_apart() -> None:
    plan = "booster B1 15 V 5 A\ndistrict main from B1\nsegment a stop -> stop 1 m\nfeeder main -> a\n"
    bought = {part.what: part.number for part in parts(jobs(facts(plan)))}
    assert bought["wires, red, whose length the plan does not tell"] == 1


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_csv_says_what_the_jobs_are(path: Path) -> None:
    plan = facts_at(str(path))
    told_jobs = jobs(plan)
    table = list(csv.DictReader(StringIO(rows(told_jobs, parts(told_jobs), plan.sources), newline=""), strict=True))
    mine = [row for row in table if row["kind"] != "part"]
    assert [(row["kind"], row["name"], row["place"]) for row in mine] == [(j.kind, j.name, j.place) for j in told_jobs]
    assert all(None not in row and len(row) == len(HEAD) for row in table)
    meters = sum(float(row["meters"]) for row in mine if row["meters"])
    assert meters == pytest.approx(sum(job.length or 0 for job in told_jobs))


def test_a_spreadsheet_takes_nothing_for_a_formula() -> None:
    text = rows([Job("drop", "=1+1", "@x", "-rail")], [], {})
    row = list(csv.reader(StringIO(text)))[1]
    assert row[3:6] == ["'=1+1", "'@x", "'-rail"]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_text_keeps_to_eighty_columns_and_has_a_box_for_each_job(path: Path) -> None:
    plan = facts_at(str(path))
    told_jobs = jobs(plan)
    text = told("x", told_jobs, [], 10, plan.sources)
    assert max(map(len, text.splitlines())) <= 80
    assert text.count("[ ] ") == len(both_rails(told_jobs))
    assert "Pull the power supply's plug" in text and "licensed electrician" in " ".join(text.split())


def done(old: list[Job], found: list) -> Counter[Job]:
    """The jobs of a layout on which a change list has been worked off."""
    have = Counter(job._replace(at=None) for job in old)
    for one in found:
        if one.what == "add":
            have[one.job._replace(at=None)] += 1
        else:
            have[(one.before or one.job)._replace(at=None)] -= 1
            if one.before:
                have[one.job._replace(at=None)] += 1
    return +have


@pytest.mark.parametrize("seed", range(8))
def test_whoever_does_the_changes_has_the_newer_plan(seed: int) -> None:
    rng = Random(seed)
    text = random_sound(rng, 4)
    newer, made = seed_faults(text, 3, rng)
    old, new = jobs(facts(text)), jobs(facts(newer))
    found = changes(old, new)
    assert done(old, found) == Counter(job._replace(at=None) for job in new)
    assert made and found
    assert not changes(new, new)


def test_a_thicker_drop_is_a_change_of_one_wire() -> None:
    text = SIDING.read_text(encoding="utf-8")
    newer = text.replace("feeder    P1 -> west      at 45 cm  22 AWG", "feeder    P1 -> west      at 45 cm  20 AWG")
    found = changes(jobs(facts(text)), jobs(facts(newer)))
    sizes = [(one.what, one.job.size, one.before and one.before.size) for one in found]
    assert sizes == [("change", "20 AWG", "22 AWG")] * 2
    table = list(csv.DictReader(StringIO(changed_rows(found, {}))))
    assert [row["change"] for row in table] == ["was", "change"] * 2
    assert "was: " in changed("x", found, {})


def test_a_meet_is_told_module_by_module(capsys: pytest.CaptureFixture[str]) -> None:
    """Two modules made from one file have each their own wires, and mistakes of their own on the sheet."""
    from railbond.bench.mistakes import mistakes
    from railbond.command import main
    from railbond.doorway import enter
    from railbond.files import Files

    path = str(SIDING.parent / "meet" / "spring_meet.trackplan")
    assert main(["schedule", path]) == 0
    text = capsys.readouterr().out
    assert "== Module plain-1 ==" in text and "== Module plain-2 ==" in text
    meet = enter(path, Files().open_text).facts
    swapped = [one.words for one in mistakes(meet.wiring) if one.kind == "swapped pair"]
    assert len(swapped) == len(set(swapped))
    modules = {words.partition(" from ")[2].partition(".")[0] for words in swapped}
    assert {"plain-1", "plain-2"} <= modules


def test_frogs_that_can_never_share_a_unit_are_told_so() -> None:
    """The two frogs of a slip are under one engine, and on a straight route want opposite polarities."""
    head = "booster B1 15 V 5 A\ndistrict main from B1\nsegment a stop -> D.a1 1 m\nsegment b stop -> D.b1 1 m\n"
    head += "slip D double number 6 isolated-frog\nsegment c D.a2 -> stop 1 m\nsegment d D.b2 -> stop 1 m\n"
    units = [job for job in jobs(facts(head + "frog D automatic main\n")) if "output" in job.place]
    assert [job.rail for job in units] == ["frog 1", "frog 2"]
    assert all("one unit cannot feed frog 1 and frog 2" in job.note for job in units)
    alone = jobs(facts(head + "frog D.1 automatic main\nfrog D.2 switched from stock rails\n"))
    assert not any("cannot feed" in job.note for job in alone)
