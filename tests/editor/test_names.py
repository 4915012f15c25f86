"""Definition, references and rename, across includes and meets."""

from __future__ import annotations

import pytest
from lsprotocol.types import (
    ClientCapabilities,
    DefinitionParams,
    DocumentHighlightKind,
    DocumentHighlightParams,
    PrepareRenameParams,
    ReferenceContext,
    ReferenceParams,
    RenameParams,
    WorkspaceClientCapabilities,
    WorkspaceEditClientCapabilities,
)

from editor.documents import YARD, Documents, name_of
from railbond.editor.linked import Refused
from railbond.editor.names import roles
from railbond.editor.navigation import definition, highlights, prepare_rename, references, rename
from trackplan.make import KINDS

SHARED = "booster B1 15 V 5 A\ndistrict main from B1 legs red black\n"
EAST = 'include "shared.trackplan"\nsegment east E -> stop 1 m\nendplate E left red\nfeeder main -> east\n'
WEST = 'include "shared.trackplan"\nsegment west W -> stop 1 m\nendplate W left red\nfeeder main.red -> west.left\n'
MEET = 'module e "east.trackplan"\nmodule w "west.trackplan"\ncouple e.E -> w.W\nbus e.main -> w.main 1 m\n'


def club(**changed: str) -> Documents:
    return Documents(**{"shared": SHARED, "east": EAST, "west": WEST, "meet": MEET, **changed})


def marked(text: str, word: str) -> str:
    """The text with the cursor in a word's first occurrence."""
    assert word in text
    return text.replace(word, f"{word[0]}¦{word[1:]}" if len(word) > 1 else f"¦{word}", 1)


def where(documents: Documents, found: list) -> list[tuple[str, int, str]]:
    """Document, line from 1, and text of each place."""
    return [
        (name_of(one.uri), one.range.start.line + 1, documents.slice(one.range, one.uri.removeprefix("file://")))
        for one in found
    ]


def defined(documents: Documents) -> list[tuple[str, int, str]]:
    return where(documents, definition(documents.view, DefinitionParams(documents.document, documents.at)))


def used(documents: Documents, with_definition: bool = True) -> list[tuple[str, int, str]]:
    params = ReferenceParams(ReferenceContext(with_definition), documents.document, documents.at)
    return where(documents, references(documents.view, params))


def renamed(documents: Documents, new: str) -> dict[str, str]:
    return documents.made(rename(documents.view, RenameParams(documents.document, documents.at, new)))


@pytest.mark.parametrize(
    ("word", "line", "name"),
    [
        ("T1.points", 6, "T1"),
        ("B1  trips", 2, "B1"),
        ("W -> T1", 10, "W"),
        ("P1.red", 4, "P1"),
        ("lead\nfeeder    P1 -> line", 5, "lead"),
        ("red diverging", 3, "red"),
    ],
)
def test_the_definition_of(word: str, line: int, name: str) -> None:
    text = YARD.replace(word, f"{word[0]}¦{word[1:]}", 1) if word[0] != "W" else YARD.replace(word, f"¦{word}")
    assert defined(Documents(yard=text)) == [("yard", line, name)]


def test_a_free_joint_is_defined_wherever_it_is_used() -> None:
    assert defined(Documents(yard=marked(YARD, "J   "))) == [("yard", 7, "J"), ("yard", 8, "J")]


def test_definition_through_an_include() -> None:
    assert defined(club(east=EAST.replace("feeder main", "feeder m¦ain"))) == [("shared", 2, "main")]


def test_definition_through_a_meet() -> None:
    assert defined(club(meet=MEET.replace("e.E ", "e.¦E "))) == [("east", 3, "E")]
    assert defined(club(meet=MEET.replace("e.E ", "¦e.E "))) == [("meet", 1, "e")]
    assert defined(club(meet=MEET.replace("e.main", "e.m¦ain"))) == [("shared", 2, "main")]


def test_definition_of_a_file_is_the_file() -> None:
    assert defined(club(east=EAST.replace("shared.", "sh¦ared."))) == [("shared", 1, "")]
    assert defined(club(meet=MEET.replace("west.", "w¦est."))) == [("west", 1, "")]


def test_references_reach_every_file_from_any_of_them() -> None:
    everywhere = [
        ("east", 4, "main"),
        ("meet", 4, "main"),
        ("meet", 4, "main"),
        ("shared", 2, "main"),
        ("west", 4, "main"),
    ]
    for changed in (
        {"shared": SHARED.replace("district main", "district m¦ain")},
        {"west": WEST.replace("feeder main", "feeder m¦ain")},
        {"meet": MEET.replace("e.main", "e.m¦ain")},
    ):
        assert used(club(**changed)) == everywhere
    assert ("shared", 2, "main") not in used(club(west=WEST.replace("feeder main", "feeder m¦ain")), False)


def test_plans_that_have_nothing_to_do_with_it_are_left_alone() -> None:
    other = "booster B1 15 V 5 A\ndistrict main from B1\n"
    documents = club(shared=SHARED.replace("district main", "district m¦ain"), other=other)
    assert "other" not in {name for name, _, _ in used(documents)}


def test_rename_changes_every_use_and_no_more() -> None:
    made = renamed(club(west=WEST.replace("feeder main", "feeder m¦ain")), "yard-2")
    assert set(made) == {"shared", "east", "west", "meet"}
    assert made["meet"] == MEET.replace("e.main -> w.main", "e.yard-2 -> w.yard-2")
    assert made["west"] == WEST.replace("main.red", "yard-2.red")


def test_rename_of_a_module_an_endplate_a_joint_and_a_leg() -> None:
    assert renamed(club(meet=MEET.replace("e.E", "¦e.E")), "ost") == {
        "meet": MEET.replace("module e", "module ost").replace("e.E", "ost.E").replace("e.main", "ost.main")
    }
    made = renamed(club(east=EAST.replace("endplate E", "endplate ¦E")), "Z")
    assert made["meet"] == MEET.replace("e.E", "e.Z")
    assert made["east"] == EAST.replace("E -> stop", "Z -> stop").replace("plate E", "plate Z")
    joint = renamed(Documents(yard=marked(YARD, "J   ")), "K2")
    assert joint["yard"] == YARD.replace("-> J ", "-> K2 ").replace("J ->", "K2 ->")
    legs = renamed(club(shared=SHARED.replace("red", "¦red")), "brown")
    assert legs["west"] == WEST.replace("red\n", "brown\n").replace("main.red", "main.brown")


def test_rename_keeps_what_the_plan_means() -> None:
    for word in ("T1.points", "P1  3 m", "lead  W", "main  from", "B1    15"):
        documents = Documents(yard=marked(YARD, word))
        before = documents.view.plan.inspection.findings
        (made,) = renamed(documents, "Name").values()
        after = Documents(yard=made).view.plan.inspection.findings
        assert [one.rule for one in before] == [one.rule for one in after]


@pytest.mark.parametrize(
    ("word", "new", "why"),
    [
        ("T1.points", "lead", "is a name already, in line 5"),
        ("T1.points", "J", "is a name already"),
        ("T1.points", "stop", "a word of the language"),
        ("T1.points", "T 1", "is no name"),
        ("T1.points", "a.b", "is no name"),
        ("number", "six", "no name to change"),
        ('"Yard"', "six", "no name to change"),
    ],
)
def test_a_rename_that_cannot_be_is_refused(word: str, new: str, why: str) -> None:
    with pytest.raises(Refused, match=why):
        renamed(Documents(yard=marked(YARD, word)), new)


def test_legs_that_no_district_names_cannot_be_renamed() -> None:
    text = YARD.replace("  legs red black", "")
    with pytest.raises(Refused, match="does not say what its legs are called"):
        renamed(Documents(yard=marked(text, "red diverging")), "brown")


def test_what_can_be_renamed_is_told_beforehand() -> None:
    documents = Documents(yard=marked(YARD, "T1.points"))
    found = prepare_rename(documents.view, PrepareRenameParams(documents.document, documents.at))
    assert found and found.placeholder == "T1" and documents.slice(found.range) == "T1"
    documents = Documents(yard=marked(YARD, "number"))
    assert prepare_rename(documents.view, PrepareRenameParams(documents.document, documents.at)) is None


def test_edits_carry_the_version_where_the_editor_understands_it() -> None:
    wish = WorkspaceEditClientCapabilities(document_changes=True)
    client = ClientCapabilities(workspace=WorkspaceClientCapabilities(workspace_edit=wish))
    documents = Documents(client=client, yard=marked(YARD, "T1.points"))
    edit = rename(documents.view, RenameParams(documents.document, documents.at, "T2"))
    (change,) = edit.document_changes or ()
    assert change.text_document.version == 1 and len(change.edits) == 5  # type: ignore[union-attr]


def test_highlights_tell_the_definition_from_its_uses() -> None:
    documents = Documents(yard=marked(YARD, "T1.points"))
    found = highlights(documents.view, DocumentHighlightParams(documents.document, documents.at))
    written = [one.range.start.line + 1 for one in found if one.kind == DocumentHighlightKind.Write]
    assert written == [6] and len(found) == 5


def test_every_statement_has_its_names() -> None:
    """A statement of the grammar whose `name` nobody sees could not be renamed."""
    for kind, type_ in KINDS.items():
        if "name" in type_._fields and kind != "Limit":
            assert roles(kind)[type_._fields.index("name") - 1] == "name", kind


def test_names_of_a_file_that_is_gone_are_no_crash() -> None:
    documents = Documents(meet='module e "gone.trackplan"\ncouple e.¦E -> w.W\n')
    assert defined(documents) == [] and used(documents) == [("meet", 2, "E")]
    with pytest.raises(Refused, match="cannot be read"):
        renamed(documents, "F")
