"""Sewing: the order of work from the seam graph, minutes, and the booklet with her own pieces.

`booklet` is imported from its own module: it brings the typesetter, which planning an evening does not need.
"""

from clothwise.sew.manners import NEEDLE_HOURS
from clothwise.sew.minutes import Minutes, minutes
from clothwise.sew.needs import Alternative
from clothwise.sew.order import alternatives, order_of_work
from clothwise.sew.proved import proved_order
from clothwise.sew.sewer import Sewer
from clothwise.sew.step import Span, Step

__all__ = [
    "NEEDLE_HOURS",
    "Alternative",
    "Minutes",
    "Sewer",
    "Span",
    "Step",
    "alternatives",
    "minutes",
    "order_of_work",
    "proved_order",
]
