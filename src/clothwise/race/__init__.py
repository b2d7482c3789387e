"""The lay against the clock: own search and a general strip packer side by side, the best verified lay wins.

race     seconds in, a verified plan out
packer   the strip packer, alone in a process that can be ended
"""

from clothwise.race.racing import race

__all__ = ["race"]
