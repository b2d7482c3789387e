"""The lay against the clock: a general strip packer and our own search one after the other, on both cores.

racing   race(problem, seconds=...): seconds in, a verified plan out
packing  the strip packer started, listened to, ended
packer   the strip packer, alone in a process that can be ended; it starts at once, free of our imports
"""
