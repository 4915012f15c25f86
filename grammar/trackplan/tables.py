"""The parse tables of plan.lark. They are made by generate.py when the package is built, and are no part of the
repository; a checkout, installed or not, makes them when the grammar or the generator is newer than they are."""

from __future__ import annotations

from os import path

from .checkout import HERE, IN_CHECKOUT


def outdated() -> bool:
    """Whether what the tables are made of is newer, or they are missing."""
    made, *sources = (path.join(HERE, name) for name in ("made.py", "plan.lark", "generate.py"))
    return not path.exists(made) or path.getmtime(made) < max(map(path.getmtime, sources))


def renew() -> None:
    """Makes them. Raises ImportError, with what to do, where there is no Lark."""
    from importlib import invalidate_caches

    from .generate import make

    try:
        make()
    except ModuleNotFoundError as error:
        told = "the tables of plan.lark are missing, or older than it"
        raise ImportError(f"{told}: `pip install -e .` makes them, or `pip install lark` and start again") from error
    invalidate_caches()


if IN_CHECKOUT and outdated():
    renew()

from .made import KEYWORDS as KEYWORDS  # noqa: E402
from .made import PATTERN as PATTERN  # noqa: E402
from .made import RULES as RULES  # noqa: E402
from .made import STATES as STATES  # noqa: E402
from .made import TERMINALS as TERMINALS  # noqa: E402
