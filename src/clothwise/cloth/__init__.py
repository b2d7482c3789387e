"""The cloth in the cupboard.

cloth       one length or remnant    shape   outline, cut-outs, flaws as measured with two rulers
kinds       what is usual for each kind of cloth, with its source
home_tests  stretch, recovery, drape with a ruler, a table's edge or a tin
entries     a cloth as a table of entries: in tickets and in the store
typed       a cloth from what a person typed
"""

from clothwise.cloth.cloth import SEASONS, Cloth, Make, Nap

__all__ = ["SEASONS", "Cloth", "Make", "Nap"]
