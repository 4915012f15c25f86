"""The railroad beside the text, as any client may ask for it."""

from __future__ import annotations

from collections.abc import AsyncIterator
from pathlib import Path
from typing import Any

import pytest
import pytest_lsp
from pytest_lsp import ClientServerConfig, LanguageClient

from editor.real import FAULTY
from editor.session import SERVE, Session, environment


@pytest_lsp.fixture(config=ClientServerConfig(server_command=SERVE, server_env=environment()))
async def client(lsp_client: LanguageClient) -> AsyncIterator[None]:
    yield
    await lsp_client.shutdown_session()


@pytest.fixture
def session(client: LanguageClient, tmp_path: Path) -> Session:
    return Session(client, tmp_path)


async def railroad(session: Session, name: str, page: bool = False, has: str | None = None) -> Any:
    uri = session.uri(name)
    return await session.client.protocol.send_request_async(
        "railbond/railroad", {"textDocument": {"uri": uri}, "page": page, "has": has}
    )


async def test_it_is_that_of_the_text_as_it_is_typed(session: Session) -> None:
    await session.begin()
    await session.open("mill", FAULTY)
    answer = await railroad(session, "mill", page=True)
    assert answer.page.startswith("<!doctype html>") and "<svg" in answer.page and answer.shown.marks
    assert [one.rule for one in answer.shown.findings] == ["opposed-at-gap"]
    await session.type("mill", "1.5 m", "1.7 m")
    answer = await railroad(session, "mill")
    assert answer.shown.track.ways[0].length == 1_700_000 and not hasattr(answer, "page")


async def test_whoever_has_the_last_is_told_what_is_new(session: Session) -> None:
    await session.begin()
    await session.open("mill", FAULTY)
    first = await railroad(session, "mill")
    await session.type("mill", "1.5 m", "1.7 m")
    news = await railroad(session, "mill", has=first.number)
    assert news.since == first.number and not hasattr(news, "shown") and not hasattr(news.changes.of, "frame")
    behind = await railroad(session, "mill", has=first.number)
    assert behind.shown.number == behind.number and not hasattr(behind, "changes")


async def test_a_text_that_does_not_read_keeps_the_last_picture_and_says_so(session: Session) -> None:
    await session.begin()
    await session.open("mill", FAULTY + "segment what\n")
    answer = await railroad(session, "mill")
    number = len(FAULTY.splitlines()) + 1
    assert answer.stale == f"Line {number} cannot be read. The picture is that of the text before."
    assert not hasattr(answer, "shown")


async def test_a_document_that_is_not_there_has_none(session: Session) -> None:
    await session.begin()
    assert await railroad(session, "nothing") is None
