"""A meet and its modules, read: each module a book of its own."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from trackplan.book import Book, beside, gather
from trackplan.span import Source
from trackplan.statements import AnyOrder, Broken, Module, where


class Meet(NamedTuple):
    """The meet's own plan, its modules' plans by name, who owns each, and what stood in the way of reading one."""

    book: Book
    modules: dict[str, Book]
    owners: dict[str, str]
    broken: list[Broken]

    @property
    def sources(self) -> dict[str, Source]:
        """Every text, by path."""
        return {path: source for book in (self.book, *self.modules.values()) for path, source in book.sources.items()}

    def without(self, names: set[str]) -> Meet:
        """The meet with some modules left out on the day."""
        return self._replace(modules={name: book for name, book in self.modules.items() if name not in names})

    def module_of(self, path: str, names: tuple[str, ...] = ()) -> str:
        """The module that a finding belongs to: by the first of its names, else by its file; empty: the meet's own."""
        if path in self.book.readings:
            return ""
        for name in names:
            if (module := name.partition(".")[0]) in self.modules and "." in name:
                return module
        return next((name for name, book in self.modules.items() if path in book.readings), "")


def is_meet(book: Book) -> bool:
    """Whether a plan is made of others."""
    return any(isinstance(one, Module | AnyOrder) for one in book.statements)


def read_meet(book: Book, open_text: Callable[[str], str]) -> Meet:
    """Reads the modules of a meet; one that cannot be opened is told as a broken line, and the others are read."""
    modules: dict[str, Book] = {}
    owners: dict[str, str] = {}
    broken: list[Broken] = []
    for module in (one for one in book.statements if isinstance(one, Module)):
        path = beside(module.at.path, module.file)
        try:
            modules.setdefault(str(module.name), gather(path, open_text))
            owners.setdefault(str(module.name), str(module.owner or module.name))
        except FileNotFoundError:
            broken.append(Broken(where(module, module.file), f"there is no file `{path}`"))
        except OSError as error:
            broken.append(Broken(where(module, module.file), f"`{path}` cannot be read: {error.strerror or error}"))
    return Meet(book, modules, owners, broken)
