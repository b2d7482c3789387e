"""The words of the booklet: one file for each language, read by `clothwise.sew.language`."""
