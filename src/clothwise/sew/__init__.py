"""Sewing: the order of work from the seam graph, minutes, and the booklet with her own pieces."""

from clothwise.sew.minutes import Minutes, minutes
from clothwise.sew.order import order_of_work
from clothwise.sew.sewer import Sewer
from clothwise.sew.step import Span, Step

__all__ = ["Minutes", "Sewer", "Span", "Step", "minutes", "order_of_work"]
