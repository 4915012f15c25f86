"""What a folder of the program holds: rules, kinds of trackwork and commands are found by being there.

The standard library's `pkgutil` does the same, but loads half a dozen modules that nothing else needs.
"""

from __future__ import annotations

import os
from collections.abc import Iterable


def names(folders: Iterable[str]) -> list[str]:
    """The names of the modules in a package's folders (its `__path__`), but for those that begin with `_`."""
    files = {file for folder in folders for file in os.listdir(folder)}
    return sorted(file[:-3] for file in files if file.endswith(".py") and not file.startswith("_"))
