"""Every tolerance of the house, in cm unless the name says otherwise, each with its reason.

No bare 1e-9 stands elsewhere. A name here is a promise that a test holds.
"""

SAME_POINT = 1e-6  # two points are one; asked only when ends are joined or outlines closed
ARC_LENGTH = 1e-6  # default promise of an arc length: far below SEAM_MATCH, so sums stay exact to a reader
SOLVE = 1e-7  # a solved dimension (crotch length, seam length) is met this closely
PARALLEL = 1e-9  # sine of an angle, no unit: two lines closer to parallel than this do not meet
PARAMETER = 1e-12  # curve parameter, no unit: the last digits of a double after a few operations
FLATTEN = 0.005  # how far a drawn chord may leave its curve; finer than a pen line
CUT_FLATTEN = 0.02  # the same for lay planning: finer than a scissor cut, and kept on the safe side
SEAM_MATCH = 0.05  # seams sewn together may differ this much before the check speaks
GIRTH = 0.1  # a finished girth may differ this much from measure + ease: a millimetre on the tape
NOTCH_MATCH = 0.1  # two halves of a notch pair may lie this far apart along their seams
NOTCH_CORNER = 1.0  # no notch nearer to a corner of its piece: the crossing seam would hide or cut it
ANGLE_DEG = 2.0  # degrees: a sewn joint may bend this much before the line shows a kink
SHORTEST_EDGE = 0.3  # an edge shorter than this cannot be sewn or even seen
ALLOWANCE = 0.06  # a cutting line may lie this much nearer than the allowance asked
LAY_OVERLAP_CM2 = 0.01  # cm2: overlap that the verifier still calls touching (1 mm2)
LAY_FOLD = 0.001  # a fold edge lies this near its fold, and nothing crosses an edge by more (0.01 mm)
LAY_GAP = 0.01  # the gap left for the blade may be this much smaller: a tenth of a millimetre
LAY_MATCH = 0.05  # stripes that meet at a seam may miss each other this much: half a millimetre
LAY_ANGLE_DEG = 1e-6  # degrees: turned pieces are turned exactly
LAY_TOUCH = 2e-5  # pieces this far into each other still touch: 150 cm of seam then overlap by 0.3 mm2
OUTLINE_CLOSED = 1e-5  # the check's own: how far the end of one edge may lie from the start of the next
FOLD_DEG = 1.5  # degrees: an edge may meet the fold this much off square; unfolded the kink is twice that
GRAIN_DEG = 0.1  # degrees: grain and fold are drawn parallel; over 1 m it is less than 2 mm
DART_LEGS = 0.1  # the two legs of a dart may differ this much: a millimetre is eased in unseen
ON_OUTLINE = 0.05  # a mark's end or a notch this near its place stands on it: half a millimetre, a pencil line
WAVE_DEG = 0.5  # degrees: a line that bends back by less is straight to the eye
HEM_FOLDED = 0.25  # a hem turned about its line may stand out this much at its seams (measured: up to 0.22)
CUT_TRIM = 1e-4  # corners of a cutting line that bend it by less than this (1 micrometre) are dropped
