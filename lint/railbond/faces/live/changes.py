"""What is new of data that somebody has already, so that a key that changes little sends little.

A change is `{"is": value}` where nothing of the old is of use; `{"of": {key: change}, "gone": [key]}` of a mapping; and
of a list `{"runs": [...]}`: each run `[start, count]` of the old items, or `{"is": [item]}`. `changed` in graph.js
makes it.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Mapping, Sequence
from typing import Any

Json = dict[str, Any]


class LastShown:
    """What was told last, by a number that nobody else has told: whoever has that is told what is new."""

    def __init__(self) -> None:
        self.shown: Json = {}

    def news(self, shown: Json, has: object = None) -> Json:
        """What to tell whoever `has` what bears that number: all that is shown now, or its `changes` `since` then."""
        before, self.shown = self.shown, shown | {"number": secrets.token_hex(8)}
        number = self.shown["number"]
        if has is None or before.get("number") != has:
            return {"number": number, "shown": self.shown}
        return {"number": number, "since": has, "changes": change(before, self.shown)}


def change(before: Any, after: Any) -> Json:
    """What makes the second of the first, keys in their order and all."""
    if isinstance(before, Mapping) and isinstance(after, Mapping):
        return _of_mapping(before, after)
    if isinstance(before, Sequence) and isinstance(after, Sequence) and not isinstance(after, str):
        return {"runs": _runs(before, after)}
    return {"is": after}


def _of_mapping(before: Mapping[str, Any], after: Mapping[str, Any]) -> Json:
    """Of one whose keys would come in another order, all anew."""
    if [*(key for key in before if key in after), *(key for key in after if key not in before)] != [*after]:
        return {"is": after}
    new = {
        key: change(before[key], one) if key in before else {"is": one}
        for key, one in after.items()
        if key not in before or before[key] != one
    }
    return {"of": new, "gone": [key for key in before if key not in after]}


def _runs(before: Sequence[Any], after: Sequence[Any]) -> list[Any]:
    """The items that are there already, wherever they are, and the new ones between."""
    shorter = min(len(before), len(after))
    first = next((place for place in range(shorter) if before[place] != after[place]), shorter)
    last = next((place for place in range(shorter - first) if before[-1 - place] != after[-1 - place]), shorter - first)
    middle = _middle_runs(before, first, len(before) - last, after[first : len(after) - last])
    return [*[[0, first]] * bool(first), *middle, *[[len(before) - last, last]] * bool(last)]


def _middle_runs(before: Sequence[Any], start: int, stop: int, after: Sequence[Any]) -> list[Any]:
    """The same of the items between those at either end that are as they were."""
    where = {_known(before[place]): place for place in range(start, stop)}
    runs: list[Any] = []
    for one in after:
        place = where.get(_known(one))
        last = runs[-1] if runs else None
        if place is None:
            if isinstance(last, dict):
                last["is"].append(one)
            else:
                runs.append({"is": [one]})
        elif isinstance(last, list) and sum(last) == place:
            last[1] += 1
        else:
            runs.append([place, 1])
    return runs


def _known(one: Any) -> str:
    return one if isinstance(one, str) else json.dumps(one)
