"""The body: measures, how to take them, what the rest is likely to be, and slips of the tape.

The slips stand in their own module: `from clothwise.body.slips import slips`.
"""

from clothwise.body.body import Body, Figure, Measure, Source
from clothwise.body.population import estimate, sample
from clothwise.body.vocabulary import VOCABULARY, Definition, definition, measures_of

__all__ = [
    "VOCABULARY",
    "Body",
    "Definition",
    "Figure",
    "Measure",
    "Source",
    "definition",
    "estimate",
    "measures_of",
    "sample",
]
