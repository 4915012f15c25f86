"""Writes the colors of editors from the tables of plan.lark: `python -m trackplan.coloring`.

A keyword, a unit or a statement that the grammar has is in all of them; a test holds the files against it.
`python -m trackplan.coloring --folder` tells where they are.
"""

from __future__ import annotations

import json
import os
import re
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

from .checkout import IN_CHECKOUT, REFUSED
from .quantities import MEASURES
from .tables import KEYWORDS, RULES
from .words import STATEMENTS

FOLDER = Path(__file__).resolve().parent / "colors"
NOTE = "Written by `python -m trackplan.coloring` from plan.lark: do not edit."
NAME = r"[^\W\d_]\w*(?:-+\w+)*(?:\.\w+(?:-+\w+)*)*"


def files() -> dict[str, str]:
    """Every highlighting file by its path within FOLDER."""
    return {
        "trackplan.tmLanguage.json": json.dumps(textmate(), indent=2, ensure_ascii=False) + "\n",
        "vim/syntax/trackplan.vim": vim(),
        "kate/trackplan.xml": kate(),
    }


def longest_first(words: Iterable[str]) -> list[str]:
    """So that `dead-frog` is not read as `dead`."""
    return sorted(words, key=lambda word: (-len(word), word))


def units() -> list[str]:
    return longest_first({unit for measure in MEASURES.values() for unit in measure.units if unit})


def naming() -> list[str]:
    """The statements that give a name with the word after their keyword."""
    return sorted({symbols[0] for _, symbols, _ in RULES if symbols[1:2] == ("<name>",)})


def others() -> list[str]:
    """The keywords that begin no statement."""
    return longest_first(KEYWORDS - set(STATEMENTS))


def number(some: str, unit: str) -> str:
    """A quantity; `some` and `unit` are alternatives in the dialect of the one who asks."""
    return rf"(?<![\w.])(?:[2-9]x\s*)?(?:{some})(?:\s*(?:{unit})(?:\s+(?:solid|stranded))?)?(?![\w.,/%])"


def any_of(words: Iterable[str]) -> str:
    return "|".join(map(re.escape, words))


def textmate() -> dict[str, Any]:
    """A TextMate grammar, which most graphical editors read."""
    whole = r"(?<![\w.-])(?:{})(?![\w.-])"
    names = {"1": {"name": "keyword.control.trackplan"}, "2": {"name": "entity.name.trackplan"}}
    rules: list[dict[str, Any]] = [
        {"name": "comment.line.number-sign.trackplan", "match": "#.*$"},
        {"name": "string.quoted.double.trackplan", "match": r'"[^"\n]*"'},
        {"match": rf"^({any_of(naming())})\s+({NAME})", "captures": names},
        {"name": "keyword.control.trackplan", "match": f"^(?:{any_of(longest_first(STATEMENTS))})(?![\\w.-])"},
        {"name": "keyword.operator.arrow.trackplan", "match": "->"},
        {"name": "constant.numeric.trackplan", "match": number(r"[1-4]/0|\d+(?:\.\d+)?", any_of(units()))},
        {"name": "keyword.other.trackplan", "match": whole.format(any_of(longest_first(KEYWORDS)))},
        {"name": "variable.other.trackplan", "match": NAME},
    ]
    head = {"comment": NOTE, "name": "Trackplan", "scopeName": "source.trackplan", "fileTypes": ["trackplan"]}
    return {**head, "patterns": rules}


def vim() -> str:
    """A Vim syntax file; Neovim reads it too. Where two begin at one place, Vim takes the one that comes last."""
    keyword = r"syntax match {} /\v{}%({})%([[:alnum:]_.-])@!/"
    inner, begin = r"%([[:alnum:]_.-])@<!", "^"
    some = r"%([2-9]x\s*)?%([1-4]\/0|\d+%(\.\d+)?)"
    unit = "|".join(vim_escaped(one) for one in units())
    return "\n".join([
        f'" {NOTE}',
        'if exists("b:current_syntax")',
        "  finish",
        "endif",
        r"syntax match trackplanName /\v\a[[:alnum:]_]*%([-.]+[[:alnum:]_]+)*/",
        rf"syntax match trackplanNumber /\v%([[:alnum:]_.])@<!{some}%(\s*%({unit})%(\s+%(solid|stranded))?)?"
        r"%([[:alnum:]_.,\/%])@!/",
        keyword.format("trackplanKeyword", inner, vim_words(KEYWORDS)),
        keyword.format("trackplanStatement", begin, vim_words(STATEMENTS)),
        "syntax match trackplanArrow /->/",
        'syntax match trackplanText /"[^"]*"/',
        r"syntax match trackplanComment /#.*$/ contains=@Spell",
        "highlight default link trackplanName Identifier",
        "highlight default link trackplanNumber Number",
        "highlight default link trackplanKeyword Keyword",
        "highlight default link trackplanStatement Statement",
        "highlight default link trackplanArrow Operator",
        "highlight default link trackplanText String",
        "highlight default link trackplanComment Comment",
        'let b:current_syntax = "trackplan"',
        "",
    ])  # fmt: skip


def vim_words(words: Iterable[str]) -> str:
    return "|".join(vim_escaped(word) for word in longest_first(words))


def vim_escaped(word: str) -> str:
    return re.sub(r"([/%])", r"\\\1", word)


def kate() -> str:
    """A syntax definition for Kate and its relatives."""
    lists = {"statements": longest_first(STATEMENTS), "keywords": others()}
    words = "".join(f'  <list name="{name}">{items(some)}</list>\n' for name, some in lists.items())
    quantity = escape(number(r"[1-4]/0|\d+(?:\.\d+)?", any_of(units())), {'"': "&quot;"})
    looks = {"Name": "Normal", "Statement": "Keyword", "Keyword": "ControlFlow", "Number": "DecVal"}
    looks |= {"Text": "String", "Comment": "Comment", "Arrow": "Operator"}
    styles = "".join(f'   <itemData name="{name}" defStyleNum="ds{style}"/>\n' for name, style in looks.items())
    return f"""\
<?xml version="1.0" encoding="UTF-8"?>
<!-- {NOTE} -->
<language name="Trackplan" section="Sources" version="1" kateversion="5.0" extensions="*.trackplan" license="MIT">
 <highlighting>
{words}  <contexts>
   <context name="Line" attribute="Name" lineEndContext="#stay">
    <RegExpr attribute="Comment" context="#stay" String="#.*$"/>
    <RegExpr attribute="Text" context="#stay" String="&quot;[^&quot;]*&quot;"/>
    <StringDetect attribute="Arrow" context="#stay" String="-&gt;"/>
    <RegExpr attribute="Number" context="#stay" String="{quantity}"/>
    <keyword attribute="Statement" context="#stay" String="statements"/>
    <keyword attribute="Keyword" context="#stay" String="keywords"/>
   </context>
  </contexts>
  <itemDatas>
{styles}  </itemDatas>
 </highlighting>
 <general>
  <comments><comment name="singleLine" start="#"/></comments>
  <keywords casesensitive="true" weakDeliminator="-."/>
 </general>
</language>
"""


def items(words: Iterable[str]) -> str:
    return "".join(f"<item>{escape(word)}</item>" for word in words)


def write() -> None:
    """Writes all of them, each whole or not at all. Ends the program where the package is installed."""
    if not IN_CHECKOUT:
        sys.exit(REFUSED)
    for name, text in files().items():
        path = FOLDER / name
        path.parent.mkdir(parents=True, exist_ok=True)
        beside = path.with_name(f"{path.name}.{os.getpid()}")
        beside.write_text(text, encoding="utf-8")
        beside.replace(path)


if __name__ == "__main__":
    if "--folder" in sys.argv[1:]:
        print(FOLDER)
    else:
        write()
