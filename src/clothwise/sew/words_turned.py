"""What is said of seams that are turned: facings, bindings, bands, collars and cuffs of two layers, yokes."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.garment import Garment, Run
from clothwise.sew.cut_copies import met
from clothwise.sew.phrases import edges_of, length, listed, lower, named_pieces
from clothwise.sew.sewer import Units
from clothwise.sew.step import Join, Step
from clothwise.sew.words_stitch import again, caught, edge_phrase, finishing, fullness, matching, stitching

CLIP_SHORT = 0.2  # cm: clips stop so far from the stitching
UNDERSTITCH_FROM = 0.2  # cm: from the seam, on the facing


def _trimming(step: Step, units: Units, *, inner: str) -> list[str]:
    said = []
    if step.trim_to:
        said.append(
            f"Trim the allowances in steps: {inner} narrowest, the layer next to the right side "
            f"{length(step.trim_to, units)}, so that no ridge shows."
        )
    if step.clip:
        knit = step.stitch is not None and step.stitch.iso != "301"
        said.append(
            "Notch the curves outwards, little wedges out of the allowance; a clip in a knit runs."
            if knit
            else f"Clip hollow curves every 1–2 fingers' width to {length(CLIP_SHORT, units)} from the "
            "stitching; "
            "from full ones cut little wedges."
        )
    return said


def _point(step: Step, what: str) -> list[str]:
    if not step.point:
        return []
    return [
        "At the slit sew down one side of the marked line, at the point two short stitches across, and up the "
        f"other side, with stitches half as long near the point. Cut the {what} open between the rows, right "
        "into the point, to the last thread before the stitching."
    ]


def facing(step: Step, garment: Garment, units: Units) -> list[str]:
    join = step.joins[0]
    facing, ground = named_pieces(garment, join.a), named_pieces(garment, join.b)
    if step.why == "rolled":
        return _rolled(step, garment, units)
    said = [
        f"Turn the garment right side out. Lay the {facing} on the {ground}, right sides together, so that the "
        f"{edges_of(join.b, several=True)} lie on each other."
        if step.joined
        else f"Lay the {facing} on the {ground}, right sides together, so that the "
        f"{edges_of(join.b, several=True)} lie on each other.",
    ]
    said += caught(step, garment)
    said += matching(step)
    said += stitching(step, garment, units)
    said += _point(step, "slit")
    said += _trimming(step, units, inner="the facing")
    if step.understitch:
        said.append(
            f"Press the allowances towards the facing. From the right side, stitch the facing down to them "
            f"{length(UNDERSTITCH_FROM, units)} from the seam, as far as the foot reaches."
        )
    said.append("Turn the facing to the inside, rolling the seam a hair inwards, and press.")
    if step.crossings:
        at = listed([lower(c) for c in step.crossings])
        said.append(
            f"Catch its free edge to the allowances at the {at} with a few hand stitches, through no more."
        )
    return said + again(step)


def _rolled(step: Step, garment: Garment, units: Units) -> list[str]:
    """A facing that hangs on the garment already, at the neck: its armholes are sewn from inside."""
    join = step.joins[0]
    facing = named_pieces(garment, join.a)
    return [
        f"Let the {facing} lie inside as it will be worn. From the other side of the body, roll the garment up "
        "small between both layers, over to this edge.",
        f"Bring the {edges_of(join.b, several=True)} of garment and facing round the roll until they lie right "
        "sides together; the roll lies between them and must not be caught.",
        *matching(step),
        *stitching(step, garment, units),
        *_trimming(step, units, inner="the facing"),
        "Draw the roll out at the shoulder: both layers turn right side out by themselves. Press, the seam "
        "rolled a hair inwards.",
        *again(step),
    ]


def binding(step: Step, garment: Garment, units: Units) -> list[str]:
    join = step.joins[0]
    strip, ground = named_pieces(garment, join.a), named_pieces(garment, join.b)
    said = [
        f"Lay the {strip} on the right side of the {ground}, right sides together, its open edge along the "
        f"{edges_of(join.b)}"
        + (", its own seam at a seam of the garment." if step.round else "; let the ends reach past."),
    ]
    if step.point:
        said.append(
            "Pull the slit open into nearly a straight line; at its point only a thread or two of the garment "
            "are caught, and no fold."
        )
    said += matching(step)
    said += fullness(step, garment, units)
    said += stitching(step, garment, units)
    said.append(f"Press the {strip} away from the garment, over the raw edges.")
    return said + again(step)


def band(step: Step, garment: Garment, units: Units) -> list[str]:
    join = step.joins[0]
    strip, ground, own = _strip_side(step, garment, join)
    said = [
        f"Lay the {strip} on the {ground}, right sides together, so that the edge of the {strip} whose "
        f"allowance is not pressed in meets {edge_phrase(garment, ground_runs(join, own))}"
        + (" all round." if step.round else ".")
    ]
    said += caught(step, garment)
    said += matching(step)
    said += fullness(step, garment, units)
    said += stitching(step, garment, units)
    said.append(f"Press the seam, with all its allowances, into the {strip}.")
    return said + again(step)


def _strip_side(step: Step, garment: Garment, join: Join) -> tuple[str, str, str]:
    """Title of the band, title of the ground, and which side the band is."""
    bands = {r.piece for f in garment.free_edges if f.kind == "band" for r in f.runs}
    a_band = {run.piece for run in join.a} <= bands
    strip, ground = (join.a, join.b) if a_band else (join.b, join.a)
    return named_pieces(garment, strip), named_pieces(garment, ground), "a" if a_band else "b"


def ground_runs(join: Join, own: str) -> tuple[Run, ...]:
    return join.b if own == "a" else join.a


def folded_band(step: Step, garment: Garment, units: Units) -> list[str]:
    join = step.joins[0]
    strip, ground = named_pieces(garment, join.a), named_pieces(garment, join.b)
    each = "each " if step.times > 1 else "the "
    shape = "ring" if step.round else "strip"
    said = [
        f"Fold {each}{strip} in half along its fold line, wrong sides together, so that it is a double {shape} "
        "with both long edges even; press.",
        f"With pins, mark the quarters of the {strip} and of {edge_phrase(garment, join.b)}"
        + (
            ", the seam of the ring being the first mark. Slip it over the right side of the edge, all raw "
            "edges even, and pin quarter on quarter."
            if step.round
            else ". Lay it on the right side, all raw edges even, and pin quarter on quarter."
        ),
    ]
    if step.ratio < 1:
        said.append(
            f"Sew with the {strip} on top and stretch it from pin to pin until it lies as long as the edge; "
            f"never stretch the {ground}."
        )
    said += stitching(step, garment, units)
    said += finishing(step, units)
    said.append(f"Press the allowances towards the {ground}, and steam the {strip} back into shape.")
    return said + again(step)


def layers(step: Step, garment: Garment, units: Units) -> list[str]:
    join = step.joins[0]
    one, other = named_pieces(garment, join.a), named_pieces(garment, join.b)
    lying = f"the two {one}s" if one == other else f"the {one} and the {other}"
    edges = edges_of([run for part in step.joins for run in part.a], several=True)
    said = [f"Lay {lying} on each other, right sides together, {edges} together."]
    between = [named_pieces(garment, ply) for part in step.joins for ply in part.more]
    if between:
        said.append(
            f"The finished {listed(list(dict.fromkeys(between)))} lies between them, right side on the right "
            "side of what will be seen, its raw edge with theirs; its middle and its ends must sit exactly at "
            "their marks."
        )
    said += matching(step)
    said += stitching(step, garment, units)
    said.append(
        "At a corner shorten the stitch and take one stitch across; cut the corner off slantwise, close to the "
        "stitching."
    )
    said += _trimming(step, units, inner="the inner layer")
    said.append(
        "Turn right side out, push the corners out with something blunt, roll the seam to the very edge or a "
        "hair to the inside, tack if need be, and press. Left and right must be alike: lay them on each other."
    )
    return said + again(step)


def sandwich(step: Step, garment: Garment, units: Units) -> list[str]:
    join = step.joins[0]
    outer = join.more[0] if join.more else join.b
    layers = named_pieces(garment, join.a if set(_names(join.a)) & set(_names(outer)) else outer)
    between = named_pieces(garment, join.b if set(_names(join.a)) & set(_names(outer)) else join.a)
    said = []
    if step.joined:
        said.append(
            f"The two layers of the {layers} hang together already: roll the rest of the work up small between "
            "them, so that they can be brought round it and their edges meet again outside."
        )
    said.append(
        f"Lay the {between} between both layers of the {layers}: right side on the right side of the one, "
        f"wrong side on the right side of the other, the {edges_of(join.b, several=True)} of all three "
        "together."
    )
    said += matching(step)
    said += stitching(step, garment, units)
    said.append(
        ("Draw the work out through the open side. " if step.joined else "")
        + f"Press both layers of the {layers} away from the {between}; the raw edges lie between them."
    )
    return said + again(step)


def _names(runs: Sequence[Run]) -> list[str]:
    return [run.piece for run in runs]


def strip_ends(step: Step, garment: Garment, units: Units) -> list[str]:
    join = step.joins[0]
    strip = named_pieces(garment, join.a)
    each = "each " if step.times > 1 else "the "
    if step.opening:
        said = [
            f"Fold {each}{strip} in half along its fold line, right sides together, and pin its ends and its "
            "long edge.",
            *stitching(step, garment, units),
            f"Leave {length(step.opening, units)} unsewn in the middle of the long edge.",
            "Trim the allowances, cut the corners off slantwise, turn right side out through the gap, push the "
            "corners out, and press; close the gap by hand.",
        ]
    elif _over_fold(garment, join):
        said = [
            f"At the end, fold the {strip} along its fold line, right sides together, the pressed-in edge "
            f"lying just over the seam, and bring the {edges_of(join.a, several=True)} together; pin.",
            *stitching(step, garment, units),
            "Trim the allowances, cut the corners off slantwise, turn right side out, push the corners out, "
            "and press.",
        ]
    elif _along(garment, join):
        said = [
            f"Fold {each}{strip} lengthwise, right sides together, its long edges even.",
            *stitching(step, garment, units),
            "Trim the allowances to about half, so that they fill the tube and do not clog it. Turn it right "
            "side out with a loop or a safety pin at one end, and press, the seam along one edge.",
        ]
    elif {r.piece for r in join.a} == {r.piece for r in join.b}:
        said = [
            f"Bring the ends of {each}{strip} together, right sides together, without a twist, so that it "
            "makes a ring.",
            *matching(step),
            *stitching(step, garment, units),
            "Press the seam open.",
        ]
    else:
        said = [
            f"Lay the {named_pieces(garment, join.a)} on the {named_pieces(garment, join.b)}, right sides "
            f"together, so that the {edges_of(join.a, several=True)} meet.",
            *matching(step),
            *stitching(step, garment, units),
            "Press the seam open.",
        ]
    return said + again(step)


def _along(garment: Garment, join: Join) -> bool:
    """Whether the two edges run along the strip: a strap sewn into a tube."""
    piece = garment.piece(join.a[0].piece)
    fold = next((mark.curve for mark in piece.marks if mark.kind == "fold line"), None)
    if fold is None or len({r.copy for r in (*join.a, *join.b)}) > 1:
        return False
    edge = piece.line(join.a[0].line)
    way, other = edge.start.to(edge.end).unit(), fold.start.to(fold.end).unit()
    return abs(way.dot(other)) > abs(way.cross(other))


def _over_fold(garment: Garment, join: Join) -> bool:
    """Whether the two edges meet at the fold of the strip."""
    for one, other in ((join.a, join.b), (join.b, join.a)):
        lines = {run.line for run in other}
        ends = (met(garment, one[0], going_out=False), met(garment, one[-1], going_out=True))
        if any(edge is not None and edge.name in lines for edge in ends):
            return True
    return False
