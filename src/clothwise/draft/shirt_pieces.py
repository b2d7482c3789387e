"""The pieces of a button-front shirt and how they become a garment.

A band collar is sewn to a front whose stand is turned back; a camp collar lies between the neck and a
facing that goes down the front.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import UP, Point, line, sweep
from clothwise.draft import (
    bust_dart,
    button_stand,
    collar,
    cuff,
    facing,
    hem,
    level,
    sleeve,
    sleeve_slit,
    top_joined,
)
from clothwise.draft.collar import BAND
from clothwise.draft.darts import Part, Ring
from clothwise.draft.narrow_hem import EASED_AWAY
from clothwise.draft.neckline import square_to_shoulder
from clothwise.draft.pattern import Wish
from clothwise.draft.shirt_parts import (
    NAME,
    NO_DART,
    TAIL,
    Drawn,
    buttons_at_wrist,
    cuff_deep,
    cuff_long,
    cuff_round,
    cuffed,
)
from clothwise.draft.top_body import BACK, CURVED_SEAM, FRONT, SEAM, across, edges_of, piece
from clothwise.draft.turned_over import turned_over
from clothwise.errors import ChoiceError
from clothwise.garment import FreeEdge, Garment, Joint, Level, Mark, Passage, Piece, Run, Seam
from clothwise.garment.notches import notched
from clothwise.garment.piece import EdgeKind

FRONT_FACING, BACK_FACING = "front_facing", "back_facing"
FACING_AT_SHOULDER = 4.5  # cm
FACING_AT_HEM = 7.0  # cm from the front edge: wider than the buttonholes reach
FACING_TURNS = 0.5  # of the way from hem to neck the facing's edge runs straight up
TAIL_HEM = 1.2  # cm (rule 1-1.3)
NOTCH_FREE = 3.0  # cm: a notch is set no nearer to an end of its seam
FACING_GRAIN = (0.15, 0.55)  # of the way from hem to first button
GRAIN_AT = 5.0  # cm from the centre: clear of the buttons


@dataclass(frozen=True, slots=True)
class Rings:
    """Front and back before they are cut, the front with its stand; half width of the front at the bust."""

    front: Ring
    back: Ring
    bust: float


def garment_of(body: Body, wish: Wish, found: Drawn) -> Garment:
    """The whole shirt."""
    band = wish["collar"] == BAND
    darted = bust_dart.darted(found.frame, found.front, _dart(wish), float(wish["dart_split"]))
    front = button_stand.with_stand(darted.ring, found.stand.half, lapel=not band)
    rings = Rings(front, found.back.ring(), darted.bust)
    turn = _turn(body, wish, found, rings)
    sleeve_piece, *slit_facing = _sleeve(body, wish, found)
    pieces = (
        _front(found, darted, front, turn, band),
        _back(found, rings.back, turn),
        sleeve_piece,
        *slit_facing,
        *_cuff(body, wish),
        _collar(body, wish, found),
        *(() if band else _facings(found, rings, turn)),
    )
    garment = Garment(
        name=NAME,
        title="Button-front shirt",
        pieces=pieces,
        seams=_seams(body, wish, found, rings, sleeve_piece),
        free_edges=_free_edges(wish, found, turn, sleeve_piece),
        joints=(*top_joined.joints(front, rings.back), *_sleeve_joints(wish)),
        levels=_levels(body, found, rings),
        passages=_passages(body, wish),
        notions=(button_stand.notion(found.stand, _more_buttons(wish), "stand" if band else "front_edge"),),
        notes=(*found.notes, sleeve_slit.NOTE) if buttons_at_wrist(wish) else found.notes,
        choices=wish,
        finished=_finished(body, wish, found, rings, sleeve_piece),
        for_child=body.child,
        body_name=body.name,
    )
    return _with_notches(garment, found)


def _dart(wish: Wish) -> str:
    return bust_dart.SIDE if wish["dart"] == NO_DART else str(wish["dart"])


def _turn(body: Body, wish: Wish, found: Drawn, rings: Rings) -> float:
    if wish["hem_shape"] == TAIL:
        if "hem" in wish:
            raise ChoiceError(
                f"A shirt tail curves too much for a hem of {float(wish['hem']):g} cm.",
                where=f"pattern '{NAME}', choice 'hem'",
                mend=f"Leave it open: it is turned {TAIL_HEM:g} cm; or choose a straight hem.",
            )
        return min(TAIL_HEM, EASED_AWAY / hem.sharpest(found.front.hem, found.back.hem))
    wished = float(wish["hem"]) if "hem" in wish else None
    usual = hem.deepened_for_growth(hem.FLARED_SKIRT_HEM, body.child)
    return hem.hem_depth(usual, wished, found.front.hem, found.back.hem)


# ---- pieces ------------------------------------------------------------------------------------------------


def _kinds(turn: float) -> dict[str, tuple[EdgeKind, float]]:
    return {
        "hem": ("hem", turn),
        "side": ("seam", SEAM),
        "armhole": ("seam", CURVED_SEAM),
        "shoulder": ("seam", SEAM),
        "neck": ("seam", CURVED_SEAM),
        "lapel": ("seam", CURVED_SEAM),
        "outer": ("raw", 0.0),
        "centre": ("fold", 0.0),
    }


def _front(found: Drawn, darted: bust_dart.Darted, ring: Ring, turn: float, band: bool) -> Piece:
    edge: tuple[EdgeKind, float] = ("hem", found.stand.turn) if band else ("seam", CURVED_SEAM)
    neck_y = found.front.neck[-1].end.y
    marks = (
        darted.bust_line,
        *_levels_on(ring, found),
        *button_stand.marks(found.stand, neck_y, found.front.hem.start.y),
        *bust_dart.bust_point(found.frame),
    )
    edges = edges_of(ring, {**_kinds(turn), "front_edge": edge})
    return piece(FRONT, "Front", edges, marks, darted.darts, "pair", grain_at=GRAIN_AT)


def _back(found: Drawn, ring: Ring, turn: float) -> Piece:
    marks = (across("bust", ring, found.frame.bust_level), *_levels_on(ring, found))
    return turned_over(piece(BACK, "Back", edges_of(ring, _kinds(turn)), marks))


def _levels_on(ring: Ring, found: Drawn) -> tuple[Mark, ...]:
    adjust = replace(across("adjust_length", ring, -found.hip_depth / 2), kind="adjust")
    return across("waist", ring, 0.0), across("hip", ring, -found.hip_depth), adjust


def _more_buttons(wish: Wish) -> int:
    """Besides those down the front: on the collar band, on both cuffs."""
    return (wish["collar"] == BAND) + 2 * buttons_at_wrist(wish)


def _cuff(body: Body, wish: Wish) -> tuple[Piece, ...]:
    if not cuffed(wish):
        return ()
    make = cuff.buttoned if buttons_at_wrist(wish) else cuff.piece
    return (make(cuff_long(body, wish), cuff_deep(body)),)


def _sleeve_joints(wish: Wish) -> tuple[Joint, ...]:
    if buttons_at_wrist(wish):
        return sleeve.joints(sleeve_slit.WRIST_FRONT, sleeve_slit.WRIST_BACK)
    return sleeve.joints("wrist" if cuffed(wish) else "hem")


def _sleeve(body: Body, wish: Wish, found: Drawn) -> tuple[Piece, ...]:
    """The sleeve, and the facing of its slit if it has one."""
    length = sleeve.length_from_shoulder(
        body, str(wish["sleeve"]), found.cap.height, float(wish["sleeve_longer"])
    )
    if not cuffed(wish):
        return (sleeve.piece(found.cap, length, sleeve.hem_girth(body, found.cap, length)),)
    girth = min(cuff.FULL * cuff_long(body, wish), found.cap.width)
    made = sleeve.piece(found.cap, length - cuff_deep(body), girth, cuffed=True)
    return sleeve_slit.slit_in(made, sleeve_slit.depth(body)) if buttons_at_wrist(wish) else (made,)


def _collar(body: Body, wish: Wish, found: Drawn) -> Piece:
    half = found.neck + (found.stand.half if wish["collar"] == BAND else 0.0)
    made = collar.piece(str(wish["collar"]), body, found.back.neck_length, half)
    if wish["collar"] != BAND:
        return made
    return replace(made, marks=(*made.marks, *collar.band_button(body, made, found.stand)))


def _facings(found: Drawn, rings: Rings, turn: float) -> tuple[Piece, Piece]:
    """Of a camp collar: down the fronts, and round the back neck."""
    kinds: dict[str, tuple[EdgeKind, float]] = {**_kinds(turn), "front_edge": ("seam", CURVED_SEAM)}
    front = Piece(
        FRONT_FACING,
        "Front facing",
        edges_of(_front_facing(found, rings), kinds),
        _facing_grain(found),
        interfaced=True,
    )
    neck = (found.back.neck[0],)
    ring = facing.neck_ring(neck, found.frame.back.slope_deg, FACING_AT_SHOULDER, facing.WIDTH)
    edges = edges_of(ring, kinds)
    return front, turned_over(piece(BACK_FACING, "Back neck facing", edges, interfaced=True, grain_at=2.0))


def _front_facing(found: Drawn, rings: Rings) -> Ring:
    """Hem, outer edge up to the shoulder, shoulder, neck, lapel and front edge."""
    parts = {part.name: part for part in rings.front}
    low = parts["hem"].curve.part(0.0, FACING_AT_HEM)
    neck = found.front.neck[0]
    slope = found.frame.front.slope_deg
    square = square_to_shoulder(slope)
    shoulder = line(neck.start.go(square.left(), FACING_AT_SHOULDER), neck.start)
    turn = low.end.up(FACING_TURNS * (shoulder.start.y - low.end.y))
    outer = line(low.end, turn).then(sweep(turn, UP, shoulder.start, square.back()))
    return (
        Part("hem", low),
        Part("outer", outer),
        Part("shoulder", shoulder),
        Part("neck", neck),
        parts["lapel"],
        parts["front_edge"],
    )


def _facing_grain(found: Drawn) -> tuple[Point, Point]:
    """Parallel to the front edge, over its lower half."""
    low = found.front.hem.start.right(FACING_AT_HEM / 2 - found.stand.half)
    whole = found.stand.heights[0] - low.y
    return low.up(FACING_GRAIN[0] * whole), low.up(FACING_GRAIN[1] * whole)


# ---- seams -------------------------------------------------------------------------------------------------


def _seams(body: Body, wish: Wish, found: Drawn, rings: Rings, sleeve_piece: Piece) -> tuple[Seam, ...]:
    front, back = rings.front, rings.back
    neck = top_joined.round_the_back((Run(BACK, "neck"), Run(FRONT, "neck")))
    around = (Run(collar.PIECE, "neck"),)
    seams = [
        top_joined.shoulder_seam(front),
        top_joined.side_seams(front),
        sleeve.set_in(top_joined.armhole_walk(front, back), found.cap.ease),
        sleeve.UNDERARM,
        collar.outer_seam(str(wish["collar"])),
    ]
    if wish["collar"] == BAND:
        seams.append(Seam("neck", "Collar to the neck", around, neck, after=("collar_outer", "stand")))
    else:
        faced = top_joined.round_the_back((Run(BACK_FACING, "neck"), Run(FRONT_FACING, "neck")))
        inner, outer = ((Run(p, "lapel"), Run(p, "front_edge")) for p in (FRONT_FACING, FRONT))
        walk = (Run(FRONT_FACING, "shoulder", backwards=True),)
        seams += [
            Seam("facing_shoulder", "Facing shoulder seams", (Run(BACK_FACING, "shoulder"),), walk, times=2),
            Seam("neck", "Collar between neck and facing", faced, neck, "applied", more=(around, around)),
            Seam("front_edge", "Facings at the front edges", inner, outer, "applied", times=2, after=("neck",)),
        ]
    if buttons_at_wrist(wish):
        ends = sleeve_slit.WRIST_BACK, sleeve_slit.WRIST_FRONT
        full = sum(sleeve_piece.edge(name).curve.length() for name in ends) / cuff_long(body, wish)
        seams += [
            sleeve_slit.seam(sleeve.PIECE),
            cuff.sewn_to_slit(sleeve.PIECE, *ends, full, sleeve_slit.SLIT),
        ]
    elif cuffed(wish):
        full = sleeve_piece.edge("wrist").curve.length() / cuff_round(body, wish)
        seams += cuff.seams(sleeve.PIECE, "wrist", full)
    return tuple(seams)


def _free_edges(wish: Wish, found: Drawn, turn: float, sleeve_piece: Piece) -> tuple[FreeEdge, ...]:
    edges = [hem.hem_edge("Hem", top_joined.hem_round(), turn, closed=False)]
    if wish["collar"] == BAND:
        stand, width = found.stand, collar.SEAM
        runs = (Run(FRONT, "front_edge"),)
        inside = (Run(collar.PIECE, "neck"),)
        edges += [
            FreeEdge(
                "stand", "Button stands", runs, "stand", stand.turn, button_stand.FOLD_IN, closed=False, times=2
            ),
            FreeEdge("collar_inside", "Inside of the collar", inside, "band", width, width, closed=False),
        ]
    else:
        low = hem.hem_edge("Hems of the facings", (Run(FRONT_FACING, "hem"),), turn, times=2, closed=False)
        edges.append(replace(low, name="facing_hem"))
    if cuffed(wish):
        edges.append(cuff.sewn_down_with_ends() if buttons_at_wrist(wish) else cuff.sewn_down())
    else:
        depth = sleeve_piece.edge("hem").allowance
        low = hem.hem_edge("Sleeve hems", (Run(sleeve.PIECE, "hem"),), depth, times=2)
        edges.append(replace(low, name="sleeve_hem"))
    return tuple(edges)


# ---- what it promises --------------------------------------------------------------------------------------


def _levels(body: Body, found: Drawn, rings: Rings) -> tuple[Level, ...]:
    arm = body["upper_arm_girth"]
    girths = (
        ("bust", "Bust", body["bust_girth"], 2 * (rings.bust + found.frame.side_back)),
        ("waist", "Waist", body["waist_girth"], 2 * found.half_waist),
        ("hip", "Hip", body["hip_girth"], 2 * found.half_hip),
    )
    levels = [
        Level(name, title, ((FRONT, name, 2), (BACK, name, 2)), girth, made - girth)
        for name, title, girth, made in girths
    ]
    sleeves = ((sleeve.PIECE, "upper_arm", 1),)
    return (*levels, Level("upper_arm", "Upper arm", sleeves, arm, found.cap.width - arm))


def _passages(body: Body, wish: Wish) -> tuple[Passage, ...]:
    through = sleeve.over_hand(body)
    if not cuffed(wish):
        return (through,)
    slit = ((sleeve.PIECE, sleeve_slit.SLIT, 1),) if buttons_at_wrist(wish) else ()
    return (replace(through, runs=((cuff.PIECE, "outer", 1), *slit)),)


def _finished(body: Body, wish: Wish, found: Drawn, rings: Rings, sleeve_piece: Piece) -> dict[str, float]:
    """Finished measures in the trade's words; girths closed, centre on centre. [cm]"""
    hem_length = (
        next(part for part in rings.front if part.name == "hem").curve.length() + found.back.hem.length()
    )
    finished = {
        "bust": 2 * (rings.bust + found.frame.side_back),
        "waist": 2 * found.half_waist,
        "hip": 2 * found.half_hip,
        "hem": 2 * hem_length,
        "collar": 2 * found.neck,
        "back length": found.back.neck[-1].end.y + found.depth,
        "upper_arm": found.cap.width,
    }
    longer = float(wish["sleeve_longer"])
    finished["sleeve length"] = sleeve.length_from_shoulder(body, str(wish["sleeve"]), found.cap.height, longer)
    finished["sleeve end"] = cuff_round(body, wish) if cuffed(wish) else sleeve_piece.edge("hem").curve.length()
    return finished


def _with_notches(garment: Garment, found: Drawn) -> Garment:
    """Match marks: the waist at the side; the armhole's single and double."""
    side = found.front.side.length() - level.distance_to(found.front.side, 0.0)
    if side > NOTCH_FREE:
        garment = notched(garment, "side_seam", side, "waist")
    return top_joined.armhole_notched(garment, "sleeve", found.armhole)
