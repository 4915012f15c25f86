"""Completion, hover, fixes, outline, layout and tokens, asked of open documents without an editor."""

from __future__ import annotations

from pathlib import Path

import pytest
from lsprotocol.types import (
    CodeAction,
    CodeActionContext,
    CodeActionKind,
    CodeActionParams,
    CompletionParams,
    DocumentFormattingParams,
    DocumentLinkParams,
    DocumentSymbolParams,
    FoldingRangeParams,
    FormattingOptions,
    HoverParams,
    Range,
    SemanticTokensParams,
    SemanticTokensRangeParams,
    WorkspaceSymbolParams,
)
from pygls.uris import to_fs_path

from editor.documents import CURSOR, YARD, Documents, path_of
from railbond.editor.actions import ALL, actions
from railbond.editor.completion import completion
from railbond.editor.diagnostics import diagnostics
from railbond.editor.hover import hover
from railbond.editor.keywords import meaning
from railbond.editor.lessons import lesson_uri
from railbond.editor.links import links, workspace_symbols
from railbond.editor.outline import folding, formatting, symbols
from railbond.editor.tokens import LEGEND, TYPES, tokens, tokens_between
from trackplan.tables import KEYWORDS
from trackplan.tidy import tidy
from trackplan.words import STATEMENTS


def offered(line: str, before: str = YARD) -> list[str]:
    """What is offered at the cursor in a line at the end of the yard."""
    documents = Documents(yard=before + line, club="", **{"below/mill": ""})
    found = completion(documents.view, CompletionParams(documents.document, documents.at))
    return [item.label for item in found.items]


@pytest.mark.parametrize(
    ("line", "among", "not_among"),
    [
        ("¦", ["segment", "turnout", "feeder"], ["T1", "left"]),
        ("fee¦", ["feeder"], ["lead"]),
        ("segment new ¦", ["stop", "T1.points", "W", "J"], ["P1", "segment"]),
        ("segment new T1.¦", ["T1.points", "T1.through", "T1.diverging"], ["T1"]),
        ("segment new stop ¦", ["->"], ["stop"]),
        ("segment new stop -> ¦", ["stop", "lead.start"], ["->"]),
        ("turnout T9 ¦", ["left", "right", "wye"], ["dead-frog"]),
        ("turnout T9 left ¦", ["number", "dead-frog", "live-frog", "isolated-frog"], ["left"]),
        ("feeder ¦", ["main", "P1", "main.red", "P1.black"], ["lead", "B1"]),
        ("bus ¦", ["main", "P1"], ["main.red"]),
        ("feeder P1.¦", ["P1.red", "P1.black"], []),
        ("feeder P1 -> ¦", ["lead", "lead.left", "T1.through.stock", "T1.diverging.frog"], ["T1.points"]),
        ("district d from ¦", ["B1"], ["main"]),
        ("block b in ¦", ["main"], ["B1", "P1"]),
        ("bond ¦", ["T1"], ["lead"]),
        ("cut T1 ¦", ["closure", "around", "frog"], ["T1"]),
        ("gap ¦", ["T1.through", "J", "lead"], ["P1"]),
        ("gap T1.through ¦", ["left", "right", "both", "frog", "stock"], ["T1"]),
        ("frog T1 switched through ¦", ["P1.red", "main.black"], ["T1"]),
        ("endplate X left ¦", ["red", "black"], ["T1"]),
        ("limit ¦", ["feeder-spacing"], ["lead"]),
        ("accept ¦", ["unfed-rail", "open-point-opposed"], ["lead"]),
        ("accept unfed-rail at ¦", ["lead", "T1"], ["unfed-rail"]),
        ("segment new stop -> stop 90¦", ["90 cm", "90 m", "90 ft"], ["90 AWG", "90 A"]),
        ("segment new stop -> stop 90 c¦", ["90 cm"], ["90 m"]),
        ("booster B2 15 V 5 ¦", ["5 A", "5 mA"], ["5 V"]),
        ("turnout T9 left number 6 ¦", ["isolated-frog", "live-frog"], ["6 m", "number"]),
        ("turnout T9 left number 6 iso¦", ["isolated-frog"], ["left"]),
        ("rails code 83 ¦", ["nickel-silver", "brass"], ["code"]),
        ("segment new stop -> stop 90 cm code 83 ¦", ["brass"], ["90 cm"]),
        ("engine e left 0 31 ¦", ["31 mm", "31 cm"], []),
        ("include ¦", ['"club.trackplan"', '"below/mill.trackplan"'], ['"yard.trackplan"', "lead"]),
        ('include "¦', ["club.trackplan", "below/mill.trackplan"], ["yard.trackplan"]),
        ('include "below/¦', ["below/mill.trackplan"], ["club.trackplan"]),
        ('module m "cl¦', ["club.trackplan"], ["below/mill.trackplan"]),
        ('module m "club.trackplan" ¦', ["owner"], ["club.trackplan"]),
        ("feeder P1 -> lead at 20 cm 22 ¦", ["22 AWG", "22 mm2"], ["22 cm"]),
        ("segment new stop\n  -> T1.¦", ["T1.points"], ["segment"]),
        ("segment new stop # -> ¦", [], ["stop", "T1.points"]),
        ('plan "T1.¦', [], ["T1.points", "stop"]),
        ("nonsense nonsense ¦", [], ["stop", "segment"]),
    ],
)
def test_what_is_offered(line: str, among: list[str], not_among: list[str]) -> None:
    found = offered(line)
    assert [word for word in among if word not in found] == []
    assert [word for word in not_among if word in found] == []


def test_every_statement_is_offered() -> None:
    assert set(STATEMENTS) <= set(offered(CURSOR))


def test_names_in_a_module_are_offered() -> None:
    documents = Documents(yard=YARD, meet='module y "yard.trackplan"\ncouple ¦')
    found = completion(documents.view, CompletionParams(documents.document, documents.at))
    assert "y.W" in [item.label for item in found.items]


def test_what_is_chosen_takes_the_place_of_what_was_typed() -> None:
    documents = Documents(yard=YARD + "segment new T1.po¦")
    (item,) = (
        one
        for one in completion(documents.view, CompletionParams(documents.document, documents.at)).items
        if one.label == "T1.points"
    )
    assert item.text_edit
    made = documents.edited(documents.path, [item.text_edit])  # type: ignore[list-item]
    assert made == YARD + "segment new T1.points"


def told(word: str, text: str = YARD) -> str:
    """What hovering over a word tells."""
    documents = Documents(yard=text.replace(word, CURSOR + word, 1))
    found = hover(documents.view, HoverParams(documents.document, documents.at))
    return found.contents.value if found else ""  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("word", "parts"),
    [
        ("lead  W", ["segment lead W -> T1.points 90 cm", "left rail: main.red (+)", "right rail: main.black (−)"]),
        ("T1.points", ["looking out of T1.points", "left rail", "through stock rail"]),
        ("T1    left", ["frog: main.black (−) with T1 thrown; main.red (+) with T1 straight"]),
        ("P1.red", ["fed by main", "red and black"]),
        ("main  from", ["red (+) and black (−)"]),
        ("W     left", ["lead"]),
        ("J       90", ["the joint of line.finish and more.start", "no rail cut"]),
        ("B1    15", ["booster B1 15 V 5 A"]),
    ],
)
def test_hover_tells(word: str, parts: list[str]) -> None:
    text = told(word)
    assert [part for part in parts if part not in text] == [], text


def test_hover_on_a_dead_rail_a_reverser_a_rule_and_a_limit() -> None:
    assert "dead in every setting" in told("cold", "segment cold stop -> stop 1 m\n")
    turning = YARD.replace("main.red -> more.left", "R -> more").replace("feeder    main.black -> more.right\n", "")
    assert "(turns)" in told("more  J", turning + "reverser R in main\ngap J both rails\n")
    assert "The engine stops" in told("unfed-rail", YARD + 'accept unfed-rail at lead because "x"\n')
    assert "limit feeder-spacing 2 m" in told("feeder-spacing", YARD + "limit feeder-spacing 3 m\n")
    assert told("90 cm") == "" and told("->") == ""


def fixes(documents: Documents, *only: str, line: int | None = None) -> list[CodeAction]:
    """The actions offered in a line, from 1, or for the whole document."""
    end = len(documents.view.source.starts)
    first, last = (0, end) if line is None else (line - 1, line - 1)
    place = Range(documents.at.__class__(first, 0), documents.at.__class__(last, 0))
    return actions(
        documents.view, CodeActionParams(documents.document, place, CodeActionContext([], list(only) or None))
    )


FAULTY = """\
limit    feeder-size    22 AWG
limit    feeder-length  20 cm
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  line  stop -> J    1.5 m
segment  spur  J -> stop    1.5 m
gap      J     both rails
feeder   main -> line
feeder   main -> spur  crossed
segment  shed  stop -> stop  1 m
"""


def test_the_proven_fix_is_preferred_and_cures() -> None:
    documents = Documents(yard=FAULTY)
    found = fixes(documents, CodeActionKind.QuickFix, line=9)
    assert found[0].is_preferred and found[0].diagnostics and found[0].edit
    assert [one.code for one in found[0].diagnostics] == ["opposed-at-gap"]
    assert documents.made(found[0].edit)["yard"] == FAULTY.replace("  crossed", "")
    assert all(not action.is_preferred for action in found[1:])


def test_fixes_are_offered_on_their_finding_only() -> None:
    titles = {action.title for action in fixes(Documents(yard=FAULTY), CodeActionKind.QuickFix, line=10)}
    assert titles and not any("spur" in title for title in titles)
    assert fixes(Documents(yard=FAULTY), CodeActionKind.QuickFix, line=1) == []
    assert fixes(Documents(yard=FAULTY), "refactor") == []


def test_one_action_makes_all_plain_fixes() -> None:
    documents = Documents(yard=FAULTY)
    (action,) = fixes(documents, "source.fixAll")
    assert action.title == ALL and action.kind == "source.fixAll" and action.edit
    made = documents.made(action.edit)["yard"]
    assert Documents(yard=made).view.plan.inspection.findings == []
    assert "crossed" not in made and "-> shed" in made


def test_one_action_writes_the_wiring_that_is_missing() -> None:
    bare = "\n".join(line for line in YARD.splitlines() if not line.startswith("feeder")) + "\n"
    documents = Documents(yard=bare)
    (action,) = fixes(documents, "source.wire")
    assert action.edit
    made = documents.made(action.edit)["yard"]
    left = [one.level for one in Documents(yard=made).view.plan.inspection.findings]
    assert made != bare and set(left) <= {"note"}
    assert fixes(Documents(yard=YARD), "source.wire") == []


def test_a_sound_document_has_nothing_to_fix() -> None:
    assert fixes(Documents(yard=f'{YARD}accept set-against at T1 because "signals"\n')) == []


def test_a_fix_that_changes_the_railroad_says_so() -> None:
    dead = YARD.replace("isolated-frog", "dead-frog").replace("frog      T1    switched", "#")
    found = fixes(Documents(yard=dead + "engine e left 0 mm right 0 mm 0.3 A\n"), CodeActionKind.QuickFix)
    rebuilt = [action for action in found if "is rebuilt" in action.title]
    assert rebuilt and not any(action.is_preferred for action in rebuilt)


def test_a_finding_has_its_setting_and_its_steps() -> None:
    documents = Documents(yard=YARD.replace("through P1.red diverging P1.black", "through P1.black diverging P1.red"))
    told = diagnostics(documents.view.plan, documents.places)[documents.path]
    (found,) = (one for one in told if one.code == "frog-wired-backwards")
    assert found.source == "railbond"
    assert "\nwhen T1 " in found.message and found.message.startswith("short: ")
    assert found.related_information and len(found.related_information) >= 2
    assert documents.slice(found.range).startswith("frog")


def test_outline_and_folding() -> None:
    text = f"# the yard\n{YARD}\n\n# more\n# of it\n\nsegment long stop\n  -> stop\n  1 m\nnonsense\n"
    documents = Documents(yard=text)
    found = symbols(documents.view, DocumentSymbolParams(documents.document))
    names = ["Yard", "B1", "main", "P1", "lead", "T1", "line", "more", "dock", "W", "long"]
    assert [one.name for one in found] == names
    assert [documents.slice(one.selection_range).strip('"') for one in found] == names
    folds = folding(documents.view, FoldingRangeParams(documents.document))
    assert [(one.start_line, one.end_line) for one in folds] == [(0, 18), (21, 22), (24, 27), (24, 26)]


def test_layout_is_that_of_tidy_line_by_line() -> None:
    text = YARD.replace("segment   lead  W", "segment lead W")
    documents = Documents(yard=text)
    edits = formatting(documents.view, DocumentFormattingParams(documents.document, FormattingOptions(2, True)))
    assert documents.edited(documents.path, list(edits)) == tidy(documents.view.source)
    assert len(edits) < len(text.splitlines())


def words_of(documents: Documents, data: list[int]) -> list[tuple[str, str, int]]:
    """Each token's text, kind and modifiers."""
    found, line, column = [], 0, 0
    for down, right, length, kind, modifiers in zip(*[iter(data)] * 5, strict=True):
        line, column = line + down, right if down else column + right
        at = documents.at.__class__
        where = Range(at(line, column), at(line, column + length))
        found.append((documents.slice(where), TYPES[kind], modifiers))
    return found


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "utf-32"])
def test_tokens(encoding: str) -> None:
    text = '# 𐐀\nsegment 𐐀𐐀b stop # 𐐀\n  -> T1.points 3 ft 6 in\n\nplan "𐐀" %\n'
    documents = Documents(encoding, yard=text)
    found = words_of(documents, list(tokens(documents.view, SemanticTokensParams(documents.document)).data))
    assert found == [
        ("# 𐐀", "comment", 0),
        ("segment", "keyword", 0),
        ("𐐀𐐀b", "variable", 1),
        ("stop", "keyword", 0),
        ("# 𐐀", "comment", 0),
        ("->", "operator", 0),
        ("T1.points", "variable", 0),
        ("3 ft 6 in", "number", 0),
        ("plan", "keyword", 0),
        ('"𐐀"', "string", 0),
    ]
    assert LEGEND.token_types == list(TYPES)


def test_tokens_of_a_few_lines() -> None:
    documents = Documents(yard=YARD)
    at = documents.at.__class__
    params = SemanticTokensRangeParams(documents.document, Range(at(1, 0), at(1, 9)))
    found = words_of(documents, list(tokens_between(documents.view, params).data))
    assert [word for word, _, _ in found][:1] == ["booster"]
    assert "segment" not in [word for word, _, _ in found]


def test_a_meet_is_inspected_as_a_whole() -> None:
    """Each module is sound alone; coupled, the rails of two boosters meet."""
    modules = 'module a "yard.trackplan"\nmodule b "east.trackplan"\n'
    apart = Documents(meet=modules + CURSOR, yard=YARD, east=YARD)
    each = diagnostics(apart.view.plan, apart.places).values()
    assert {one.code for own in each for one in own} == {"set-against"}
    coupled = Documents(meet=f"{modules}couple a.W -> b.W\n{CURSOR}", yard=YARD, east=YARD)
    found = diagnostics(coupled.view.plan, coupled.places)
    assert [one.code for one in found[coupled.path]] == ["districts-joined"]
    assert found.keys() == {coupled.path, path_of("yard"), path_of("east")}
    assert [action for action in fixes(coupled) if action.title == ALL] == []


def said_of(text: str) -> str:
    """What is told of the word at the cursor, or nothing."""
    documents = Documents(yard=text)
    found = hover(documents.view, HoverParams(documents.document, documents.at))
    return getattr(found.contents, "value", "") if found else ""


@pytest.mark.parametrize("word", sorted(KEYWORDS))
def test_every_keyword_has_its_meaning_and_its_lesson(word: str) -> None:
    uri = lesson_uri(word)
    assert meaning(word) and not meaning(word).endswith(".")
    assert uri and word in Path(to_fs_path(uri) or "").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("tur¦nout", "`turnout`: hand `left`, `right` or `wye`"),
        ("isolated-f¦rog", "`isolated-frog`: a turnout whose metal frog stands alone"),
        ("# tur¦nout", ""),
        ('"tur¦nout"', ""),
    ],
)
def test_a_keyword_says_what_it_means(line: str, words: str) -> None:
    old = next(word for word in ("turnout", "isolated-frog") if word in line.replace("¦", ""))
    text = YARD.replace(old, line, 1) if line[0] not in '#"' else YARD + f"plan {line}\n"
    assert said_of(text).startswith(words) and bool(said_of(text)) is bool(words)


def test_what_hangs_on_a_booster_a_district_and_a_terminal() -> None:
    assert "feeds main\n- main bus to P1\n- main drops to more" in said_of(
        YARD.replace("booster   B1", "booster   B¦1")
    )
    assert "bus to P1\ndrops to more" in said_of(YARD.replace("district  main", "district  ma¦in"))
    told = said_of(YARD.replace("main -> P1", "main -> P¦1"))
    assert "drops to lead, line, dock" in told and "frogs of T1" in told


def test_the_code_of_a_finding_leads_to_its_lesson() -> None:
    documents = Documents(yard=YARD + "segment  shed  stop -> stop  1 m\n")
    told = [one for own in diagnostics(documents.view.plan, documents.places).values() for one in own]
    (found,) = (one for one in told if one.code != "set-against")
    assert found.code_description and "unfed-rail.txt" in found.code_description.href


def test_the_files_that_a_plan_names_are_links() -> None:
    documents = Documents(meet='module a "yard.trackplan"\ninclude "gone.trackplan"\n¦', yard=YARD)
    (link,) = links(documents.view, DocumentLinkParams(documents.document))
    assert documents.slice(link.range) == '"yard.trackplan"' and link.target == f"file://{path_of('yard')}"


def test_everything_that_has_a_name_is_found_in_the_workspace() -> None:
    documents = Documents(yard=YARD, other="segment  shed  stop -> stop  1 m\n")
    names = [one.name for one in workspace_symbols(documents.store, documents.places, WorkspaceSymbolParams("sd"))]
    assert names == ["shed"]
    every = workspace_symbols(documents.store, documents.places, WorkspaceSymbolParams(""))
    assert {"Yard", "T1", "P1", "shed"} <= {one.name for one in every}
