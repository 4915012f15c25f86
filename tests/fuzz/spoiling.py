"""What becomes of a plan's text under hands and bad disks."""

from __future__ import annotations

import re
from collections.abc import Callable
from random import Random

Other = Callable[[], str]

ODD = "\0\x07\x1b\u200f\u202e\u00a0\u2028\ufeff\ufffd\x85é½—“”'\"#\\%.,;()<>&\t\r\n "
UNITS = ["mm", "cm", "m", "in", "ft", "AWG", "mm2", "V", "A", "mA", "degrees", "%", "ohm", "mohm", "s"]
VALUES = ["0", "-1", "0.0000001", "1", "2", "10000", "1e9", "999999999999", "1/2", "00", "0x10", "½"]
TOKEN = re.compile(r'"[^"\n]*"|[^\s"]+')
NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")


def line_gone(text: str, dice: Random, other: Other) -> str:
    lines = text.split("\n")
    del lines[dice.randrange(len(lines))]
    return "\n".join(lines)


def line_twice(text: str, dice: Random, other: Other) -> str:
    lines = text.split("\n")
    lines.insert(dice.randrange(len(lines) + 1), dice.choice(lines))
    return "\n".join(lines)


def lines_swapped(text: str, dice: Random, other: Other) -> str:
    lines = text.split("\n")
    one, two = dice.randrange(len(lines)), dice.randrange(len(lines))
    lines[one], lines[two] = lines[two], lines[one]
    return "\n".join(lines)


def line_of_another(text: str, dice: Random, other: Other) -> str:
    lines = text.split("\n")
    lines.insert(dice.randrange(len(lines) + 1), dice.choice(other().split("\n")))
    return "\n".join(lines)


def word_for_word(text: str, dice: Random, other: Other) -> str:
    """A word of the plan, or of another, in the place of one."""
    words = list(TOKEN.finditer(text))
    if not words:
        return text
    pool = TOKEN.findall(text if dice.random() < 0.7 else other()) or ["x"]
    at = dice.choice(words)
    return text[: at.start()] + dice.choice(pool) + text[at.end() :]


def word_gone(text: str, dice: Random, other: Other) -> str:
    words = list(TOKEN.finditer(text))
    if not words:
        return text
    at = dice.choice(words)
    return text[: at.start()] + text[at.end() :]


def number_changed(text: str, dice: Random, other: Other) -> str:
    """Zeros too many, a decimal point gone, nothing at all."""
    numbers = list(NUMBER.finditer(text))
    if not numbers:
        return text
    at = dice.choice(numbers)
    new = dice.choice((*VALUES, at[0] + "000", at[0].replace(".", ""), "0." + at[0].replace(".", "")))
    return text[: at.start()] + new + text[at.end() :]


def unit_changed(text: str, dice: Random, other: Other) -> str:
    units = list(re.finditer(r"(?<=\d )(?:{})\b".format("|".join(UNITS)), text))
    if not units:
        return text
    at = dice.choice(units)
    return text[: at.start()] + dice.choice(UNITS) + text[at.end() :]


def odd_character(text: str, dice: Random, other: Other) -> str:
    at = dice.randrange(len(text) + 1)
    return text[:at] + dice.choice(ODD) + text[at + dice.randint(0, 1) :]


def cut_short(text: str, dice: Random, other: Other) -> str:
    return text[: dice.randrange(len(text) + 1)]


def spliced(text: str, dice: Random, other: Other) -> str:
    more = other()
    return text[: dice.randrange(len(text) + 1)] + more[dice.randrange(len(more) + 1) :]


def bytes_lost(text: str, dice: Random, other: Other) -> str:
    data = bytearray(text.encode("utf-8", "surrogatepass"))
    for _ in range(min(len(data), dice.randint(1, 4))):
        data[dice.randrange(len(data))] = dice.randrange(256)
    return data.decode("utf-8", "replace")


def other_line_ends(text: str, dice: Random, other: Other) -> str:
    return text.replace("\n", dice.choice(("\r\n", "\r", "\n\n", "\n  ")))


WAYS = (
    line_gone, line_gone, line_twice, lines_swapped, line_of_another, word_for_word, word_for_word, word_for_word,
    word_gone, number_changed, number_changed, unit_changed, odd_character, cut_short, spliced, bytes_lost,
    other_line_ends,
)  # fmt: skip


def spoilt(text: str, dice: Random, other: Other, most: int = 5) -> str:
    """The text after a few mishaps; `other` gives some other plan's text."""
    for _ in range(dice.randint(1, most)):
        text = dice.choice(WAYS)(text, dice, other)
    return text[:20_000]
