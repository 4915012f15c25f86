"""A club's repository in a temporary folder, gated by a real pre-commit from a clean clone of this project."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]

SHARED = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
"""
SOUND = """\
include  "club.trackplan"
segment  line  stop -> J    1.5 m
segment  spur  J -> stop    1.5 m
gap      J     both rails
feeder   main -> line
feeder   main -> spur
"""
FAULTY = SOUND.replace("feeder   main -> spur", "feeder   main -> spur  crossed")


def run(folder: Path, *command: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """A command's output, both streams in one."""
    env = {**os.environ, "GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1", **environment}
    env.pop("GIT_DIR", None)
    env.pop("GIT_INDEX_FILE", None)
    return subprocess.run(
        command, cwd=folder, env=env, text=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False
    )


def git(folder: Path, *words: str) -> str:
    """A git command that must succeed."""
    done = run(folder, "git", "-c", "user.name=member", "-c", "user.email=member@example.org", *words)
    assert done.returncode == 0, done.stdout
    return done.stdout


class Club:
    """Its repository, whose commits the hooks named must let pass."""

    def __init__(self, folder: Path, hooks: str) -> None:
        self.folder = folder
        folder.mkdir()
        self.home = str(folder.parent / "hooks")
        git(folder, "init", "-q")
        (folder / ".pre-commit-config.yaml").write_text(hooks)
        self.pre_commit("install")

    def pre_commit(self, *words: str) -> subprocess.CompletedProcess[str]:
        return run(self.folder, sys.executable, "-m", "pre_commit", *words, PRE_COMMIT_HOME=self.home)

    def write(self, **texts: str) -> None:
        """Writes plans, by their names without the ending."""
        for name, text in texts.items():
            (self.folder / f"{name}.trackplan").write_text(text)

    def commit(self, everything: bool = True) -> subprocess.CompletedProcess[str]:
        """Commits everything, or what is staged, if the gate lets it pass."""
        if everything:
            git(self.folder, "add", "-A")
        words = ("-c", "user.name=member", "-c", "user.email=member@example.org", "commit", "-m", "Change plans")
        return run(self.folder, "git", *words, PRE_COMMIT_HOME=self.home)


def clone(into: Path) -> str:
    """A clean clone of this project; the commit that it stands at."""
    git(into.parent, "clone", "-q", "--no-hardlinks", str(TOP), str(into))
    return git(into, "rev-parse", "HEAD").strip()


def hooks(project: Path, revision: str, *names: str) -> str:
    """What a club writes into its `.pre-commit-config.yaml`."""
    listed = "".join(f"      - id: {name}\n" for name in names)
    return f"repos:\n  - repo: {project}\n    rev: {revision}\n    hooks:\n{listed}"
