"""The wording of the steps, with `phrases` and `page_words` all the booklet's English: step data in, words out.

A sentence never holds a figure of its own: lengths, stitches and names come from the step. Said to one person,
in the imperative, first what to do, then how to see that it is right.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clothwise.garment import Garment, Run
from clothwise.sew.graph import CURVED_DEG, turning_of
from clothwise.sew.phrases import (
    FINISHES,
    HARD,
    STOP,
    WHY,
    about,
    edge_name,
    length,
    listed,
    piece_title,
    piece_titles,
)
from clothwise.sew.sewer import Units
from clothwise.sew.step import Neatening, Step

NOTCH_DEEP = 0.3  # cm: a snip that stays well clear of the seam
LAP = 2.5  # cm: elastic ends laid over one another
SAME_ALLOWANCE = 0.05  # cm: allowances that differ by less are the same on the plate
SECOND_ROW = 0.3  # cm: second line of a seam under strain, outside the first
FRENCH_TRIM, FRENCH_SECOND, FRENCH_CLOTH = 0.3, 0.6, 0.1  # cm: trimmed to; second row; taken by the fold
FROM_NEATENED = 0.5  # cm: hem stitching inside a neatened edge
ASIDE = "Press it to one side."


@dataclass(frozen=True, slots=True)
class StepWords:
    """One step as it is printed.

    do     sentences to follow, in order
    facts  (what, figure): stitch, needle, allowance...
    """

    title: str
    do: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    why: str = ""
    stop: str = ""
    time: str = ""


def _edges_by_piece(garment: Garment, runs: Sequence[Run]) -> list[str]:
    """'front leg: side, inside leg' for every piece, each edge once."""
    found: dict[str, list[str]] = {}
    for run in runs:
        lines = found.setdefault(run.piece, [])
        if run.line not in lines:
            lines.append(run.line)
    return [
        f"{piece_title(garment, piece)}: {', '.join(edge_name(line) for line in lines)}"
        for piece, lines in found.items()
    ]


# ---- a step ------------------------------------------------------------------------------------


def step_words(step: Step, garment: Garment, units: Units = "cm", usual: float = 0.0) -> StepWords:
    """What the booklet says of one step.

    usual  the allowance of most seams, marked on the machine's plate; a seam with another says so [cm]
    """
    say = {
        "mark": _mark, "stay": _stay, "neaten": _neaten, "fold in": _fold_in, "seam": _seam, "patch": _patch,
        "turn": _turn, "elastic": _elastic, "try on": _try_on, "hang": _hang, "press": _press,
    }[step.kind]  # fmt: skip
    do = say(step, garment, units)
    if usual and step.kind == "seam" and step.allowance and abs(step.allowance - usual) > SAME_ALLOWANCE:
        do.insert(0, f"Mind: this seam has {length(step.allowance, units)}, not {length(usual, units)}.")
    return StepWords(
        title=_title(step),
        do=tuple(do),
        facts=tuple(_facts(step, units)),
        why=WHY.get(step.why, ""),
        stop=STOP if step.stop else "",
        time=about(step.minutes),
    )


def _title(step: Step) -> str:
    return {
        "fold in": f"{step.title}: press the edges in",
        "patch": f"{step.title}: set them on",
    }.get(step.kind, step.title)


def _facts(step: Step, units: Units) -> list[tuple[str, str]]:
    facts: list[tuple[str, str]] = []
    if step.stitch:
        size = f", {step.stitch.length_mm:g} mm long" if step.stitch.length_mm else ""
        wide = f", {step.stitch.width_mm:g} mm wide" if step.stitch.width_mm else ""
        facts.append(("Stitch", f"{step.stitch.name}{size}{wide} (ISO 4915 class {step.stitch.iso})"))
    if step.seam_type:
        iso = f" (ISO 4916 class {step.seam_type.iso})" if step.seam_type.iso else ""
        facts.append(("Seam", f"{step.seam_type.name}{iso}"))
    if step.kind == "seam" and step.allowance:
        facts.append(("Allowance", length(step.allowance, units)))
    if step.needle and step.stitch:
        facts.append(("Needle", step.needle))
    if step.notches:
        facts.append(("Notches", ", ".join(step.notches)))
    return facts


# ---- before any seam ---------------------------------------------------------------------------


def _mark(step: Step, garment: Garment, units: Units) -> list[str]:
    pieces = [f"{p.title.lower().replace(' ', HARD)}{HARD}×{HARD}{p.copies}" for p in garment.pieces]
    said = [
        f"Lay out all the cut pieces: {listed(pieces)}.",
        "On the wrong side of each, chalk its name and an arrow that points to the waist. If both sides of the "
        "cloth look alike, choose one now and keep to it.",
    ]
    patches = {run.piece for seam in garment.seams if seam.kind == "patch" for run in seam.a}
    pairs = [
        piece_title(garment, p.name) for p in garment.pieces if p.cutting == "pair" and p.name not in patches
    ]
    if pairs:
        said.append(
            f"Check the pairs: the two pieces of {listed([f'the {p}' for p in pairs])} must be mirror images, "
            "a left and a right."
        )
    said.append(f"Snip each notch no deeper than {length(NOTCH_DEEP, units)}, or chalk it.")
    return said


def _stay(step: Step, garment: Garment, units: Units) -> list[str]:
    return [
        f"On each single piece, right side up, stitch {length(step.allowance, units)} from the raw edge along: "
        f"{'; '.join(_edges_by_piece(garment, step.edges))}.",
        "Start at the wider end each time, let the machine feed, and do not pull. Lay the piece on its paper: "
        "the curve must still be as long.",
    ]


def _neaten(step: Step, garment: Garment, units: Units) -> list[str]:
    verb = FINISHES[step.neatenings[0].finish]
    said = [
        f"With each piece single and flat, right side up, {verb} these edges:",
        *[f"– {text}" for text in _edges_by_piece(garment, step.edges)],
    ]
    if verb == "overlock":
        said.append("Let the knife take off no more than the fluff: the seams are measured from this edge.")
    else:
        said.append("The needle should fall just off the edge on its outer swing. Do not stretch the edge.")
    return said


# ---- seams -------------------------------------------------------------------------------------


def _edge_phrase(garment: Garment, runs: Sequence[Run]) -> str:
    """'the crotch edges' or 'the side edge of the front leg'."""
    lines = list(dict.fromkeys(edge_name(r.line) for r in runs))
    pieces = list(dict.fromkeys(piece_title(garment, r.piece) for r in runs))
    edges = f"{listed(lines)} edge{'s' if len(runs) > 1 else ''}"
    return f"the {edges} of the {listed(pieces)}"


def _side_words(run: Run) -> str:
    return "left" if run.side == "as drawn" else "right"


def _seam(step: Step, garment: Garment, units: Units) -> list[str]:
    if not step.joins:
        return _dart(step)
    join = step.joins[0]
    if step.tube == "nested":
        said = _nested_start(step, garment, join.a)
    else:
        said = _flat_start(step, garment, join.a, join.b)
    said += _matching(step)
    said += _stitching(step, units)
    said += [_finish_words(n, step, units) for n in step.neatenings if n.finish != "enclosed"]
    said += _pressing(step, garment, join.a, join.b)
    if step.times > 1:
        said.append("Sew the other one the same way, as its mirror image.")
    return said


def _belongs(step: Step, garment: Garment, a: Sequence[Run], b: Sequence[Run]) -> list[str]:
    """How to see that a left was not taken for a right, the first time pieces of two pairs meet."""
    if step.joined or step.tube or a[0].piece == b[0].piece or step.times < 2:
        return []
    one, other = piece_title(garment, a[0].piece), piece_title(garment, b[0].piece)
    return [
        f"Take a {one} and a {other} for the same side of the body. If the {edge_name(a[0].line)} edges will "
        "not "
        "meet with the waists at one end, you hold a left and a right: change one of them."
    ]


def _flat_start(step: Step, garment: Garment, a: Sequence[Run], b: Sequence[Run]) -> list[str]:
    one, other = piece_title(garment, a[0].piece), piece_title(garment, b[0].piece)
    same = a[0].piece == b[0].piece
    together = step.facing
    if same:
        start = (
            f"Lay the two {piece_titles(garment, a[0].piece)} on each other, {together}, "
            f"{edge_name(a[0].line)} edges together."
        )
    elif step.tube == "closes each":
        start = (
            f"Fold each joined part so that the {one} lies on the {other}, {together}, "
            f"and the {edge_name(a[0].line)} edges meet."
        )
    elif step.joined:
        start = (
            f"Lay the joined {piece_titles(garment, a[0].piece)} on the joined "
            f"{piece_titles(garment, b[0].piece)}, {together}, so that the {edge_name(a[0].line)} edges meet "
            "at "
            "both sides."
        )
    else:
        start = (
            f"Lay the {one} on the {other}, {together}, and bring {_edge_phrase(garment, a)} to "
            f"{_edge_phrase(garment, b)}."
        )
    return [*_belongs(step, garment, a, b), start]


def _nested_start(step: Step, garment: Garment, a: Sequence[Run]) -> list[str]:
    lines = listed(list(dict.fromkeys(edge_name(r.line) for r in a)))
    return [
        f"Turn one {_tube_name(garment, a)} right side out and leave the other inside out. Slip the first "
        "into the "
        "second, so "
        f"that right side lies on right side and the {lines} edges lie together in one long U.",
        f"Match the {listed([c.lower() for c in step.crossings])} first, allowances lying as they were "
        "pressed; "
        "then the two ends at the waist, front on front and back on back.",
    ]


def _tube_name(garment: Garment, runs: Sequence[Run]) -> str:
    """'leg' where every piece is one."""
    return "leg" if all("leg" in garment.piece(r.piece).name for r in runs) else "part"


def _matching(step: Step) -> list[str]:
    signs = [f"“{sign}”" for sign in step.notches]
    if step.tube == "nested":
        more = f" Then match the notches {listed(signs)}." if step.notches else ""
        return [f"Pin across the seam at each match.{more}".strip()]
    if not step.notches:
        return ["Match the two ends and pin, then pin the rest between them."]
    several = "notches" if len(step.notches) > 1 else "notch"
    return [f"Match the two ends, then the {several} {listed(signs)}; pin there, then between."]


def _stitching(step: Step, units: Units) -> list[str]:
    allowance = length(step.allowance, units)
    if step.facing == "wrong sides together":
        first = step.allowance - FRENCH_SECOND - FRENCH_CLOTH
        return [
            f"First row, wrong sides together: stitch {length(first, units)} from the edge. Trim the "
            "allowance to "
            f"{length(FRENCH_TRIM, units)}, press it to one side, fold so that right sides lie together, and "
            "press "
            "the seam sharply on its fold.",
            f"Second row: stitch {length(FRENCH_SECOND, units)} from the fold. The raw edges are now shut "
            "inside; no "
            "thread may show on the right side.",
        ]
    once = f"Stitch {allowance} from the edge, from end to end, with a few stitches back at both ends."
    if step.rows == 1:
        return [once]
    return [
        once,
        f"Stitch a second row {length(SECOND_ROW, units)} outside the first, in the allowance.",
    ]


def _finish_words(neatening: Neatening, step: Step, units: Units) -> str:
    if neatening.finish == "none needed":
        return "The cloth does not fray: leave the edges as they are."
    verb = FINISHES[neatening.finish].capitalize()
    trim = f"Trim the curved part to {length(step.trim_to, units)}. " if step.trim_to else ""
    if neatening.how == "in the seam" and neatening.finish == "overlocked":
        return "The overlocker sews and neatens in one: guide it so that the needle falls on the seam line."
    return f"{trim}{verb} both edges together."


def _pressing(step: Step, garment: Garment, a: Sequence[Run], b: Sequence[Run]) -> list[str]:
    same = {r.piece for r in a} == {r.piece for r in b}
    towards = {
        "open": "Press the seam as it was sewn, then press it open.",
        "to a": f"Press it towards the {piece_title(garment, a[0].piece)}.",
        "to b": f"Press it towards the {piece_title(garment, b[0].piece)}.",
        "up": "Press it upwards.",
        "down": "Press it downwards.",
    }
    if same and step.pressed in ("to a", "to b"):
        curved = step.rows > 1 and step.seam_type is not None and step.seam_type.name != "French seam"
        return ["Press the straight parts to one side; leave the curve as it falls."] if curved else [ASIDE]
    return [towards[step.pressed]] if step.pressed in towards else []


def _dart(step: Step) -> list[str]:
    return [
        "Fold the piece along the middle of the dart, right sides together, so that its two legs meet; pin.",
        "Stitch from the edge to the tip, running out along the fold; leave long threads and knot them.",
        "Press the dart towards the centre, over something rounded.",
    ]


# ---- patches -----------------------------------------------------------------------------------


def _fold_in(step: Step, garment: Garment, units: Units) -> list[str]:
    piece = garment.piece(step.edges[0].piece)
    return [
        f"Lay each {piece.title.lower()} wrong side up and press {length(step.allowance, units)} to the wrong "
        "side all round, except at the finished top: first the base, then the sides.",
        _corners(step, garment),
    ]


def _corners(step: Step, garment: Garment) -> str:
    """How the corners of a patch come out well."""
    if turning_of(garment, step.edges) >= CURVED_DEG:
        return (
            "Round corners lie smooth over a card of the finished shape: a row of long stitches in the "
            "allowance, "
            "drawn up round the card, then pressed."
        )
    return (
        "A card cut to the finished shape and laid inside gives sharp corners. Fold the surplus of each "
        "corner in so "
        "that nothing peeps out."
    )


def _patch(step: Step, garment: Garment, units: Units) -> list[str]:
    join = step.joins[0]
    patch, ground = piece_title(garment, join.a[0].piece), piece_title(garment, join.b[0].piece)
    said = [
        f"Lay the {ground} flat, right side up. Put the {patch} on its marked place, right side up, its "
        "pressed "
        "edges on the line; pin at the corners, then between.",
        f"Stitch {length(step.allowance, units)} inside the folded edge: down one side, along the base, up the "
        "other, turning at the corners with the needle down.",
        "At both upper corners stitch a small triangle, or several times back and forth: that is where "
        "pockets tear.",
    ]
    if step.times > 1:
        said.append("Before you stitch the other, lay both grounds on each other: they must sit at one height.")
    return said


# ---- turned edges ------------------------------------------------------------------------------


def _folding(step: Step, units: Units) -> list[str]:
    if step.fold_in == 0:
        return [f"Fold the edge {length(step.turn, units)} to the wrong side all along, and press."]
    rest = step.turn - step.fold_in
    return [
        f"Fold the raw edge {length(step.fold_in, units)} to the wrong side and press.",
        f"Fold again, {length(rest, units)}, measuring as you go, press and pin.",
    ]


def _turn(step: Step, garment: Garment, units: Units) -> list[str]:
    near = f"{length(step.allowance, units)} from the inner fold"
    if not step.fold_in:
        near = f"{length(FROM_NEATENED, units)} from the neatened edge"
    if step.why == "casing":
        return [
            "Leave the work inside out, waist up.",
            *_folding(step, units),
            f"Stitch {near}, all round, starting {_where(step)}. Stop {length(step.opening, units)} "
            "before "
            "you come round: through this gap goes the elastic.",
        ]
    if step.why == "pocket top":
        return [
            f"Lay each {piece_title(garment, step.edges[0].piece)} wrong side up.",
            *_folding(step, units),
            f"Stitch {near} and press.",
        ]
    said = [
        "Work inside out, hem up." if step.round else "Lay the work wrong side up.",
        *_folding(step, units),
        f"Stitch {near}, {'starting and ending at a seam' if step.round else 'from end to end'}; press.",
    ]
    if step.times > 1:
        said.append("Before you stitch the second, lay both on each other: they must be of one length.")
    return said


def _where(step: Step) -> str:
    """Where the gap for the elastic is left."""
    return "just behind one side seam" if step.held_at else "beside the back seam"


def _held_elastic(step: Step, units: Units) -> list[str]:
    """Elastic through the back only, its ends sewn down."""
    there = "at the side seam" if step.held_at == "side seams" else "at the mark on the front"
    return [
        f"Cut the elastic {length(step.elastic_length, units)} long and a lap of {length(LAP, units)} more to "
        "hold on to.",
        "With a safety pin in one end, push it in at the gap and through the back, flat, until its end lies "
        f"{there} on the far side. Pin; stitch down through all layers there, twice, across the elastic.",
        f"Draw the near end up until it lies {there} on this side, {length(step.elastic_length, units)} of "
        "elastic "
        "between the two places, and pin. Try on: it should hold and not bite.",
        "Stitch the near end down in the same way, cut off what is over, and close the gap in the line of the "
        "rest.",
        "Spread the gathers evenly over the back. The front stays flat.",
    ]


def _elastic(step: Step, garment: Garment, units: Units) -> list[str]:
    if step.held_at:
        return _held_elastic(step, units)
    cut = (
        f"Cut the elastic {length(step.elastic_length, units)} long, the lap of {length(LAP, units)} included."
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
        "Spread the gathers evenly. Stitch through the elastic in the side seams, so that it cannot turn.",
    ]


def _try_on(step: Step, garment: Garment, units: Units) -> list[str]:
    turns = [free.turn for free in garment.free_edges if free.kind == "hem"]
    said = [
        "Try it on with the shoes it will be worn with. Turn the hem up and pin it, then look from all sides.",
        "Sit down, walk, lift a knee. Mark the length where you want it, even all round, from the floor up.",
    ]
    if turns:
        said.append(f"If it is to be shorter, cut it off now, {length(turns[0], units)} below the new length.")
    return said


def _hang(step: Step, garment: Garment, units: Units) -> list[str]:
    return [
        f"Hang it up by the waist for at least {step.wait_hours:g} hours.",
        "Then put it on and have the hem marked at one height from the floor all round; trim to the turn below "
        "the marks.",
    ]


def _press(step: Step, garment: Garment, units: Units) -> list[str]:
    return [
        "Take out every pin and thread; count the pins.",
        "Press the whole from the wrong side, seams first, then hems. Let it cool on the hanger.",
    ]
