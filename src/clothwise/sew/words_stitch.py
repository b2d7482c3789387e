"""What seams of all kinds share: matching, fullness, stitching, finishing."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.garment import Garment, Run
from clothwise.sew.cut_copies import met
from clothwise.sew.phrases import FINISHES, are, edges_of, length, listed, named_pieces, sign_list
from clothwise.sew.sewer import Units
from clothwise.sew.step import Neatening, Step

SECOND_ROW = 0.3  # cm: second line of a seam under strain, outside the first
FRENCH_TRIM, FRENCH_SECOND, FRENCH_CLOTH = 0.3, 0.6, 0.1  # cm: trimmed to; second row; taken by the fold
LITTLE_FULL = 0.3  # cm: fullness that the machine takes up by itself


def again(step: Step) -> list[str]:
    if step.times > 2:
        return ["Sew the others the same way."]
    return ["Sew the other one the same way, as its mirror image."] if step.times > 1 else []


def edge_phrase(garment: Garment, runs: Sequence[Run]) -> str:
    """'the crotch edges of the front leg and back leg' or 'the side edge of the front leg'."""
    return f"the {edges_of(runs, several=len(runs) > 1)} of the {named_pieces(garment, runs)}"


def caught(step: Step, garment: Garment) -> list[str]:
    """Prepared plies that lie in the seam."""
    more = [named_pieces(garment, ply) for ply in step.joins[0].more]
    if not more or step.make in ("folded band", "sandwich"):
        return []
    names = listed(list(dict.fromkeys(more)))
    return [
        f"The {names} lies in this seam too: pin it to the right side of one "
        "piece first, raw edges together, its middle on the middle and its ends at their marks, and tack it "
        "within the allowance."
    ]


def matching(step: Step) -> list[str]:
    crossed = listed([c.lower() for c in step.crossings])
    if step.tube == "nested" and not step.round:
        more = f" Then match the notches {sign_list(step.notches)}." if step.notches else ""
        return [f"Pin across the seam at each match.{more}".strip()]
    seams = f" and the {crossed} where they meet" if crossed else ""
    if not step.notches:
        if step.round:
            return ["Pin at the seams, then share the rest out evenly."]
        return [f"Match the two ends{seams} and pin, then pin the rest between them."]
    several = "notches" if len(step.notches) > 1 else "notch"
    if step.round:
        return [f"Match the {several} {sign_list(step.notches)}{seams}; pin there, then between."]
    return [
        f"Match the two ends{seams}, then the {several} {sign_list(step.notches)}; pin there, then between."
    ]


def fullness(step: Step, garment: Garment, units: Units) -> list[str]:
    """What is done with the longer side."""
    join = step.joins[0]
    if step.ratio > 1:
        return [
            "Spread the gathers again between the pins, and sew with them on top; hold them flat before and "
            "behind the needle, and let it stop in the cloth when you move a pin."
        ]
    if step.ratio < 1:
        return [
            f"The {named_pieces(garment, join.a)} {are(named_pieces(garment, join.a))} the shorter one: mark "
            "the quarters of both edges, pin quarter on quarter, and while you sew stretch only the shorter "
            "one until both lie alike."
        ]
    if step.fuller > LITTLE_FULL:
        longer = named_pieces(garment, join.a)
        shaped = step.why == "round cap"
        return [
            f"The {longer} {are(longer)} {length(step.fuller, units)} longer: "
            + (
                "share its drawn-up fullness over the top, none near the underarm, and sew from its side so "
                "that you see that no fold is caught."
                if shaped
                else "pin it closely and sew with it underneath, where the machine feeds it in."
            )
        ]
    if step.fuller < -LITTLE_FULL:
        other = named_pieces(garment, join.b)
        return [
            f"The {other} {are(other)} {length(-step.fuller, units)} longer: pin it closely and sew with it "
            "underneath, where the machine feeds it in."
        ]
    return []


def stitching(step: Step, garment: Garment, units: Units) -> list[str]:
    allowance = length(step.allowance, units)
    if step.facing == "wrong sides together":
        first = step.allowance - FRENCH_SECOND - FRENCH_CLOTH
        return [
            f"First row, wrong sides together: stitch {length(first, units)} from the edge. Trim the allowance "
            f"to {length(FRENCH_TRIM, units)}, press it to one side, fold so that right sides lie together, "
            "and press the seam sharply on its fold.",
            f"Second row: stitch {length(FRENCH_SECOND, units)} from the fold. The raw edges are now shut "
            "inside; no thread may show on the right side.",
        ]
    until = "all round, the last stitches over the first" if step.round else "from end to end"
    ends = "" if step.round else ", with a few stitches back at both ends"
    said = [f"Stitch {allowance} from the edge, {until}{ends}."]
    zip_end = _zip_end(garment, step)
    if zip_end:
        said.append(
            "Begin at the lower end of the opening for the zip, with firm stitches back, and leave the opening "
            "above unsewn."
        )
    if step.rows == 2:
        said.append(f"Stitch a second row {length(SECOND_ROW, units)} outside the first, in the allowance.")
    return said


def _zip_end(garment: Garment, step: Step) -> bool:
    """Whether the seam runs on into an opening for a zip."""
    zipped = {(r.piece, r.line) for f in garment.free_edges if f.kind == "zip" for r in f.runs}
    for ply in step.joins[0].plies[:2]:
        edges = (
            (ply[0], met(garment, ply[0], going_out=False)),
            (ply[-1], met(garment, ply[-1], going_out=True)),
        )
        if not any(edge and (run.piece, edge.name) in zipped for run, edge in edges):
            return False
    return True


def finishing(step: Step, units: Units) -> list[str]:
    found = [_finish_words(n, step, units) for n in step.neatenings if n.finish not in ("enclosed", "inside")]
    return list(dict.fromkeys(found))


def _finish_words(neatening: Neatening, step: Step, units: Units) -> str:
    if neatening.finish == "none needed":
        return "The cloth does not fray: leave the edges as they are."
    verb = FINISHES[neatening.finish].capitalize()
    trim = f"Trim the curved part to {length(step.trim_to, units)}. " if step.trim_to else ""
    if neatening.how == "in the seam" and neatening.finish == "overlocked":
        return "The overlocker sews and neatens in one: guide it so that the needle falls on the seam line."
    both = "all" if any(join.more for join in step.joins) else "both"
    return f"{trim}{verb} {both} edges together."
