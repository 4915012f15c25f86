"""Programs that a test needs beside Python's packages."""

from __future__ import annotations

import os
import shutil

import pytest


def program(name: str) -> str:
    """The path of a program. Without it a test is skipped here, and fails where all of them must run."""
    path = shutil.which(name)
    if path:
        return path
    if os.environ.get("CI"):
        pytest.fail(f"{name} is not installed; .ci/run must install it")
    pytest.skip(f"{name} is not installed")
