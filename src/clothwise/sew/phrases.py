"""The words that sentences are made of: names of edges and finishes, reasons, lengths, times, lists."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from clothwise.garment import Garment, Run
from clothwise.sew.sewer import Units
from clothwise.sew.step import Span
from clothwise.units import format_length

SMALL = 1.0  # cm: below, centimetres are said in millimetres
QUARTER, LONG = 15.0, 120.0  # minutes: from so long on, quarters of an hour are enough
HARD = "\u00a0"  # a space that holds a line together
ROUND_TO = 5.0  # minutes: nobody sews by the single minute

# ---- names -------------------------------------------------------------------------------------

EDGE_NAMES = {
    "side_seam": "side",
    "inside_leg": "inseam",
    "crotch_curve": "crotch",
    "side_upper": "upper side",
    "side_lower": "lower side",
    "pocket_opening": "pocket opening",
    "outer": "outer",
    "inner": "inner",
    "end": "end",
    "start": "end",
    "other_end": "end",
}

FINISHES = {
    "overlocked": "overlock",
    "zigzagged": "zigzag",
    "pinked": "pink",
    "enclosed": "close the edges inside the seam",
    "inside": "leave the edges: they are shut in",
    "folded in": "fold the edge in",
    "none needed": "leave the edges as they are",
}

STOP = "A good place to stop for today."

WHY = {
    "mark": "Pieces of one make look alike once they are cut, and a left can pass for a right.",
    "fuse": "Interfacing goes on first, while every piece is flat: it holds edges that must not grow, and "
    "shapes "
    "what must stand.",
    "stay": "Curves stretch while they wait; a line of stitches holds them to the length of the paper.",
    "neaten flat": "Now every edge is flat and single. Later it would be a tube.",
    "dart": "Pressed over a curve, the dart's tip melts into the cloth.",
    "crease": "Folds pressed while the strip is flat fall into place by themselves later.",
    "gather": "Two rows hold the folds upright and even; one alone lets them roll over.",
    "ease": "The head of the sleeve is longer than the armhole, so that it goes over the shoulder's round. "
    "Drawn "
    "in without a fold, the extra length becomes shape.",
    "eyelet": "Through one layer and a backing now; once the edge is folded down, the holes would go through "
    "both.",
    "crotch": "This seam takes all the strain of sitting, so it gets two rows. Sewn last of the seams and in "
    "one go, it crosses the inseams smoothly.",
    "fold in": "Edges pressed first need no holding while you sew.",
    "patch flat": "A pocket is far easier to set while its ground is one flat piece.",
    "strap": "Pinned first and tried on, it can still be made shorter.",
    "pocket top": "The opening takes the wear, and can no longer be reached once the pocket is on.",
    "stand": "Turned now, the front edges are ready when the neck is sewn across their ends.",
    "bag first": "With the bags on first, the side seam and the bag are sewn in one line.",
    "in one go": "The seam between lies open and flat, so the needle can run on without a stop.",
    "facing": "Stitched to its own allowances, the facing rolls inwards and stays out of sight.",
    "rolled": "Sewn all round with the sides closed, it could not be turned: with the sides open it is drawn "
    "through "
    "at the shoulder.",
    "layers": "What is trimmed narrow and turned well gives a thin, sharp edge.",
    "sandwich": "Every raw edge ends up between the two layers: nothing is left to neaten.",
    "binding": "The binding is the finish: no edge of this seam is seen or frays.",
    "folded band": "The band is a little shorter than the edge; shared out evenly it pulls the edge in flat.",
    "gathered": "With the gathers on top you see every fold before the needle reaches it.",
    "stretched": "The band is a little shorter than the edge; shared out evenly it pulls the edge in flat.",
    "flat cap": "There is little or no extra length in the sleeve head, so it goes in flat, before the sides "
    "are "
    "closed: easier to reach and to press.",
    "round cap": "A sleeve head with this much extra length is shaped best in the round, where it already is "
    "the "
    "tube it will be.",
    "round band": "Sewn on as a ring, its own seam stays narrow and its edge runs round without a step.",
    "knit shoulder": "A knit grows where it hangs. A strip of tape, or of the cloth's own edge, sewn in with "
    "the "
    "shoulder seams holds them.",
    "band": "From the right side the stitching disappears in the seam or lies close beside it.",
    "zip": "It goes in while the work lies flat, before anything is sewn across its upper end.",
    "casing": "",
    "elastic": "Elastic differs. Only on the body do you know how tight it should be.",
    "ring elastic": "A ring of elastic laid in the fold is caught by the band itself and needs no threading.",
    "cord": "",
    "buttons": "Last of all: now you see where the garment pulls, and nothing is in the machine's way.",
    "hem": "",
    "frill hem": "A frill is hemmed while it is still one flat strip.",
    "try on": "Until it is hemmed, the length is free.",
    "hang": "Parts cut off the straight grain drop by themselves, some more than others.",
    "press": "Half of what makes a garment look well made is done with the iron.",
}

OTHER_WAY = "It can also be sewn {way}. {why}"
ALTERNATIVE_WHY = {
    "round band": WHY["round band"],
    "flat quick": "Flat is quicker and reaches places that are too narrow for the machine; a seam then runs "
    "through "
    "the finished edge.",
    "round gathers": "In the round the gathers run on over the seam.",
    "round facing": "Closed first, the facing lies without a ridge at the seams.",
    "flat facing": "Sewn flat, garment and facing are closed in one seam afterwards: easier to fit.",
    "round cap": WHY["round cap"],
    "flat cap eased": "Flat is easier to reach, on a child's garment above all; the head must be eased on a "
    "curve.",
    "flat cap": WHY["flat cap"],
    "round looks": "Set in the round, the seam under the arm stands up and bulks less.",
}


def edge_name(line: str) -> str:
    """The plain name of an edge or placement line."""
    return EDGE_NAMES.get(line, line.replace("_", " ").rstrip("0123456789 "))


def piece_title(garment: Garment, name: str) -> str:
    """The piece's title in running text: 'front leg'."""
    title = garment.piece(name).title
    return title[:1].lower() + title[1:]


def piece_titles(garment: Garment, name: str) -> str:
    """Several of them: 'front legs'."""
    title = piece_title(garment, name)
    return title if title.endswith("s") else f"{title}s"


def these(garment: Garment, name: str) -> str:
    """'fronts' where several are cut, else 'front'."""
    return piece_titles(garment, name) if garment.piece(name).copies > 1 else piece_title(garment, name)


def named_pieces(garment: Garment, runs: Iterable[Run]) -> str:
    """'front' or 'front and back', each once."""
    return listed(list(dict.fromkeys(piece_title(garment, run.piece) for run in runs)))


def named_edges(runs: Iterable[Run]) -> str:
    """'side' or 'neck and slit', each once."""
    return listed(list(dict.fromkeys(edge_name(run.line) for run in runs)))


def edges_of(runs: Iterable[Run], *, several: bool = False) -> str:
    """'side edge', 'neck and slit edges', 'front edge'."""
    names = list(dict.fromkeys(edge_name(run.line) for run in runs))
    word = "edges" if several or len(names) > 1 else "edge"
    text = listed([name.removesuffix(" edge") for name in names])
    return f"{text} {word}"


def are(names: str) -> str:
    """'is' or 'are', by whether several pieces are named."""
    return "are" if " and " in names else "is"


def titles(title: str) -> str:
    """Titles of seams sewn in one go: 'Side seams and sleeve seams, in one go'."""
    parts = title.split(" + ")
    if len(parts) == 1:
        return title
    return f"{listed([parts[0], *(part[:1].lower() + part[1:] for part in parts[1:])])}, in one go"


def lower(title: str) -> str:
    """A title in running text."""
    return title[:1].lower() + title[1:]


def length(cm: float, units: Units) -> str:
    """A length as the sewer reads it: '1.5 cm', '2 mm', '5/8 in'."""
    if units == "inch":
        return format_length(cm, "in")
    if cm < SMALL:
        return format_length(cm, "mm")
    text = format_length(cm, "cm", with_unit=False)
    return f"{text.removesuffix('.0')} cm"


def about(span: Span) -> str:
    """'about 25 minutes', rounded to five; below five to the minute."""
    return f"about {_round(span.likely)} min"


def _round(minutes: float) -> int:
    step = ROUND_TO if minutes >= ROUND_TO else 1.0
    return max(1, round(math.floor(minutes / step + 0.5) * step))


def hours(minutes: float) -> str:
    """'2 h 30 min', '45 min'; long ones to the quarter of an hour."""
    whole = _round(minutes)
    if whole < 60:
        return f"{whole}{HARD}min"
    h, rest = divmod(round(minutes / QUARTER) * round(QUARTER), 60) if minutes > LONG else divmod(whole, 60)
    return f"{h}{HARD}h {rest}{HARD}min" if rest else f"{h}{HARD}h"


def listed(items: Sequence[str]) -> str:
    """'a', 'a and b', 'a, b and c'."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} and {items[-1]}"


def sign_list(signs: Sequence[str]) -> str:
    """Notches by their signs, in quotes."""
    return listed([f"“{sign.replace('_', ' ')}”" for sign in signs])
