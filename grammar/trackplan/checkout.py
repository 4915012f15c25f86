"""Whether this package runs from a checkout, where what is made of plan.lark may be made anew. An installed package
writes nothing beside itself."""

from __future__ import annotations

from os import path

HERE = path.dirname(path.abspath(__file__))
IN_CHECKOUT = path.exists(path.join(HERE, "..", "..", "pyproject.toml"))
REFUSED = "this is an installed package: what is made of plan.lark was made when it was built; nothing is written"
