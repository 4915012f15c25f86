"""What a wheel and an sdist must hold, and must not."""

from __future__ import annotations

import email
import tarfile
import zipfile
from collections.abc import Iterator
from pathlib import Path

IN_WHEEL = (
    "railbond/LICENSE", "railbond/py.typed", "trackplan/py.typed", "trackplan/made.py", "trackplan/plan.lark",
    "trackplan/colors/trackplan.tmLanguage.json", "trackplan/colors/vim/syntax/trackplan.vim",
    "trackplan/colors/kate/trackplan.xml", "railbond/faces/page/page.html",
    "railbond/beginnings/oval.trackplan",
)  # fmt: skip
IN_SDIST = (
    "README.md", "DEVELOPERS.md", "PKG-INFO", "lint/CHANGES.md", "lint/railbond/LICENSE", "grammar/build_tables.py",
    "grammar/trackplan/plan.lark", "grammar/trackplan/colors/vim/syntax/trackplan.vim", "tests/conftest.py",
    "tests/house/unnamed.txt", "example_plans", ".pre-commit-hooks.yaml",
)  # fmt: skip
METADATA = {
    "Name": "railbond", "Author": "The railbond developers", "License-Expression": "MIT", "Requires-Python": ">=3.11",
}  # fmt: skip


def wrong(wheel: Path, sdist: Path) -> Iterator[str]:
    """What is missing in them, too much, or said otherwise."""
    with zipfile.ZipFile(wheel) as packed:
        names = packed.namelist()
        (about,) = (packed.read(name).decode() for name in names if name.endswith(".dist-info/METADATA"))
    with tarfile.open(sdist) as tarred:
        sources = [name.partition("/")[2] for name in tarred.getnames()]
    yield from (f"{wheel.name} lacks {name}" for name in IN_WHEEL if name not in names)
    yield from (f"{sdist.name} lacks {name}" for name in IN_SDIST if not any(one.startswith(name) for one in sources))
    yield from (f"{wheel.name} holds {name}" for name in names if name.split("/")[0] in ("tests", "grammar", "lint"))
    yield from (f"{sdist.name} holds {name}" for name in sources if name.endswith((".pyc", "/made.py")))
    yield from mistold(about)


def mistold(about: str) -> Iterator[str]:
    told = email.message_from_string(about)
    yield from (f"{key} is {told[key]}" for key, value in METADATA.items() if told[key] != value)
    yield from (f"the metadata have no {key}" for key in ("Classifier", "Keywords", "License-File") if not told[key])
