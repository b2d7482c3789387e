"""The lay against the clock: own search and a general strip packer side by side, the best verified lay wins.

racing   race(problem, seconds=...): seconds in, a verified plan out
packer   the strip packer, alone in a process that can be ended; it imports nothing of ours, so it starts at once
"""
