"""Accepts what is found today, so that from now on only what is new is told.

For a club that begins with a big old plan: for each finding that can be accepted
a line `accept RULE at NAME because "known on DATE: …"` is written at the end of
its plan, with all the others (of a meet, in the meet's own plan). Take a line out when you have mended its fault;
railbond tells you once one accepts nothing any more. The same in no hurry: look
through the lines and say why each fault is none, or mend it.

Exit status: 0 when nothing is left at or above the level that fails, 1 when
something is (with --show: when something would change), 2 when the call cannot
be understood or a file cannot be read or written.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from railbond.doorway import OpenText, enter
from railbond.files import Files
from railbond.saying import say
from railbond.settings import settings_for
from railbond.usage import UsageError, near

from ._plan import files_for, readable, tell_troubles
from ._rewrite import arguments as rewriting_arguments
from ._rewrite import rewritten, tell_changed

if TYPE_CHECKING:
    from collections.abc import Mapping

    from railbond.doorway import Opened
    from railbond.findings import Finding
    from railbond.inspection import Inspection
    from railbond.mend.overlay import Inspector, Overlay


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    rewriting_arguments(parser)
    parser.add_argument("--rule", action="append", default=[], metavar="RULE", help="accept only what this rule finds")


def run(options: Namespace) -> int:
    """Accepts the findings of every plan, tells what is left, and gives the exit status."""
    from railbond.mend.overlay import Overlay
    from railbond.rules import all_rules

    names = [rule.name for rule in all_rules()]
    for name in options.rule:
        if name not in names:
            raise UsageError(f"there is no rule called {name}{near(name, names)}")
    files = files_for(options)
    meets = {path: _is_meet(path, files) for path in readable(files, options.paths)}
    seen: dict[str, Opened] = {}
    overlay = Overlay(sorted(meets, key=lambda path: meets[path]), files.open_text, _placing(files, seen))
    accepted = sum(_accept(overlay, root, options.rule, meets[root], seen) for root in overlay.roots)
    changed = rewritten(
        files, dict(overlay.texts), options.show, [overlay.inspection(root).sources.keys() for root in overlay.roots]
    )
    return _close(options, files, overlay, accepted, changed)


def _is_meet(path: str, files: Files) -> bool:
    return enter(path, files.open_text, settings=settings_for(files, path)).is_meet


def _placing(files: Files, seen: dict[str, Opened]) -> Inspector:
    """How a plan is inspected; what is found in a meet, by the names that it has there. What was `seen` is kept."""

    def inspected(root: str, open_text: OpenText, *, with_fixes: bool = True) -> Inspection:
        opened = seen[root] = enter(root, open_text, settings=settings_for(files, root))
        return opened.acceptable if with_fixes or opened.is_meet else opened.told

    return inspected


def _accept(overlay: Overlay, root: str, rules: list[str], is_meet: bool, seen: Mapping[str, Opened]) -> int:
    """Writes the lines for one plan, in memory; how many. A meet's own plan has all that is told of the meet: its
    modules belong to others."""
    from railbond.mend.accepting import accepting

    inspection, before = overlay.inspection(root), seen[root]
    tried: list[Inspection] = []

    def told(texts: dict[str, str]) -> list[Finding]:
        known = None if is_meet else _told(overlay, before, texts)
        tried[:] = [known or overlay.inspected(root, texts)]
        return tried[0].findings

    texts, count = accepting(overlay, root, rules, told, root if is_meet else None)
    last = tried[0] if is_meet and tried else _told(overlay, before, texts, with_fixes=True)
    overlay.keep(texts)
    if last or not texts:
        overlay.put(root, last if last and texts else inspection)
    return count


def _told(overlay: Overlay, before: Opened, texts: Mapping[str, str], with_fixes: bool = False) -> Inspection | None:
    """What is told of a plan with more accepted in new last lines of its files: only what hangs on that is asked anew.
    None where the texts say more than that."""
    from railbond.mend.accepting import with_more_accepted

    open_text: OpenText = lambda path: texts[path] if path in texts else overlay.open_text(path)  # noqa: E731
    new = enter(before.root, open_text, settings=before.settings)
    facts = before.asked and with_more_accepted(before.asked, before.gathered, new.gathered)
    return new.of(facts if with_fixes else facts.in_trial()) if facts else None


def _close(options: Namespace, files: Files, overlay: Overlay, accepted: int, changed: list[str]) -> int:
    """What was accepted, what is left, and the exit status."""
    from railbond.faces.places import counted
    from railbond.faces.text import look_for, told
    from railbond.settings import fails

    to = sys.stderr if options.show else sys.stdout
    left: dict[Finding, str] = {}
    for root in overlay.roots:
        inspection = overlay.inspection(root)
        for finding in inspection.findings:
            if finding not in left:
                left[finding] = root
                say(told(finding._replace(fixes=()), inspection.sources, look_for(to)), end="\n\n", to=to, painted=True)
    if not options.show:
        tell_changed(changed)
    if changed or not files.troubles:
        say(f"Accepted by {counted(accepted, 'line')}; {counted(len(left), 'finding')} left.", to=to)
    else:  # what is left is that of texts which were not written
        say("Accepted by nothing: no file was changed.", to=to)
    tell_troubles(files)
    if files.troubles:
        return 2
    if options.show:
        return int(bool(changed))
    return int(any(fails([one], settings_for(files, root).fail_at or "warning") for one, root in left.items()))
