"""One idea, one name: no two public classes of the project share theirs."""

from __future__ import annotations

import ast
from collections import defaultdict

from house.files import modules


def test_no_two_public_classes_share_a_name() -> None:
    where: defaultdict[str, list[str]] = defaultdict(list)
    for module, path in modules().items():
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                where[node.name].append(module)
    assert not {name: places for name, places in where.items() if len(places) > 1}
