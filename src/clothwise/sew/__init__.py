"""Sewing: the order of work from the seam graph, minutes, and the booklet with her own pieces.

`booklet` is imported from its own module: it brings the typesetter, which planning an evening does not need.
"""

from clothwise.sew.minutes import Minutes, minutes
from clothwise.sew.order import order_of_work
from clothwise.sew.sewer import Sewer
from clothwise.sew.step import Span, Step

__all__ = ["Minutes", "Sewer", "Span", "Step", "minutes", "order_of_work"]
