"""The railroad beside the text: what the page of the drawing shows, for whatever client asks for `railbond/railroad`.

Parameters: `textDocument`; `page`: whether the whole page is wanted and not only what it shows; and `has`: the number
of what the client's page shows by now. The answer has `root` (the URI of the plan that the document is part of),
`title`, `number`, and `shown`, or only its `changes` where the page has what was told last; if asked for, `page`; or,
while the text does not read, `stale`: a sentence for whoever still looks at the last picture. It is `unexplained` while
the slip that explains the findings is still looked for: findings are published once that is known, and whoever asks
again then is told.
"""

from __future__ import annotations

from typing import Any

from railbond.circuit.facts import Facts
from railbond.faces.live.electrics import told
from railbond.faces.live.page import page, railroad
from railbond.faces.places import unread

from .view import View


def shown_railroad(view: View, params: Any) -> dict[str, Any]:
    """What is to be shown of the plan that a document is part of."""
    plan = view.plan
    first = None if plan.is_meet else plan.opened.unexplained
    findings = plan.opened.placed if first is None else first
    broken = [one for one in findings if one.rule == "syntax"]
    answer: dict[str, Any] = {"root": view.places.uri(plan.root)}
    if broken and not getattr(params, "page", False):
        return answer | {"stale": _words(plan.facts, broken), "findings": told(plan.facts, findings)}
    shown = railroad(plan.facts, findings) | {"unexplained": first is not None}
    answer |= {"title": shown["title"], "unexplained": shown["unexplained"]}
    if not getattr(params, "page", False):
        return answer | view.store.shown[plan.root].news(shown, getattr(params, "has", None))
    news = view.store.shown[plan.root].news(shown)
    return answer | news | {"page": page(news["shown"])}


def _words(facts: Facts, broken: list[Any]) -> str:
    return unread([facts.sources[one.at.path].line_of(one.at.start) + 1 for one in broken[:8]])
