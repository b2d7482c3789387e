"""Bought patterns on the shelf: what their envelopes say, as read and as doubted. Lengths in cm.

levels    the words for levels, as charts and envelopes use them
pattern   the values: pattern, chart rows, cloth table, named pieces, finished makes
cells     one cell of a chart: a length, a range, a fraction of an inch
table     a whole chart as it is pasted
reading   a pattern from TOML; writing puts it back
doubts    what looks like a slip in a chart: shown, never corrected in silence
"""
