"""What is said of patches, turned edges, bands, zips, elastic, cords, buttons, and the rests in the work."""

from __future__ import annotations

from clothwise.garment import Garment
from clothwise.sew.bench import BASTE_MM
from clothwise.sew.phrases import edges_of, length, listed, lower, named_pieces, piece_title
from clothwise.sew.sewer import Units
from clothwise.sew.step import Step

LAP = 2.5  # cm: elastic ends laid over one another
FROM_NEATENED = 0.5  # cm: hem stitching inside a neatened edge
COVERS = 0.2  # cm: a band's inner fold reaches so far past the stitching (T)
BELOW_EDGE = 0.7  # cm: the zip's upper stop lies so far below the seam line above it (T)


def patch(step: Step, garment: Garment, units: Units) -> list[str]:
    if step.why == "strap":
        return _strap(step, garment, units)
    join = step.joins[0]
    set_on, ground = piece_title(garment, join.a[0].piece), piece_title(garment, join.b[0].piece)
    said = [
        f"Lay the {ground} flat, right side up. Put the {set_on} on its marked place, right side up, its "
        "pressed edges on the line; pin at the corners, then between.",
        f"Stitch {length(step.allowance, units)} inside the folded edge: down one side, along the base, up the "
        "other, turning at the corners with the needle down.",
        "At both upper corners stitch a small triangle, or several times back and forth: that is where pockets "
        "tear.",
    ]
    if step.times > 1:
        said.append("Before you stitch the other, lay both grounds on each other: they must sit at one height.")
    return said


def _strap(step: Step, garment: Garment, units: Units) -> list[str]:
    """The end of a strap or loop on its place."""
    join = step.joins[0]
    strap, ground = piece_title(garment, join.a[0].piece), piece_title(garment, join.b[0].piece)
    return [
        f"Turn the raw end of the {strap} under and pin it inside, on the mark of the {ground}, without a "
        "twist. Try on, and lengthen or shorten it.",
        f"Stitch across the end {length(step.allowance, units)} from its fold, and once more a finger's width "
        "away, or in a small square; fasten off well.",
        *(["Do the other in the same way; both must be of one length."] if step.times > 1 else []),
    ]


# ---- turned edges ------------------------------------------------------------------------------


def _folding(step: Step, units: Units) -> list[str]:
    if step.fold_in == 0:
        return [f"Fold the edge {length(step.turn, units)} to the wrong side all along, and press."]
    rest = step.turn - step.fold_in
    return [
        f"Fold the raw edge {length(step.fold_in, units)} to the wrong side and press.",
        f"Fold again, {length(rest, units)}, measuring as you go, press and pin.",
    ]


def turn(step: Step, garment: Garment, units: Units) -> list[str]:
    near = f"{length(step.allowance, units)} from the inner fold"
    if not step.fold_in:
        near = f"{length(FROM_NEATENED, units)} from the neatened edge"
    if step.why == "casing":
        return _casing(step, near, units)
    if step.why == "pocket top":
        return [
            f"Lay each {piece_title(garment, step.edges[0].piece)} wrong side up.",
            *_folding(step, units),
            f"Stitch {near} and press.",
        ]
    if step.why == "stand":
        return [
            f"Lay each {named_pieces(garment, step.edges)} wrong side up: the {edges_of(step.edges)} is to be "
            "the fold.",
            *_folding(step, units),
            f"Stitch {near}, from end to end; press. Lay both on each other: neck and hem must be level.",
        ]
    said = [
        "Work inside out, hem up." if step.round else "Lay the work wrong side up.",
        *_folding(step, units),
        f"Stitch {near}, {'starting and ending at a seam' if step.round else 'from end to end'}; press.",
    ]
    if step.times > 1:
        said.append("Before you stitch the second, lay both on each other: they must be of one length.")
    return said


def _casing(step: Step, near: str, units: Units) -> list[str]:
    start = "Leave the work inside out." if step.round else "Lay the work wrong side up."
    if not step.opening:
        ends = "all round" if step.round else "from end to end"
        return [start, *_folding(step, units), f"Stitch {near}, {ends}; press."]
    return [
        start,
        *_folding(step, units),
        f"Stitch {near}, all round, starting {_where(step)}. Stop {length(step.opening, units)} before you "
        "come round: through this gap goes the elastic.",
        *(["Do the other in the same way."] if step.times > 1 else []),
    ]


def _where(step: Step) -> str:
    """Where the gap for the elastic is left."""
    return "just behind one side seam" if step.held_at else "beside a seam at the back"


# ---- bands and zips ----------------------------------------------------------------------------


def band(step: Step, garment: Garment, units: Units) -> list[str]:
    strip = named_pieces(garment, step.edges)
    if step.make == "layers":
        return [
            f"Fold the pressed-in edge of the inner {strip} over the seam, so that it just covers the "
            "stitching, and pin; begin in the middle, the ends last.",
            f"Edge-stitch {length(step.allowance, units)} from the fold, from the side that is seen, or sew it "
            "down by hand; press.",
        ]
    longest = max(garment.length((run,)) for run in step.edges)
    whole = max(edge.curve.length() for edge in garment.piece(step.edges[0].piece))
    if longest < whole / 2:
        return [
            f"Fold the {edges_of(step.edges)} of the {strip} {length(step.turn, units)} to its wrong side, "
            "clear of what lies beneath, and press.",
            f"Sew it down by hand, or stitch {length(step.allowance, units)} from the fold through the layers "
            "beneath only; beside a zip, to its tape and well clear of the teeth.",
        ]
    said = []
    if step.count:
        said.append(
            f"At each end, fold the {strip} along its fold line, right sides together, and stitch across the "
            "end; trim, cut the corner off slantwise, turn, and push the corner out."
        )
    said += [
        f"Fold the {strip} over the raw edges to the wrong side. Its inner edge, pressed in, should reach "
        f"{length(COVERS, units)} past the stitching all along; pin from the right side.",
        f"From the right side, stitch in the seam itself or {length(step.allowance, units)} beside it, so that "
        "the inner fold is caught everywhere; or sew it down by hand. Press.",
    ]
    if step.opening:
        said.append(f"Leave a gap of {length(step.opening, units)} for the elastic.")
    if step.times > 1:
        said.append("Do the other in the same way.")
    return said


def zip_in(step: Step, garment: Garment, units: Units) -> list[str]:
    return [
        f"Baste the opening shut in the line of the seam, {BASTE_MM:g} mm stitches, {length(step.turn, units)} "
        "from the edge. Press the whole seam open.",
        f"Lay the closed zip face down on the open allowances, its teeth exactly on the seam, its upper stop "
        f"{length(BELOW_EDGE, units)} below the seam line at the top and its lower stop at the end of the "
        "opening; pin or tape, and baste both sides of the tape.",
        f"With the zip foot, from the right side, stitch {length(step.allowance, units)} from the seam: down "
        "one side, square across just below the lower stop, up the other side. Move the slider out of the way, "
        "needle down.",
        "Take the basting out and open and close the zip a few times: nothing may catch.",
    ]


# ---- elastic and cords -------------------------------------------------------------------------


def _held_elastic(step: Step, units: Units) -> list[str]:
    """Elastic through the back only, its ends sewn down."""
    there = "at the side seam" if step.held_at == "side seams" else "at the mark on the front"
    return [
        f"Cut the elastic {length(step.elastic_length, units)} long and a lap of {length(LAP, units)} more to "
        "hold on to.",
        "With a safety pin in one end, push it in at the gap and through the back, flat, until its end lies "
        f"{there} on the far side. Pin; stitch down through all layers there, twice, across the elastic.",
        f"Draw the near end up until it lies {there} on this side, {length(step.elastic_length, units)} of "
        "elastic between the two places, and pin. Try on: it should hold and not bite.",
        "Stitch the near end down in the same way, cut off what is over, and close the gap in the line of the "
        "rest.",
        "Spread the gathers evenly over the back. The front stays flat.",
    ]


def elastic(step: Step, garment: Garment, units: Units) -> list[str]:
    each = " for each" if step.times > 1 else ""
    if step.make == "folded band":
        return [
            f"Cut the elastic {length(step.elastic_length, units)} long{each}, the lap of {length(LAP, units)} "
            "included. Try it on the body: it should hold and not bite.",
            f"Lap the ends {length(LAP, units)} without a twist and sew the lap with a square of zigzag: a "
            "ring.",
            "When the band is folded for its seam, lay the ring in the fold, quarter on quarter, and take care "
            "that the needle does not catch it.",
        ]
    if step.held_at:
        return _held_elastic(step, units)
    cut = (
        f"Cut the elastic {length(step.elastic_length, units)} long{each}, the lap of {length(LAP, units)} "
        "included."
        if step.elastic_length
        else "Cut the elastic as long as feels right round the body, and a lap more."
    )
    return [
        cut,
        "Pin one end beside the gap. With a safety pin in the other, push the elastic "
        f"({length(step.elastic_width, units)} wide) through the casing all round, flat, without a twist.",
        f"Lap the ends {length(LAP, units)} and pin. Try on: it should hold and not bite. Shorten it if need "
        "be.",
        "Sew the lap with a square of zigzag, let it slip into the casing, and close the gap in the line of "
        "the rest, with the elastic pulled out of the way.",
        "Spread the gathers evenly. Stitch through the elastic in the seams, so that it cannot turn.",
        *(["Do the other in the same way."] if step.times > 1 else []),
    ]


def cord(step: Step, garment: Garment, units: Units) -> list[str]:
    how = "in at one eyelet, all round, and out at the other" if step.count else "through, all round"
    said = [
        f"With a safety pin in one end, draw the {lower(step.title)} "
        f"({length(step.elastic_length, units)} long) {how}, over the elastic if there is one.",
        "Even the ends out and knot each, or sew it over, so that it can neither fray nor slip in. Stitch "
        "through the cord once at the back, so that it cannot be pulled out.",
    ]
    if garment.for_child:
        said.append(
            "A cord on a child's garment can catch and strangle: none at hood or neck, no loose ends at the "
            "waist. Your own country's rules come first."
        )
    return said


# ---- at the end --------------------------------------------------------------------------------


def buttons(step: Step, garment: Garment, units: Units) -> list[str]:
    marks = {mark.kind for piece in garment.pieces for mark in piece.marks}
    said = []
    if "buttonhole" in marks:
        said += [
            "Mark the buttonholes from the paper, on the side that laps over, and check them against the "
            "finished edge; each is as long as the button is wide and thick together.",
            "Work one on a scrap with the same layers and interfacing, and try the button in it. Then stitch "
            "them, put a pin across each end, and cut them open between.",
            "Lap the edges as they will be worn, mark each button's place through the end of its hole, and sew "
            f"the {'buttons' if step.count != 1 else 'button'} on with a shank of thread as thick as the "
            "cloth.",
        ]
    else:
        said.append(
            f"Sew the {f'{step.count} buttons' if step.count != 1 else 'button'} on at their marks, with a "
            "shank of thread as thick as the cloth."
        )
    if garment.for_child:
        said.append(
            "A small child puts buttons in the mouth: sew through many times, fasten off well, and pull hard "
            "at each."
        )
    return said


def try_on(step: Step, garment: Garment, units: Units) -> list[str]:
    turns = [free.turn for free in garment.free_edges if free.kind == "hem"]
    if _from_shoulders(garment):
        said = ["Try it on and look from all sides, also in movement: reach, sit, lift the arms."]
        if turns:
            said.append(
                "Turn the hems up and pin them; mark the length where you want it, even all round. What is too "
                f"long is cut off {length(turns[0], units)} below the new length."
            )
        return said
    if not turns:
        return ["Try it on and look from all sides, also in movement: reach, sit, lift the arms."]
    return [
        "Try it on with the shoes it will be worn with. Turn the hem up and pin it, then look from all sides.",
        "Sit down, walk, lift a knee. Mark the length where you want it, even all round, from the floor up.",
        f"If it is to be shorter, cut it off now, {length(turns[0], units)} below the new length.",
    ]


def _from_shoulders(garment: Garment) -> bool:
    """Whether it hangs from the shoulders: it has a neck."""
    return any("neck" in edge.name for piece in garment.pieces for edge in piece)


def hang(step: Step, garment: Garment, units: Units) -> list[str]:
    return [
        f"Hang it up from the top for at least {step.wait_hours:g} hours.",
        "Then put it on and have the hem marked at one height from the floor all round; trim to the turn below "
        "the marks.",
    ]


def press(step: Step, garment: Garment, units: Units) -> list[str]:
    done = [word for kind, word in (("casing", "casing"), ("hem", "hems")) if _has(garment, kind)]
    return [
        "Take out every pin and thread; count the pins.",
        f"Press the whole from the wrong side, seams first, then {listed(done) or 'edges'}. Let it cool on the "
        "hanger.",
    ]


def _has(garment: Garment, kind: str) -> bool:
    return any(free.kind == kind for free in garment.free_edges)
