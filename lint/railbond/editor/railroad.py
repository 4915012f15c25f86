"""The railroad beside the text: what the page of the drawing shows, for whatever client asks for `railbond/railroad`.

Parameters: `textDocument`; `page`: whether the whole page is wanted and not only what it shows; and `has`: the number
of what the client's page shows by now. The answer has `root` (the URI of the plan that the document is part of),
`title`, `number`, and `shown`, or only its `changes` where the page has what was told last; if asked for, `page`; or,
while the text does not read, `stale`: a sentence for whoever still looks at the last picture.
"""

from __future__ import annotations

from typing import Any

from railbond.faces.live.electrics import told
from railbond.faces.live.page import page, railroad

from .store import OpenPlan
from .view import View


def shown_railroad(view: View, params: Any) -> dict[str, Any]:
    """What is to be shown of the plan that a document is part of."""
    plan = view.plan
    broken = [one for one in plan.inspection.findings if one.rule == "syntax"]
    answer: dict[str, Any] = {"root": view.places.uri(plan.root)}
    if broken and not getattr(params, "page", False):
        return answer | {"stale": _words(plan, broken), "findings": told(plan.facts, plan.inspection.findings)}
    shown = railroad(plan.facts, plan.opened.placed)
    answer |= {"title": shown["title"]}
    if not getattr(params, "page", False):
        return answer | view.store.shown[plan.root].news(shown, getattr(params, "has", None))
    news = view.store.shown[plan.root].news(shown)
    return answer | news | {"page": page(news["shown"])}


def _words(plan: OpenPlan, broken: list[Any]) -> str:
    lines = ", ".join(str(plan.source(one.at.path).line_of(one.at.start) + 1) for one in broken[:8])
    return f"Line {lines} cannot be read. The picture is that of the text before."
