"""Clothwise: what can I make, that will fit, from what I have, in the time I've got?

The steps of the job, left to right; a step imports the floor and the steps to its left:

    errors tolerance units curve | body cloth garment draft lay paper sew | ticket suggest store cli
"""

__version__ = "0.1.0"
