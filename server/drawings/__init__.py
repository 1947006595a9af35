"""Drawings from facts, as SVG: one function serves the page and the paper.

    elevation.py   a wall unfolded: studs, openings, boxes at their place and height, gaps dimensioned
    plan.py        rooms of a level from above, with the trade's plan symbols
    one_line.py    a circuit from panel to last box
    panel_face.py  a panel's spaces as a directory

Everything is drawn to scale from the same facts that the rules judge. Classes carry the colours on screen; on
paper the same classes are defined inside the drawing, since a page's style sheet does not reach it there.
"""
