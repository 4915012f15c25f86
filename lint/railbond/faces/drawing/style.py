"""How the schematic looks, on light and on dark ground.

A rail shows what it carries twice, by color and by the pattern along its middle, so that it can be told without
either. The colors are those of rust and slate, and each stands at least 3 to 1 against its ground (WCAG 2, 1.4.11).
"""

from __future__ import annotations

from collections.abc import Iterator
from re import findall, sub

LIGHT = {
    "paper": "#fcfbf8", "words": "#23292f", "quiet": "#56606a", "faint": "#707a84",
    "one": "#c8370a", "two": "#1f2d3d", "turns-one": "#8a2a9b", "turns-two": "#00695f",
    "either": "#7a6a00", "unit": "#2266bb", "dead": "#6c757e", "short": "#e00034",
    "core": "#fcfbf8", "error": "#b3001e", "warning": "#b36200", "note": "#2457a8", "flagged": "#ffffff",
    "tint1": "#ffe9c7", "tint2": "#d5e8f7", "tint3": "#dcefd3", "tint4": "#eadcf3", "tint5": "#fbdcdc",
    "tint6": "#d3eeec", "name1": "#7d5200", "name2": "#11568a", "name3": "#2f6415", "name4": "#6b3590",
    "name5": "#94303a", "name6": "#0b625c",
}  # fmt: skip
DARK = {
    "paper": "#14181d", "words": "#eef1f4", "quiet": "#aab4be", "faint": "#84909c",
    "one": "#ff7d4d", "two": "#dfe8f1", "turns-one": "#d98cf0", "turns-two": "#4fd3c2",
    "either": "#e3cd4b", "unit": "#7db4ff", "dead": "#a3aeb8", "short": "#ff4d6d",
    "core": "#14181d", "error": "#ff8095", "warning": "#ffb648", "note": "#8ab8ff", "flagged": "#14181d",
    "tint1": "#40321a", "tint2": "#1b3447", "tint3": "#24381c", "tint4": "#37274a", "tint5": "#472629",
    "tint6": "#163a38", "name1": "#ffd38a", "name2": "#9fd2ff", "name3": "#b4e39a", "name4": "#dcb8f7",
    "name5": "#ffb3b8", "name6": "#8fe3dc",
}  # fmt: skip
TINTS = 6

RULES = """\
.rb{font-family:"DejaVu Sans",Verdana,sans-serif}
.rb text{fill:var(--words)}
.rb path{fill:none;stroke-linejoin:round}
.rb .ground{fill:var(--paper)}
.rb .band{stroke-width:30;stroke-linecap:butt}
.rb .rail{stroke-width:4.2}
.rb .frog{stroke-width:6.4}
.rb .core{stroke:var(--core)}
.rb .rail-core{stroke-width:1.5}.rb .frog-core{stroke-width:2.6}
.rb .core.turns-one{stroke-dasharray:1.6 6}
.rb .core.turns-two{stroke-dasharray:9 4}
.rb .core.either{stroke-dasharray:4 4}
.rb .core.unit{stroke-dasharray:1.6 2.4}
.rb .core.short{stroke-dasharray:2 2}
.rb .rail.dead{stroke-width:2.6;stroke-dasharray:1.5 3.5}
.rb .rail.short,.rb .frog.short{stroke-width:7}.rb .core.short{stroke-width:3.4;stroke-dasharray:5 4}
.rb .plastic{stroke:var(--faint);stroke-width:3;stroke-dasharray:1 2}
.rb .cut{stroke:var(--words);stroke-width:1.8}
.rb .joint{stroke:var(--faint);stroke-width:1}
.rb .coupling{stroke:var(--words);stroke-width:3;stroke-dasharray:2 3}
.rb .module{font-size:17px;font-weight:700;fill:var(--quiet)}
.rb .pit{fill:none;stroke:var(--quiet);stroke-width:2}
.rb .ring{fill:none;stroke:var(--quiet);stroke-width:1.2}
.rb .split{stroke:var(--words);stroke-width:3}
.rb .lamp{fill:var(--paper);stroke:var(--words);stroke-width:1.5}
.rb .lamp-cross,.rb .lamp-wire{stroke:var(--words);stroke-width:1.2}
.rb .name-line{stroke:var(--quiet);stroke-width:1}
.rb .buffer{stroke:var(--words);stroke-width:4}
.rb .loose{stroke:var(--error);stroke-width:3;stroke-dasharray:3 3}
.rb .edge{stroke:var(--words);stroke-width:2.2}
.rb .wire{stroke-width:1.7}
.rb .frog-wire{stroke:var(--quiet);stroke-width:1.2}
.rb .frog-dot{fill:var(--quiet)}
.rb .supply,.rb .frog-feed,.rb .plate{fill:var(--paper);stroke:var(--quiet);stroke-width:1.2}
.rb .frog-feed{stroke-dasharray:3 2}
.rb .plate{stroke:var(--words);stroke-width:1.8}
.rb .fold{fill:var(--words);stroke:var(--words);stroke-width:1}
.rb .fold-words{fill:var(--paper);font-size:11px;font-weight:700}
.rb .supply-words,.rb .plate-words{font-size:11px;font-weight:600}
.rb .frog-feed-words{font-size:10px}
.rb .name{font-size:13px;fill:var(--words)}
.rb .turnout{font-size:13px;font-weight:700}
.rb .district{font-size:12px;font-style:italic;font-weight:600}
.rb .title{font-size:20px;font-weight:700}
.rb .setting{font-size:14px;fill:var(--quiet)}
.rb .said{font-size:12px}
.rb .where{font-size:12px;fill:var(--quiet)}
.rb .parapet{stroke:var(--words);stroke-width:2.2}
.rb .flag path{fill:var(--error)}
.rb .flag.warning path{fill:var(--warning)}.rb .flag.note path{fill:var(--note)}
.rb text.number{fill:var(--flagged);font-size:12px;font-weight:700}
.rb .burst{fill:none;stroke:var(--short);stroke-width:8}
.rb .burst-core{fill:none;stroke:var(--core);stroke-width:3.6;stroke-dasharray:5 4}
.rb .leader{stroke:var(--error);stroke-width:1.4}.rb .spot{fill:var(--error)}
.rb .leader.warning{stroke:var(--warning)}.rb .spot.warning{fill:var(--warning)}
.rb .bare{stroke:var(--quiet)}.rb .probe{fill:var(--error)}
.rb .sheet-rule{stroke:var(--words);stroke-width:.35}
.rb .sheet-edge{stroke:var(--quiet);stroke-width:.2;stroke-dasharray:1.5 1.5}
.rb text.sheet-title{font-weight:700}
.rb .leader.note{stroke:var(--note)}.rb .spot.note{fill:var(--note)}
"""
INKED = ("one", "two", "turns-one", "turns-two", "either", "unit", "dead", "short")


SIZES = {kind: float(size) for kind, size in findall(r"\.rb (?:text)?\.([a-z-]+)\{[^}]*font-size:(\d+)px", RULES)}
"""How high the letters of each kind of text are."""
SIZES |= {kind: 11.0 for kind in ("supply-words", "plate-words", "fold-words")}
VARIABLE = r"var\(--([\w-]+)\)"
MIDDLE = 0.36
"""How far below its middle the baseline of text lies, as a share of its height."""


def style(dark: bool = True) -> str:
    """The style sheet, in literal colors, which every viewer knows: light, dark where the reader's screen is, and
    light again on paper."""
    inks = "".join(
        f".rb .rail.{ink},.rb .frog.{ink},.rb .wire.{ink}{{stroke:var(--{ink})}}"
        f".rb .solder.{ink}{{fill:var(--{ink})}}\n"
        for ink in INKED
    )
    tints = "".join(
        f".rb .tint{n}{{stroke:var(--tint{n})}}.rb .district.name{n}{{fill:var(--name{n})}}\n"
        for n in range(1, TINTS + 1)
    )
    rules = f"{RULES}{inks}{tints}"
    light = sub(VARIABLE, lambda name: LIGHT[name[1]], rules)
    return light + (f"@media screen and (prefers-color-scheme:dark){{{''.join(_dark(rules))}}}" if dark else "")


def _dark(rules: str) -> Iterator[str]:
    """The rules that have a color, with that of the dark scheme."""
    for selector, body in findall(r"([^{}]+)\{([^}]*)\}", rules):
        colored = ";".join(one for one in body.split(";") if "var(" in one)
        if colored:
            yield f"{selector.strip()}{{{sub(VARIABLE, lambda name: DARK[name[1]], colored)}}}"
