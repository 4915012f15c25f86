"""The bench sheet as CSV (RFC 4180), for a spreadsheet."""

from __future__ import annotations

from io import StringIO

from railbond.bench.ohms import Ohms
from railbond.bench.sheet import Sheet

HEAD = ("number", "points", "one", "other", "must", "ohms", "shows")


def rows(sheet: Sheet, ohms: Ohms) -> str:
    """One row a probe, with the mistakes that it shows."""
    import csv

    text = StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(HEAD)
    number = 0
    for stand in sheet.stands:
        points = ", ".join(f"{switch} {position}" for switch, position in stand.setting.items())
        for probe in stand.probes:
            number += 1
            about = ohms.between(probe.one, probe.other, stand.setting) if probe.beeps else None
            shows = [one.words for index, one in enumerate(sheet.mistakes) if sheet.bench.shows(probe, index)]
            ends = sheet.points.name[probe.one], sheet.points.name[probe.other]
            must = "beep" if probe.beeps else "silent"
            writer.writerow((number, points, *ends, must, "" if about is None else f"{about:.3f}", "; ".join(shows)))
    return text.getvalue()
