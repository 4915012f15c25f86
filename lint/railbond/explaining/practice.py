"""How likely each slip of a hand is: a table of common practice, not of measurement.

Plans and railroads go wrong in few ways, and some of them far more often than others. `weight` orders them: the
likelier slip is taken for the cause where two explain the same. The figures are judgment (no source gives any); their
order is what club members who look for faults would agree with. `words` say what the slip is, for whoever reads the
table.
"""

from __future__ import annotations

from trackplan.record import NamedTuple

EARLIER = 0.5
"""How much further off the earlier of two lines is that say one thing twice: who copies mostly errs in the copy."""


class Practice(NamedTuple):
    """One kind of slip: the greater its weight, the likelier."""

    weight: float
    words: str


LIKELY: dict[str, Practice] = {
    "uncrossed": Practice(9.5, "a `crossed` that is one too many: the two wires are swapped, and said to be"),
    "arrow": Practice(9.2, "a segment written against its arrow: every pair of wires to it, two at least, is swapped"),
    "swapped": Practice(9.0, "the two wires of a drop are swapped: nothing is easier at a track of two like rails"),
    "contacts": Practice(9.0, "the two wires at a frog's contacts are swapped"),
    "one rail": Practice(8.8, "one of two rails was cut and the other forgotten"),
    "drop": Practice(8.6, "a stretch between gaps has no drop: it was forgotten"),
    "half": Practice(9.5, "both at once: a stretch has no drop, and is cut in one rail only where all else is in both"),
    "run": Practice(8.5, "a bus run is crossed at a terminal"),
    "terminal": Practice(8.1, "a drop was soldered to another terminal nearby"),
    "idle cut": Practice(8.9, "the other rail was cut than should be: the cut that is there parts nothing"),
    "rail": Practice(7.8, "the other rail was cut, or the single wire soldered to the other rail"),
    "boundary": Practice(8.2, "a cut was forgotten at a joint where plain track ends for no other reason"),
    "gap": Practice(7.6, "a cut was forgotten"),
    "wrong end": Practice(8.35, "a cut was made at the wrong end of a piece"),
    "legs": Practice(9.3, "a turnout was cut once at its points, and not at both legs"),
    "one too far": Practice(8.3, "a cut was made one piece too far"),
    "contact": Practice(7.2, "a frog's contacts or its unit hang on another supply"),
    "bond": Practice(7.0, "closure rails were not soldered to their stock rails"),
    "jumpers": Practice(7.0, "the jumpers under a live frog were not cut"),
    "frog": Practice(6.8, "a frog of metal was not wired"),
    "mover": Practice(6.8, "a frog's contacts are moved by other points than were meant"),
    "common": Practice(6.8, "a common return was taken for granted and is not in the plan"),
    "unit": Practice(6.6, "a number with another unit than was meant, or a digit too many"),
    "name": Practice(9.6, "a name that nothing bears is one letter off another"),
    "end": Practice(9.3, "track is joined to another end of a piece than was meant, where some end meets nothing"),
    "misspelled": Practice(9.4, "a word of the plan that is nearly the one that was meant"),
    "copied": Practice(9.2, "a line was copied, and the name in it not changed: one has two, its like none"),
    "letter": Practice(7.9, "a name that is one letter off is another one's name"),
    "hand": Practice(6.4, "a turnout of the other hand"),
    "arms": Practice(6.4, "the two arms of a wye, or routes of a turnout, are confused"),
    "build": Practice(6.7, "a turnout of another build than all the rest"),
    "side": Practice(9.1, "a track to a transfer table is told of the other side than its like"),
    "split": Practice(6.2, "a turntable's ring is split at another angle"),
    "stray": Practice(8.2, "a single wire that belongs nowhere"),
    "lone": Practice(8.8, "the same, beside a pair to the same track and without a fellow at the other rail"),
    "on frog": Practice(8.9, "a single wire was soldered to a rail that is one metal with a frog, not behind it"),
    "wrong half": Practice(8.3, "a drop was soldered on the wrong side of a cut within its segment"),
    "cut past": Practice(8.5, "a cut within a segment was made on the wrong side of a drop"),
    "run forgotten": Practice(9.25, "a terminal is named, and the bus run to it was forgotten"),
    "block forgotten": Practice(9.25, "a block is named where its run begins, and its own line was forgotten"),
    "source": Practice(7.2, "a bus run begins at another supply"),
    "exchanged": Practice(8.5, "two plugs of one module are exchanged"),
    "crosswise": Practice(9.3, "two tracks of one edge are coupled crosswise"),
    "promise": Practice(5.0, "a module's edge promises the other leg"),
    "other end": Practice(8.7, "a module is coupled by its other end"),
    "turned": Practice(9.3, "a module is turned end for end"),
    "toggle": Practice(6.7, "a block without the toggle that all other blocks have"),
    "district": Practice(5.0, "a block or reverser is in another district"),
    "track": Practice(5.6, "a drop was soldered to other track"),
    "off": Practice(3.0, "a pair of wires that belongs nowhere"),
    "cut": Practice(3.0, "a cut too many"),
    "listed": Practice(6.6, "what a rule proposes, and no slip in this table is"),
}

FARTHER = 0.15
"""What each step further away takes from a weight: a slip is made nearby."""

MORE_LINES = 0.7
"""What each further line takes from it: one slip of the hand is mostly one line."""
