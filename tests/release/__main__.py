"""Builds what a release would ship and tries it as a stranger would: `python tests/release`.

Wheel and sdist are each installed into a bare environment of the oldest and of the newest Python of this machine;
there, in a folder with nothing of the checkout, plans are inspected, mended and drawn. Ends with status 1 at the
first thing that is not so.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TESTS))

from release.bare import tried  # noqa: E402
from release.contents import wrong  # noqa: E402
from release.pythons import oldest_and_newest  # noqa: E402


def main() -> int:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        subprocess.run([sys.executable, "-m", "build", "--outdir", folder / "dist", TESTS.parent], check=True,
                       stdout=subprocess.DEVNULL)  # fmt: skip
        (wheel,), (sdist,) = ([*folder.glob(f"dist/{kind}")] for kind in ("*.whl", "*.tar.gz"))
        told = list(wrong(wheel, sdist))
        for python in oldest_and_newest():
            for artifact in (wheel, sdist):
                told += tried(python, artifact, folder / f"{python.name}-{artifact.suffix}")
    print(*(told or ["the release is whole, and its main job runs"]), sep="\n")
    return 1 if told else 0


if __name__ == "__main__":
    sys.exit(main())
