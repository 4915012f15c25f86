"""What a test needs and may not be there: programs, and packages of an extra."""

from __future__ import annotations

import os
import shutil
from importlib import import_module
from types import ModuleType

import pytest


def program(name: str) -> str:
    """The path of a program. Without it a test is skipped here, and fails where all of them must run."""
    path = shutil.which(name)
    if path:
        return path
    if os.environ.get("CI"):
        pytest.fail(f"{name} is not installed; .ci/run must install it")
    pytest.skip(f"{name} is not installed")


def library(name: str) -> ModuleType:
    """A Python package. Without it a test is skipped here, and fails where all of them must run."""
    try:
        return import_module(name)
    except ImportError:
        if os.environ.get("CI"):
            pytest.fail(f"{name} is not installed; the extra `test` must bring it")
        pytest.skip(f"{name} is not installed")
