"""Changes the code a little, many times over, and asks whether any test notices.

    python tests/mutation                         100 mutants of circuit, rules, mend and layout
    python tests/mutation --count 400 --seed 7 circuit/power
    python tests/mutation --show                  also prints what each survivor changed

Mutants are drawn at random from all that the operators of cosmic-ray can make of the named rooms; what only changes
an annotation is none. Each runs in a copy of this tree: first the tests of its own room, then, if those notice
nothing, all that are quick. The last line is the share that was caught; status 1 where it is below the goal.
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from mutation.mutants import drawn
from mutation.workplace import Copy

ROOMS = ("circuit", "rules", "mend", "layout")
GOAL = 0.95


def main() -> int:
    parser = ArgumentParser(description="Asks the tests about random changes of the code.")
    parser.add_argument("rooms", nargs="*", default=ROOMS, metavar="ROOM", help="folders of lint/railbond")
    parser.add_argument("--count", type=int, default=100, help="how many mutants (100 unless said)")
    parser.add_argument("--seed", type=int, default=1, help="draws others")
    parser.add_argument("--show", action="store_true", help="print what survivors change")
    options = parser.parse_args()
    caught, asked = 0, 0
    with Copy() as copy:
        for mutant in drawn(copy.path, options.rooms, options.count, options.seed):
            notice = copy.notices(mutant)
            asked, caught = asked + 1, caught + bool(notice)
            print(f"{'caught  ' if notice else 'SURVIVED'} {mutant.words}", flush=True)
            if options.show and not notice:
                print(mutant.difference(copy.path))
    print(f"{caught} of {asked} caught ({caught / max(asked, 1):.1%}; goal {GOAL:.0%})")
    return int(caught < GOAL * asked)


if __name__ == "__main__":
    sys.exit(main())
