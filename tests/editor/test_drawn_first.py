"""The picture of a plan that is typed does not wait for what explains its findings."""

from __future__ import annotations

import asyncio
from pathlib import Path
from types import SimpleNamespace

from editor.documents import Documents
from railbond.editor.drawn_first import DrawnFirst
from railbond.editor.railroad import shown_railroad

FAULTY = (Path(__file__).parents[2] / "example_plans" / "faulty" / "frog-wired-backwards.trackplan").read_text()
TURNED = FAULTY + "feeder main -> west crossed\n"


def test_first_it_shows_what_is_found_and_then_what_explains_it() -> None:
    documents = Documents(mill=TURNED)
    plan, asked = documents.view.plan, SimpleNamespace(page=False)
    while_searching = []
    plan.opened.on_first = lambda: while_searching.append(shown_railroad(documents.view, asked))
    explained = plan.opened.placed
    (answer,) = while_searching
    assert answer["unexplained"] and answer["shown"]["unexplained"]
    first = [one["message"] for one in answer["shown"]["findings"]]
    answer = shown_railroad(documents.view, asked)
    assert not answer["unexplained"]
    assert [one["message"] for one in answer["shown"]["findings"]] == [one.message for one in explained]
    assert len(first) > len(explained) > 0 and any("the feeder to west is the wrong way round" in one for one in first)


def test_what_explains_waits_for_the_picture_and_gives_up_waiting() -> None:
    async def told() -> list[str]:
        turn, said = DrawnFirst(), list[str]()
        loop = asyncio.get_running_loop()
        with turn.picture():
            searching = asyncio.create_task(asyncio.to_thread(turn.give_way, loop))
            searching.add_done_callback(lambda _: said.append("searched"))
            await turn.first_findings()
            await asyncio.sleep(0.05)
            said.append("drawn")
        await searching
        with turn.picture():
            await asyncio.wait_for(asyncio.to_thread(turn.give_way, loop), 10)
            turn.found.clear()
            await turn.first_findings()
            said.append("given up")
        await asyncio.sleep(0)
        return said

    assert asyncio.run(told()) == ["drawn", "searched", "given up"]
