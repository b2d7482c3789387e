"""Changing a drawn garment: pieces altered, seams still matching, said in words; nothing unsound handed out."""

from clothwise.alter.added import faced, lined, pocketed
from clothwise.alter.buttons import buttoned
from clothwise.alter.change import Change, change_of, changed
from clothwise.alter.cut import cut_in_two, panelled, yoked
from clothwise.alter.darts import dart_let_out, dart_moved, dart_parted
from clothwise.alter.figure import FIGURE_CHANGES, FigureChange, figured
from clothwise.alter.length import lengthened, wedged
from clothwise.alter.move import seam_moved
from clothwise.alter.pleats import pleated
from clothwise.alter.sides import apart
from clothwise.alter.tucks import tucked
from clothwise.alter.two_sides import of_two
from clothwise.alter.widen import flared, gathered

__all__ = [
    "FIGURE_CHANGES",
    "Change",
    "FigureChange",
    "apart",
    "buttoned",
    "change_of",
    "changed",
    "cut_in_two",
    "dart_let_out",
    "dart_moved",
    "dart_parted",
    "faced",
    "figured",
    "flared",
    "gathered",
    "lengthened",
    "lined",
    "of_two",
    "panelled",
    "pleated",
    "pocketed",
    "seam_moved",
    "tucked",
    "wedged",
    "yoked",
]
