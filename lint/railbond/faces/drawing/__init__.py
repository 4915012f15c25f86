"""The schematic of a plan.

Track becomes a net (`net`, `skeleton`), the net is laid on the plane (`facing`, `bridges`, `turns`, `apex`, `caps`), in
lanes (`lanes`) and from west to east (`spread`), lanes become lines (`part`, `course`, `scene`), and lines a picture
(`strokes`, `turnouts`, `rails`, `marks`, `names`, `flags`, `legend`, `picture`).
"""
