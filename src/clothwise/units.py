"""Units. Inside Clothwise a bare length is a float in centimetres; convert once, at the door."""

from __future__ import annotations

MM = 0.1  # cm
INCH = 2.54  # cm
FOOT = 12 * INCH  # cm
PT = INCH / 72  # cm: the point of PDF
