"""Templates of the booklet, set by typst. Data only."""
