"""The names of a plan: which statement defines which, and what is said of a name that none defines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice

from railbond.findings import Step
from trackplan.quantities import Quantity
from trackplan.span import Word
from trackplan.statements import Bus, Engine, Limit, Statement, Train, where
from trackplan.typed import TYPE_CHECKING

from .model import Fault

if TYPE_CHECKING:
    from trackplan.edit import Edit

PATIENCE = 100_000
"""Names looked at for near ones before no more are suggested: a plan full of faults stays a second's work."""

NEAR = 0.7
"""How alike two words must be, from 0 to 1 as difflib counts, for one to be a misspelling of the other."""

SPACES: dict[type, str] = {Engine: "running", Train: "running", Limit: "limits"}
"""Engines and trains have names of their own, and so have limits; everything else shares one name space."""


class Names:
    """Who defines which name, and the faults told so far.

    `missing` holds words of lines that could not be read, or that were set aside: what such a line would have
    said is not known, so nothing is told of a name that it holds. A name told as unknown joins them.
    """

    def __init__(self, missing: Iterable[str], prefix: str) -> None:
        self.prefix = prefix
        self.missing = {self.whole(word) for word in missing}
        self.defined: dict[str, Statement] = {}
        self.others: dict[str, Statement] = {}
        self.faults: list[Fault] = []
        self._patience = PATIENCE

    def whole(self, word: str) -> str:
        return self.prefix + word

    def typed(self, whole: str) -> str:
        return whole.removeprefix(self.prefix)

    def fault(
        self,
        rule: str,
        statement: Statement,
        part: Word | Quantity | None,
        message: str,
        mend: str = "",
        edits: tuple[Edit, ...] = (),
        why: tuple[Step, ...] = (),
        name: str = "",
        lacks: str = "",
    ) -> None:
        """Tells a fault at a part of a statement; it can be accepted at `name` or that part."""
        main = name or (part if isinstance(part, Word) else "")
        names = [*_owners(main), *_owners(getattr(statement, "name", ""))]
        at = where(statement, part)
        self.faults.append(Fault(rule, at, message, tuple(dict.fromkeys(names)), mend, edits, why, lacks))

    def declare(self, statement: Statement, name: Word) -> bool:
        """Gives a name to the statement that defines it. The first one stands; False for any other."""
        space = SPACES.get(type(statement))
        if space:
            first = self.others.setdefault(f"{space} {name}", statement)
        else:
            first = self.defined.setdefault(self.whole(name), statement)
        if first is statement:
            return True
        self.taken(statement, name, first)
        self.set_aside(statement)
        return False

    def set_aside(self, statement: Statement) -> None:
        """Leaves a statement out, told already: whatever it names counts as spoken for."""
        self.missing.update(self.whole(word) for word in _words(statement))

    def taken(self, statement: Statement, name: Word, first: Statement, hint: str = "; the first one stands") -> None:
        """Tells that a name is already somebody else's."""
        message = f"`{name}` is already the name of {called(first)}{hint}"
        why = (_defined(first, name),)
        self.fault("name-used-twice", statement, name, message, "give one of the two another name", why=why)

    def find(self, statement: Statement, word: Word, symbols: tuple[type, ...], what: str) -> str | None:
        """The whole name of a `what` defined by one of `kinds`; else a fault, and the near name."""
        whole = self.whole(word)
        if isinstance(self.defined.get(whole), symbols):
            return whole
        return self.unknown(statement, word, whole, what, self.of(*symbols))

    def of(self, *symbols: type) -> Iterator[str]:
        """The names that statements of these kinds define, in the plan's order."""
        return (name for name, statement in self.defined.items() if isinstance(statement, symbols))

    def unknown(
        self, statement: Statement, word: Word, whole: str, what: str, pool: Iterable[str], tail: str = ""
    ) -> str | None:
        """Tells that no `what` is called `whole`, and gives the one of `pool` that was probably meant.

        `tail` is what `word` says after the name. A name that nobody defines is told once.
        """
        if self.silent(whole):
            return None
        typed, other = self.typed(whole), self.defined.get(whole)
        if other:
            message = f"`{typed}` is {called(other)}, not a {what}"
            self.fault("unknown-name", statement, word, message, why=(_defined(other, typed),))
            return None
        near = self.near(whole, pool)
        self.misspelled(statement, word, f"no {what} is called `{typed}`", near, tail, what)
        if near is None:
            self.missing.add(whole)
        return near

    def misspelled(
        self, statement: Statement, word: Word, message: str, near: str | None, tail: str = "", lacks: str = ""
    ) -> None:
        """Tells an unknown name, with the near one and the edit that puts it there."""
        if near is None:
            self.fault("unknown-name", statement, word, message, lacks=lacks)
            return
        from trackplan.amend import set_word

        meant = self.typed(near) + tail
        edits = (set_word(statement, word, meant),)
        message = f"{message}; did you mean `{meant}`?"
        self.fault("unknown-name", statement, word, message, f"write `{meant}` here", edits, lacks=lacks)

    def silent(self, whole: str) -> bool:
        """Whether a line that was not understood may have said more of this name, its piece or its module."""
        return any(word in self.missing for word in _owners(whole))

    def near(self, word: str, pool: Iterable[str]) -> str | None:
        """The one name of `pool` that `word` seems to misspell; None where none does, or two as likely.

        A number is never a misspelling: `T11` is another turnout than `T12`, however alike they look. What a module
        is called makes none of its names alike.
        """
        looked = list(islice(pool, self._patience))
        self._patience -= len(looked)
        fold = self.typed(word).casefold()
        folded = {self.typed(name).casefold(): name for name in looked if name != word}
        alike = {low: name for low, name in folded.items() if _may_misspell(fold, low)}
        return _nearest(fold, alike) if alike else None


def begun(word: str, known: Iterable[str]) -> str | None:
    """The one known word that begins so: `red` for `r`."""
    found = [one for one in known if one.casefold().startswith(word.casefold())]
    return found[0] if len(found) == 1 else None


def called(statement: Statement) -> str:
    """`a turnout`, `an endplate`: what a name stands for."""
    kind = "bus terminal" if isinstance(statement, Bus) else _words_of(type(statement).__name__)
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"


def _words_of(name: str) -> str:
    """`three-way` of `ThreeWay`."""
    return "".join(f"-{letter}" if letter.isupper() else letter for letter in name[0].lower() + name[1:]).lower()


def listed(words: Iterable[str], link: str = "and") -> str:
    """`a`, `b` and `c`, each quoted."""
    *most, last = [f"`{word}`" for word in words] or ["none"]
    return f"{', '.join(most)} {link} {last}" if most else last


def _defined(statement: Statement, name: str) -> Step:
    part = statement.terminal if isinstance(statement, Bus) else getattr(statement, "name", None)
    return Step(where(statement, part), f"`{name}` is {called(statement)} here")


def _owners(word: str) -> Iterator[str]:
    """A dotted name and all that it belongs to: `T1.through`, then `T1`."""
    while word:
        yield str(word)
        word = word.rpartition(".")[0]


def _nearest(fold: str, alike: dict[str, str]) -> str | None:
    from difflib import SequenceMatcher, get_close_matches

    close = get_close_matches(fold, alike, n=2, cutoff=NEAR)
    if len(close) == 2 and len({SequenceMatcher(None, one, fold).ratio() for one in close}) == 1:
        close = [one for one in close if sorted(one) == sorted(fold)]  # two letters the wrong way round
    return alike[close[0]] if close else None


def _may_misspell(word: str, name: str) -> bool:
    """A quick look, so that difflib is loaded and asked for few: about as long, and with the same digits."""
    return abs(len(word) - len(name)) <= len(word) // 2 and _digits(word) == _digits(name)


def _digits(word: str) -> str:
    return "".join(filter(str.isdigit, word))


def _words(statement: Statement) -> Iterator[Word]:
    """Every name, keyword and text of a statement."""
    for part in statement:
        yield from (one for one in (part if isinstance(part, tuple) else (part,)) if isinstance(one, Word))
