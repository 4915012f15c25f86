"""A club's settings, committed beside its plans: how bad a finding must be to fail, how bad each rule is, and limits.

They stand in `railbond.toml`, or in the table `tool.railbond` of `pyproject.toml`, in the folder of a plan or above it:

    fail-at = "error"
    reach = ["../shared"]

    [rules]
    voltage-drop = "note"

    [limits]
    feeder-spacing = "3 m"

Limits are read as lines of a plan that stand in that file; a plan's own go first. What cannot be understood is told at
its line, like any line of a plan.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache

from railbond.files import Files
from railbond.findings import LEVELS, VEILED, Finding, Level
from railbond.layout.limits import LIMITS
from railbond.usage import near
from trackplan.gather import GatheredPlan
from trackplan.read import Reading, read
from trackplan.record import NamedTuple
from trackplan.span import Source, Span
from trackplan.statements import Broken, Limit
from trackplan.typed import Any, cast

OFF = "off"
KEYS = ("fail-at", "reach", "rules", "limits")


class ClubSettings(NamedTuple):
    """What a club has settled. `reading` holds its limits and what could not be understood, by their places."""

    reading: Reading | None = None
    fail_at: Level | None = None
    levels: Mapping[str, Level | str] = {}
    reach: tuple[str, ...] = ()
    is_outside: Callable[[str], bool] | None = None
    """Whether a file lies outside of where its plan is at home: nothing is repeated of what does not read there."""

    def added_to(self, gathered: GatheredPlan) -> GatheredPlan:
        """A plan with the club's limits, but for those that it sets itself."""
        readings = {path: self._veiled(path, one) for path, one in gathered.readings.items()}
        gathered = gathered._replace(readings=readings)
        if self.reading is None:
            return gathered
        own = {str(one.name) for one in gathered.statements if isinstance(one, Limit)}
        limits = [one for one in self.reading.statements if not isinstance(one, Limit) or one.name not in own]
        path = self.reading.source.path
        return gathered._replace(readings={**gathered.readings, path: self.reading._replace(statements=limits)})

    def _veiled(self, path: str, reading: Reading) -> Reading:
        if not reading.broken or not self.is_outside or not self.is_outside(path):
            return reading
        return reading._replace(broken=[Broken(one.at, VEILED) for one in reading.broken])

    def judged(self, finding: Finding) -> Finding | None:
        """A finding with the level that the club gives it; None where it wants to hear nothing of it."""
        level = self.levels.get(finding.rule, finding.level)
        return None if level == OFF else finding._replace(level=cast(Level, level))


def settings_of(source: Source | None) -> ClubSettings:
    """The settings of a file's text; those of nobody where there is none."""
    return _Reader(source).settings() if source else ClubSettings()


class _Reader:
    def __init__(self, source: Source) -> None:
        self.source = source
        self.broken: list[Broken] = []
        self.limits: list[Limit] = []

    def settings(self) -> ClubSettings:
        table = self._table()
        self._tell_unknown(table, KEYS, "setting")
        fail_at = self._one_of(table, "fail-at", LEVELS)
        levels = dict(self._levels(self._part(table, "rules")))
        for name, value in self._part(table, "limits").items():
            self._limit(name, value)
        reach = table.get("reach", [])
        if not isinstance(reach, list) or not all(isinstance(one, str) for one in reach):
            self._tell("reach", 'expected a list of folders, such as ["../shared"]')
            reach = []
        reading = Reading(self.source, list(self.limits), sorted(self.broken))
        return ClubSettings(reading, cast("Level | None", fail_at), levels, tuple(reach))

    def _table(self) -> dict[str, Any]:
        import tomllib

        try:
            whole = tomllib.loads(self.source.text)
        except tomllib.TOMLDecodeError as error:
            line = re.search(r"at line (\d+)", str(error))
            start = self.source.starts[int(line[1]) - 1 if line else -1]
            self.broken.append(Broken(Span(self.source.path, start, start), f"this is no TOML: {error}"))
            return {}
        is_own = not self.source.path.endswith("pyproject.toml")
        table = whole if is_own else whole.get("tool", {}).get("railbond", {})
        return table if isinstance(table, dict) else {}

    def _part(self, table: dict[str, Any], key: str) -> dict[str, Any]:
        part = table.get(key, {})
        if isinstance(part, dict):
            return part
        self._tell(key, f"expected a table, `[{key}]`")
        return {}

    def _levels(self, table: dict[str, Any]) -> Iterator[tuple[str, str]]:
        from railbond.rules import all_rules

        rules = {rule.name: rule for rule in all_rules()}
        self._tell_unknown(table, rules, "rule")
        for name in table.keys() & rules.keys():
            allowed = LEVELS if rules[name].level == "error" else (*LEVELS, OFF)
            if level := self._one_of(table, name, allowed):
                yield name, level

    def _limit(self, name: str, value: Any) -> None:
        if name not in LIMITS:
            self._tell(name, f"no rule has a limit called `{name}`{near(name, LIMITS)}")
            return
        text = str(value) if isinstance(value, str | int | float) and not isinstance(value, bool) else ""
        found = read(Source("", f"limit {name} {text}"))
        one = found.statements[0] if found.statements and not found.broken else None
        if not isinstance(one, Limit) or not isinstance(one.value, LIMITS[name].kind):
            self._tell(name, f'`{value}` is no value for this limit: expected one as in "{LIMITS[name].example}"')
            return
        from trackplan.edit import put

        at = self._at(name)
        self.limits.append(Limit(at, put(one.name, 0, len(name)), put(one.value, *self._within(at, text))))

    def _within(self, at: Span, text: str) -> tuple[int, int]:
        """Where a value stands in its line, from the line's first place."""
        start = max(self.source.text.find(text, at.start) - at.start, 0)
        return start, start + len(text)

    def _one_of(self, table: dict[str, Any], key: str, allowed: tuple[str, ...]) -> str | None:
        value = table.get(key)
        if value is None or value in allowed:
            return value
        hint = near(value, allowed) if isinstance(value, str) else ""
        self._tell(key, f"`{value}` is no level here: expected {', '.join(allowed)}{hint}")
        return None

    def _tell_unknown(self, table: dict[str, Any], known: Any, what: str) -> None:
        for key in table.keys() - set(known):
            self._tell(key, f"there is no {what} called `{key}`{near(key, known)}")

    def _tell(self, key: str, message: str) -> None:
        self.broken.append(Broken(self._at(key), message))

    def _at(self, key: str) -> Span:
        """Where a key stands: the first line that gives it a value, or a table its name."""
        name = re.escape(key)
        found = re.search(
            rf"""^[ \t]*\[?["']?(?:[\w-]+\.)*({name})\b["']?[ \t]*[=\]].*$""", self.source.text, re.MULTILINE
        )
        start = found.start(1) if found else 0
        return Span(self.source.path, start, found.end() if found else start)


def settings_for(files: Files, plan: str) -> ClubSettings:
    """The settings that count for a plan; what they let plans lead to is within reach of `files` from then on."""
    source = files.settings_file(plan)
    settings = _parsed(source)
    for folder in settings.reach:
        assert source
        files.reach.allow(os.path.join(os.path.dirname(source.path), folder))
    return settings._replace(is_outside=files.reach.is_outside)


@lru_cache(64)
def _parsed(source: Source | None) -> ClubSettings:
    return settings_of(source)


def fails(findings: Iterable[Finding], least: Level) -> bool:
    """Whether a finding is as bad as `least`, or worse."""
    bad = LEVELS[LEVELS.index(least) :]
    return any(finding.level in bad for finding in findings)
