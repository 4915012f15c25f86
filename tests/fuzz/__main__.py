"""Tries the program on random plans: `python tests/fuzz [TARGET…]`; without a target, all of them.

  --number N     texts for each target (200 unless said)
  --thorough     the numbers of the thorough profile instead
  --from SEED    the first seed (0 unless said); a seed makes the same text again
  --keep FOLDER  where what fails is written, one text for each kind of failure
  --list         the targets

`pairs` are plans said in two ways, which must have the same findings; `kills` are programs killed while they write.
Exit status 1 when anything failed.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace, RawDescriptionHelpFormatter
from pathlib import Path
from time import perf_counter

TOP = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(TOP / folder) for folder in ("grammar", "lint", "tests")]

THOROUGH = {"reader": 1_000_000, "inspection": 300_000, "pairs": 10_000, "kills": 2_000}
"""The numbers of the thorough profile; every other target has EACH."""
EACH = 20_000


def main() -> int:
    """Tries what is asked for, and tells of each target how many texts failed and how long the longest took."""
    from fuzz.kills import killed
    from fuzz.pairs import paired
    from fuzz.running import Count, Kept, run
    from fuzz.targets import TARGETS
    from fuzz.texts import anything

    options = _options([*TARGETS, "pairs", "kills"])
    kept = Kept(Path(options.keep))
    failed = 0
    for name in options.targets:
        number = THOROUGH.get(name, EACH) if options.thorough else options.number
        seeds, start = range(options.first, options.first + number), perf_counter()
        count: Count
        if name == "pairs":
            count = paired(seeds, kept)
        elif name == "kills":
            count = killed(seeds, kept)
        else:
            count = run(name, TARGETS[name], anything, seeds, kept)
        failed += count.failed
        told = f"{count.tried:>9,} tried {count.failed:>6,} failed, longest {count.longest:6.2f} s"
        at = f"{perf_counter() - start:.0f} s in all, seed {count.slowest} the longest"
        print(f"{name:<32} {told}  ({at})", flush=True)
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
