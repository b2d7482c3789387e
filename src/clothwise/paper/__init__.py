"""Paper: pieces in true size on any sheet, scale proved on every one.

pens, drawing, font   what is drawn, with which pens and letters; knows no paper
caption, room, piece  one piece with its lines and its words
sheets, grid, tiles   sheets of paper, the grid they make, joins and names
plane, arrange        pieces laid on few sheets
squares, cover        proof of scale on every sheet; the first sheet with the page map
pdf, svg              the writers
pattern               the way in: a garment's pattern as PDF or SVG
"""

from clothwise.paper.drawing import Drawing, Fill, Stroke, Words
from clothwise.paper.pattern import Printed, pattern_pdf, pattern_svg, print_pattern
from clothwise.paper.sheets import SIZES, Sheet, sheet

__all__ = [
    "SIZES",
    "Drawing",
    "Fill",
    "Printed",
    "Sheet",
    "Stroke",
    "Words",
    "pattern_pdf",
    "pattern_svg",
    "print_pattern",
    "sheet",
]
