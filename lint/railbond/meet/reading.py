"""A meet and its modules, read: each module a plan of its own."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from trackplan.gather import GatheredPlan, beside, gather
from trackplan.span import Source, Word
from trackplan.statements import Broken, Module, where

OpenText = Callable[[str], str]
GatherPlan = Callable[[str, OpenText], GatheredPlan]
"""How the plan at a path is gathered, by how texts are opened."""


class Meet(NamedTuple):
    """The meet's own plan, its modules' plans by name, who owns each, and what stood in the way of reading one."""

    gathered: GatheredPlan
    modules: dict[str, GatheredPlan]
    owners: dict[str, str]
    broken: list[Broken]

    @property
    def sources(self) -> dict[str, Source]:
        """Every text, by path."""
        return {
            path: source
            for gathered in (self.gathered, *self.modules.values())
            for path, source in gathered.sources.items()
        }

    def without(self, names: set[str]) -> Meet:
        """The meet with some modules left out on the day."""
        return self._replace(modules={name: gathered for name, gathered in self.modules.items() if name not in names})

    def module_of(self, path: str, names: tuple[str, ...] = ()) -> str:
        """The module that a finding belongs to: by the first of its names, else by its file; empty: the meet's own."""
        if path in self.gathered.readings:
            return ""
        for name in names:
            if (module := name.partition(".")[0]) in self.modules and "." in name:
                return module
        return next((name for name, gathered in self.modules.items() if path in gathered.readings), "")


def _opens(path: str, open_text: Callable[[str], str]) -> bool:
    """Whether there is such a file, and it may be read."""
    try:
        open_text(path)
    except OSError:
        return False
    return True


def read_meet(
    gathered: GatheredPlan,
    open_text: OpenText,
    gather_plan: GatherPlan = gather,
) -> Meet:
    """Reads the modules of a meet; one that cannot be opened is told as a broken line, and the others are read."""
    modules: dict[str, GatheredPlan] = {}
    owners: dict[str, str] = {}
    broken: list[Broken] = []
    for module in (one for one in gathered.statements if isinstance(one, Module)):
        path = beside(module.at.path, module.file)
        try:
            modules.setdefault(str(module.name), gather_plan(path, open_text))
            owners.setdefault(str(module.name), str(module.owner or module.name))
        except FileNotFoundError:
            meant = f'"{module.name}.trackplan"'
            known = _opens(beside(module.at.path, Word(meant.strip('"'))), open_text)
            broken.append(Broken(where(module, module.file), f"there is no file `{path}`", meant if known else None))
        except OSError as error:
            broken.append(Broken(where(module, module.file), f"`{path}` cannot be read: {error.strerror or error}"))
    return Meet(gathered, modules, owners, broken)
