"""Tries the program on random plans: `python tests/fuzz [TARGET…]`; without a target, all of them.

  --number N     texts for each target (200 unless said)
  --thorough     the numbers of the thorough profile instead
  --from SEED    the first seed (0 unless said); a seed makes the same text again
  --keep FOLDER  where what fails is written, one text for each kind of failure, and the tallies: the same call with
                 the same folder goes on where it was broken off
  --list         the targets

`pairs` are plans said in two ways, which must have the same findings; `kills` are programs killed while they write;
`within two seconds` are plans as long as any that must be answered at once, inspected and mended.
Exit status 1 when anything failed.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace, RawDescriptionHelpFormatter
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(TOP / folder) for folder in ("grammar", "lint", "tests")]

THOROUGH = {"reader": 1_000_000, "inspection": 300_000, "pairs": 10_000, "kills": 2_000, "within two seconds": 2_000}
"""The numbers of the thorough profile; every other target has EACH."""
EACH = 20_000


def main() -> int:
    """Tries what is asked for, and tells of each target how many texts failed and how long they took."""
    from fuzz.running import Kept, run
    from fuzz.trying import TRYING

    options = _options([*TRYING])
    kept = Kept(Path(options.keep))
    failed = 0
    for name in options.targets:
        number = THOROUGH.get(name, EACH) if options.thorough else options.number
        tally = run(name, TRYING[name], range(options.first, options.first + number), kept)
        failed += tally.failed
        print(f"{name:<26} {tally}", flush=True)
    for (name, kind), times in sorted(kept.kinds.items(), key=lambda one: -one[1]):
        print(f"{times:>6} x {name}: {kind}")
    return int(failed > 0)


def _options(names: list[str]) -> Namespace:
    parser = ArgumentParser("python tests/fuzz", description=__doc__, formatter_class=RawDescriptionHelpFormatter)
    parser.add_argument("targets", nargs="*", metavar="TARGET", default=names)
    parser.add_argument("--number", type=int, default=200)
    parser.add_argument("--thorough", action="store_true")
    parser.add_argument("--from", dest="first", type=int, default=0)
    parser.add_argument("--keep", default="fuzz-found")
    parser.add_argument("--list", action="store_true")
    options = parser.parse_args()
    if options.list:
        print("\n".join(names))
        sys.exit()
    if unknown := set(options.targets) - set(names):
        parser.error(f"there is no target {', '.join(sorted(unknown))}; --list tells them")
    return options


if __name__ == "__main__":
    sys.exit(main())
