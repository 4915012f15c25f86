"""The server as an editor meets it: over standard input and output, through a whole session."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
import pytest_lsp
from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient, make_test_lsp_client

from editor.documents import YARD
from editor.real import FAULTY, MENDED
from editor.session import SERVE, Session, environment

SHARED = "booster  B1    15 V  5 A\ndistrict main  from B1  trips 4 A\n"
FRAGMENT = FAULTY.removeprefix(SHARED)
BROKEN_RULE = """\
from railbond.rules.rule import Rule

def find(facts):
    print("a plug-in that talks")
    raise ZeroDivisionError("oh")

RULES = (Rule("club-rule", "note", "on paper", 3, False, find, "", "", "", "", "", ""),)
"""

ENDLESS_RULE = """\
from railbond.rules.rule import Rule

def find(facts):
    while "slow" in facts.layout.pieces:
        pass
    return ()

RULES = (Rule("club-rule", "note", "on paper", 3, False, find, "", "", "", "", "", ""),)
"""


@pytest_lsp.fixture(config=ClientServerConfig(server_command=SERVE, server_env=environment()))
async def client(lsp_client: LanguageClient) -> AsyncIterator[None]:
    yield
    await lsp_client.shutdown_session()


@pytest.fixture
def session(client: LanguageClient, tmp_path: Path) -> Session:
    return Session(client, tmp_path)


@asynccontextmanager
async def with_rule(folder: Path, module: str) -> AsyncIterator[Session]:
    """A server whose installation has one rule more."""
    installed = folder / "installed"
    (installed / "club-1.0.dist-info").mkdir(parents=True)
    (installed / "club-1.0.dist-info" / "METADATA").write_text("Metadata-Version: 2.1\nName: club\nVersion: 1.0\n")
    (installed / "club-1.0.dist-info" / "entry_points.txt").write_text("[railbond.rules]\nclub = club_rule\n")
    (installed / "club_rule.py").write_text(module)
    client = make_test_lsp_client()
    await client.start_io(*SERVE, env=environment(installed))
    session = Session(client, folder)
    await session.begin()
    yield session
    await client.shutdown_session()
    await client.stop()


async def test_findings_while_typing_and_the_fix(session: Session) -> None:
    await session.begin()
    assert await session.open("mill", MENDED) == []
    (found,) = await session.type("mill", "-> spur", "-> spur  crossed")
    assert found.code == "opposed-at-gap" and found.severity == types.DiagnosticSeverity.Error
    assert found.range.start.line == 6
    steps = found.related_information or ()
    assert [step.location.uri for step in steps] == [session.uri("mill")] * len(steps) and len(steps) == 3
    (first, *_) = await session.actions("mill", found.range, "quickfix")
    assert first.is_preferred
    assert session.made("mill", first.edit).split() == MENDED.split()
    assert await session.type("mill", "-> spur  crossed", "-> spur") == []


async def test_all_plain_fixes_at_once_are_worked_out_when_chosen(session: Session) -> None:
    await session.begin()
    await session.open("mill", FAULTY + "segment  shed  stop -> stop  1 m\n")
    (action,) = await session.actions("mill", types.Range(types.Position(0, 0), types.Position(0, 0)), "source.fixAll")
    assert action.edit is None
    action = await session.client.code_action_resolve_async(action)
    made = session.made("mill", action.edit)
    assert "crossed" not in made and "-> shed" in made


@pytest.mark.parametrize("encoding", ["utf-16", "utf-8", "utf-32"])
async def test_places_in_every_encoding(session: Session, encoding: str) -> None:
    """Text beyond the basic plane, before and within what is asked about."""
    answer = await session.begin(encoding)
    assert answer.capabilities.position_encoding == encoding
    text = MENDED.replace("spur", "𐐀pur").replace(
        "feeder   main -> 𐐀", 'accept x at 𐐀pur because "𐐀"\nfeeder main -> 𐐀'
    )
    await session.open("mill", text)
    assert "acceptance-unused" in {one.code for one in await session.findings("mill")}
    found = await session.type("mill", "main -> 𐐀pur", "main -> 𐐀pur  crossed # 𐐀𐐀")
    (short,) = (one for one in found if one.code == "opposed-at-gap")
    assert session.slice("mill", short.range) == "feeder main -> 𐐀pur  crossed"
    fix = (await session.actions("mill", short.range, "quickfix"))[0]
    assert "main -> 𐐀pur # 𐐀𐐀" in session.made("mill", fix.edit)
    hover = await session.hover("mill", session.place("mill", "pur because"))
    assert hover and hover.range and session.slice("mill", hover.range) == "𐐀pur"


async def test_open_buffers_count_and_not_the_disk(session: Session) -> None:
    """In includes too: the plan on disk is sound, what is being typed into the file that it includes is not."""
    await session.begin()
    session.save("shared", SHARED)
    session.save("mill", 'include "shared.trackplan"\n' + FRAGMENT)
    (found,) = await session.open("mill", 'include "shared.trackplan"\n' + FRAGMENT)
    assert found.code == "opposed-at-gap"
    assert await session.open("shared", SHARED) == []
    session.client.diagnostics.clear()
    await session.type("shared", "main", "mane")
    told = await session.findings("mill")
    assert "unknown-name" in {one.code for one in told}
    session.close("shared")
    session.client.diagnostics.clear()
    assert [one.code for one in await session.findings("mill")] == ["opposed-at-gap"]


async def test_an_included_file_is_read_as_part_of_its_plan(session: Session) -> None:
    """By itself its names would be unknown."""
    session.save("mill", SHARED + 'include "tracks.trackplan"\n')
    await session.begin()
    (found,) = await session.open("tracks", FRAGMENT)
    assert found.code == "opposed-at-gap"
    (found,) = await session.type("tracks", "segment  line", "# here\nsegment  line")
    assert found.range.start.line == 5


async def test_a_closed_document_has_no_findings_left(session: Session) -> None:
    await session.begin()
    assert await session.open("mill", FAULTY)
    session.client.diagnostics.clear()
    session.close("mill")
    assert await session.findings("mill") == []


async def test_nothing_a_document_holds_stops_it(session: Session) -> None:
    await session.begin()
    for number, text in enumerate(
        ["\0\x1b\ud7ff\uffff", '"' * 999, "segment " * 999, "plan\r\rplan\u2028x\r\n", "[" * 99_999]
    ):
        name = f"odd{number}"
        assert await session.open(name, text)
        for ask in (session.hover(name, types.Position(0, 5)), session.hover(name, types.Position(10**6, 10**6))):
            assert await ask is None or text.startswith(("segment", "plan")), "a word of the language is told"
        await session.type(name, text[:1], "x")
        params = types.DocumentFormattingParams(session.document(name), types.FormattingOptions(2, True))
        await session.client.text_document_formatting_async(params)
    assert [one.code for one in await session.open("mill", FAULTY)] == ["opposed-at-gap"]


async def test_what_is_asked_of_a_document_that_is_not_there(session: Session) -> None:
    await session.begin()
    assert await session.hover("gone", types.Position(3, 3)) is None
    assert await session.open("mill", MENDED) == []


async def test_a_cancelled_request_stops_nothing(session: Session) -> None:
    await session.begin()
    await session.open("mill", FAULTY)
    asked = [asyncio.ensure_future(session.hover("mill", types.Position(2, 10))) for _ in range(20)]
    await asyncio.sleep(0)
    for number in range(1, 60):
        session.client.cancel_request(types.CancelParams(number))
    done = await asyncio.gather(*asked, return_exceptions=True)
    assert len(done) == 20
    assert await session.hover("mill", types.Position(2, 10))
    assert await session.type("mill", "  crossed", "") == []


async def test_a_rule_that_breaks_off_is_told_and_the_others_go_on(tmp_path: Path) -> None:
    """It also writes where answers are written."""
    async with with_rule(tmp_path, BROKEN_RULE) as session:
        found = {one.code: one.message for one in await session.open("mill", FAULTY)}
        assert found.keys() == {"club-rule", "opposed-at-gap"}
        assert "the rule club-rule broke off (ZeroDivisionError: oh, in line 5 of club_rule)" in found["club-rule"]
        assert [one.code for one in await session.type("mill", "  crossed", "")] == ["club-rule"]


async def test_the_next_keystroke_overtakes_an_inspection_that_takes_for_ever(tmp_path: Path) -> None:
    async with with_rule(tmp_path, ENDLESS_RULE) as session:
        assert await session.open("mill", MENDED) == []
        with pytest.raises(TimeoutError):
            await asyncio.wait_for(session.type("mill", "spur ", "slow "), 1)
        assert await session.hover("mill", session.place("mill", "line"))
        assert "unknown-name" in {one.code for one in await session.type("mill", "slow ", "fast ")}


async def test_a_rename_that_cannot_be_is_refused_in_words(session: Session) -> None:
    await session.begin()
    await session.open("yard", YARD)
    params = types.RenameParams(session.document("yard"), session.place("yard", "T1.points"), "lead")
    with pytest.raises(Exception, match="`lead` is a name already, in line 5"):
        await session.client.text_document_rename_async(params)


async def test_it_offers_what_it_can(session: Session) -> None:
    can = (await session.begin()).capabilities
    assert isinstance(can.text_document_sync, types.TextDocumentSyncOptions)
    assert can.text_document_sync.change == types.TextDocumentSyncKind.Incremental
    assert can.hover_provider and can.definition_provider and can.references_provider
    assert can.document_symbol_provider and can.folding_range_provider and can.document_formatting_provider
    assert isinstance(can.rename_provider, types.RenameOptions) and can.rename_provider.prepare_provider
    assert isinstance(can.code_action_provider, types.CodeActionOptions) and can.code_action_provider.resolve_provider
    assert can.completion_provider and can.semantic_tokens_provider
    await session.open("mill", MENDED)


@pytest.mark.parametrize("politely", [True, False])
async def test_the_exit_status_tells_whether_it_was_asked_to_stop(tmp_path: Path, politely: bool) -> None:
    session = Session(make_test_lsp_client(), tmp_path)
    await session.client.start_io(*SERVE, env=environment())
    await session.begin()
    await session.open("mill", MENDED)
    if politely:
        await session.client.shutdown_async(None)
    session.client.exit(None)
    server = session.client._server
    assert server and await asyncio.wait_for(server.wait(), 10) == (0 if politely else 1)
