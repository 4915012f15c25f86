"""Writes `rules/heads.py`, by which rules are asked before their files are loaded: `python tests/house/heads.py`."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

TOP = Path(__file__).parents[2]
sys.path[:0] = [str(TOP / folder) for folder in ("grammar", "lint")]

from railbond import rules  # noqa: E402
from railbond.folder import names  # noqa: E402
from railbond.rules import own_rules  # noqa: E402
from railbond.rules.rule import RuleHead  # noqa: E402

HEADS = TOP / "lint" / "railbond" / "rules" / "heads.py"
BEGIN = '''\
"""The heads of all rules of this folder, made by `python tests/house/heads.py`: what must be known to ask them."""

from .rule import RuleHead

# fmt: off
HEADS: tuple[RuleHead, ...] = (
'''


def text() -> str:
    """What the file must hold."""
    without = sorted(set(names(rules.__path__)) - {line.split('"')[1] for line in _lines()})
    held = f"WITHOUT_RULES = {tuple(without)!r}".replace("'", '"')
    return BEGIN + "".join(f"    {line},\n" for line in sorted(_lines())) + f")\n{held}\n"


def _lines() -> Iterator[str]:
    for module in names(rules.__path__):
        for one in own_rules([module]):
            head = RuleHead(module, one.name, one.turn, one.cause, one.when, one.after)
            parts = [f'"{part}"' if isinstance(part, str) else repr(part) for part in head[:5]]
            after = "(" + ", ".join(f'"{name}"' for name in one.after) + ("," if len(one.after) == 1 else "") + ")"
            more = f",\n        {after}" if one.after else ""
            more += f',\n        of_graph="{one.of_graph}"' if one.of_graph else ""
            more += ",\n        of_acceptances=True" if one.of_acceptances else ""
            more += ",\n        notes=True" if one.level == "note" else ""
            yield f"RuleHead({', '.join(parts)}{more})"


if __name__ == "__main__":
    HEADS.write_text(text(), encoding="utf-8")
