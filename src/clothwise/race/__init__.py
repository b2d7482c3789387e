"""The lay against the clock: own search and a general strip packer side by side, the best verified lay wins.

racing   race(problem, seconds=...): seconds in, a verified plan out
packer   the strip packer, alone in a process that can be ended; it starts at once, free of our imports
"""
