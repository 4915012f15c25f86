"""Pieces that are made of the same have one template, and it is that which each would have alone."""

from __future__ import annotations

from random import Random

import pytest

from oracle.plans import random_sound
from railbond.trackwork import kind, template_for
from trackwork.walking import facts_of


@pytest.mark.parametrize("seed", range(6))
def test_a_template_that_is_kept_is_the_pieces_own(seed: int) -> None:
    text = random_sound(Random(seed), 6)
    for piece in facts_of(text).layout.pieces.values():
        cuts = tuple(sorted({(one.offset, "left") for one in piece.template.links}))
        for own in ((), cuts):
            anew = kind(type(piece.statement).__name__).template(piece.statement, (), own)
            assert template_for(piece.statement, (), own) == anew
            assert template_for(piece.statement, (), own) is template_for(piece.statement._replace(name="q"), (), own)
