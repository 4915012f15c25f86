"""The schematic of a plan.

Track becomes a net (`net`, `skeleton`), the net is laid on the plane (`facing`, `bridges`, `turns`, `apex`, `caps`), in
lanes (`lanes`), drawn together (`compact`) and from west to east (`spread`); lanes become lines (`laid_part`, `course`,
`scene`), and lines a picture
(`strokes`, `turnouts`, `rails`, `marks`, `names`, `flags`, `legend`, `picture`).
"""
