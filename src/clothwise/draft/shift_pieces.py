"""The pieces of a darted shift and how they become a garment."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import Curve, line
from clothwise.draft import (
    back_opening,
    bust_dart,
    cap_sleeve,
    facing,
    hem,
    level,
    shift_seamed,
    side_seam,
    sleeve,
    top_joined,
    waist_seam,
)
from clothwise.draft.darts import Ring
from clothwise.draft.pattern import Wish
from clothwise.draft.shift_parts import CAP, FLUTTER, NAME, NO_SLEEVE, OVER_BUST, SEAMED, Drawn
from clothwise.draft.top_body import BACK, CURVED_SEAM, FRONT, SEAM, across, edges_of, names_of, piece
from clothwise.draft.turned_over import turned_over
from clothwise.draft.waist_seam import Parted
from clothwise.errors import ChoiceError
from clothwise.garment import (
    Corner,
    Dart,
    FreeEdge,
    Garment,
    Joint,
    Level,
    Mark,
    Notion,
    Passage,
    Piece,
    Run,
    Seam,
)
from clothwise.garment.notches import notched
from clothwise.garment.piece import Cutting, EdgeKind

FRONT_FACING, BACK_FACING = "front_facing", "back_facing"
FACINGS = (FRONT_FACING, BACK_FACING)
NOTCH_FREE = 3.0  # cm: a notch is set no nearer to an end of its seam
OPENING = "opening"
UNDER_SLIT = 0.3  # cm
FLARED = 0.07  # out per cm down: from here on the hem is turned as a flared one
FACING_GRAIN = 2.0  # cm from the centre: clear of the fold's bracket and of a slit
HEAD_NEEDS = 1.5  # cm (rule 2-3; the slit is rounded at its end)
BELOW_BUST = 3.0  # cm: a waist dart ends below the bust point


@dataclass(frozen=True, slots=True)
class Rings:
    """Edges of the pieces before they are cut: front and back, and their facings; darts and lines of the
    front.
    """

    front: Ring
    back: Ring
    front_facing: Ring
    back_facing: Ring
    front_piece: Piece
    back_piece: Piece
    bust: float  # finished, in the round
    skirts: tuple[Piece, ...] = ()  # of front and back, where a seam runs round the waist


def garment_of(body: Body, wish: Wish, found: Drawn) -> Garment:
    """The whole shift."""
    turn = _turn(body, wish, found)
    rings = _rings(body, wish, found, turn)
    facings = _facing_pieces(wish, found, rings)
    sleeves = _sleeve_pieces(body, wish, found)
    pieces = (rings.front_piece, rings.back_piece, *rings.skirts, *sleeves, *facings)
    garment = Garment(
        name=NAME,
        title="Darted shift",
        pieces=pieces,
        seams=_seams(wish, found, rings),
        free_edges=_free_edges(wish, found, turn, sleeves),
        joints=_joints(wish, found, rings),
        levels=_levels(body, found, rings),
        passages=_passages(body, wish, found, rings),
        notions=_notions(found),
        notes=found.notes,
        choices=wish,
        finished=_finished(body, wish, found, rings, sleeves),
        for_child=body.child,
        body_name=body.name,
    )
    if rings.skirts:
        garment = shift_seamed.joined(garment, zipped=found.opening == back_opening.ZIP)
    return _with_notches(garment, wish, found, rings)


def _turn(body: Body, wish: Wish, found: Drawn) -> float:
    usual = hem.FLARED_SKIRT_HEM if found.shape.flare > FLARED else hem.STRAIGHT_SKIRT_HEM
    usual = hem.deepened_for_growth(usual, body.child)
    wished = float(wish["hem"]) if "hem" in wish else None
    return hem.hem_depth(usual, wished, found.front.hem, found.back.hem)


# ---- rings and pieces --------------------------------------------------------------------------------------


def _rings(body: Body, wish: Wish, found: Drawn, turn: float) -> Rings:
    front, skirt_front = _front(wish, found)
    front_ring, back_ring = front.ring, _back_ring(found)
    seamed = wish["waist"] == SEAMED
    if seamed:
        halves = shift_seamed.back(found, _back_waist_darts(body, found), back_ring)
        back_ring = halves.bodice
    front_facing, back_facing = _facing_rings(wish, found)
    if wish["sleeve"] == CAP:
        front_ring, back_ring = cap_sleeve.parted(front_ring), cap_sleeve.parted(back_ring)
        front_facing, back_facing = cap_sleeve.parted(front_facing), cap_sleeve.parted(back_facing)
    cap_ends = [cap_sleeve.end_mark(ring) if wish["sleeve"] == CAP else () for ring in (front_ring, back_ring)]
    kinds: dict[str, tuple[EdgeKind, float]] = {
        "hem": ("hem", turn),
        "side": ("seam", SEAM),
        "armhole": ("seam", CURVED_SEAM),
        "shoulder": ("seam", SEAM),
        "neck": ("seam", CURVED_SEAM),
        "centre": ("fold", 0.0),
        "waist": ("seam", SEAM),
        OPENING: ("seam", back_opening.ALLOWANCE),
    }
    pointed = wish["neckline"] == "V"
    darts = front.darts if seamed else (*front.darts, *_front_waist_darts(found))
    marks = (front.bust_line, *(() if seamed else _marks(front_ring, found)), *cap_ends[0])
    front_piece = piece(
        FRONT,
        "Front bodice" if seamed else "Front",
        edges_of(front_ring, kinds, pointed),
        (*marks, *bust_dart.bust_point(found.frame)),
        darts,
    )
    zipped = found.opening == back_opening.ZIP
    if zipped:
        seam: tuple[EdgeKind, float] = ("seam", back_opening.ZIP_ALLOWANCE)
        kinds = {**kinds, "centre": seam, back_opening.ZIP: seam}
    cutting: Cutting = "pair" if zipped else "on fold"
    back_piece = piece(
        BACK,
        "Back bodice" if seamed else "Back",
        edges_of(back_ring, kinds),
        (
            across("bust", back_ring, _back_bust(found)),
            *(() if seamed else _marks(back_ring, found)),
            *cap_ends[1],
        ),
        waist_seam.darts_of(back_ring, halves.bodice_wedges) if seamed else _back_waist_darts(body, found),
        cutting,
    )
    bust = 2 * (front.bust + found.frame.side_back)
    skirts: tuple[Piece, ...] = ()
    if seamed:
        front_skirt = shift_seamed.skirt(
            found, skirt_front, {**kinds, "centre": ("fold", 0.0)}, FRONT, "on fold"
        )
        skirts = front_skirt, turned_over(shift_seamed.skirt(found, halves, kinds, BACK, cutting))
    return Rings(
        front_ring, back_ring, front_facing, back_facing, front_piece, turned_over(back_piece), bust, skirts
    )


def _front(wish: Wish, found: Drawn) -> tuple[bust_dart.Darted, Parted | None]:
    """The front with its darts; with a waist seam the bodice, and the half parted there."""
    place, over = str(wish["dart"]), float(wish["dart_split"])
    if wish["waist"] == SEAMED:
        return shift_seamed.front(found, _front_waist_darts(found), place, over)
    if place == bust_dart.WAIST:
        raise ChoiceError(
            "A bust dart at the waist needs a seam round the waist.",
            where=f"pattern '{NAME}', choice 'dart'",
            mend=f"Choose the waist '{SEAMED}', or another place for the dart.",
        )
    return bust_dart.darted(found.frame, found.front, place, over), None


def _back_ring(found: Drawn) -> Ring:
    ring = found.back.ring()
    if found.opening == back_opening.ZIP:
        return back_opening.with_zip(ring, found.opening_length)
    if found.opening:
        return back_opening.with_opening(ring, OPENING, _opening(found))
    return ring


def _back_bust(found: Drawn) -> float:
    """Height of the back's bust line: below a slit that reaches so far down on a small child."""
    if found.opening in ("", back_opening.ZIP):
        return found.frame.bust_level
    return min(found.frame.bust_level, found.back.neck[-1].end.y - found.opening_length - UNDER_SLIT)


def _opening(found: Drawn) -> Curve:
    return back_opening.opening_curve(found.opening, found.back.neck[-1], found.opening_length)


def _marks(ring: Ring, found: Drawn) -> tuple[Mark, ...]:
    adjust = replace(across("adjust_length", ring, -found.hip_depth / 2), kind="adjust")
    return across("waist", ring, 0.0), across("hip", ring, -found.hip_depth), adjust


def _front_waist_darts(found: Drawn) -> tuple[Dart, ...]:
    frame, widths = found.frame, found.shape.front_darts
    middle = side_seam.FRONT_AT * (frame.side_front + found.shape.out_waist)
    top = frame.bust_level - side_seam.BELOW_LEVEL
    if frame.bust:
        middle, top = frame.bust.point.x, min(frame.bust.point.y - BELOW_BUST, top)
    low = -side_seam.FRONT_LOW * found.hip_depth
    return side_seam.waist_darts("front_waist_dart", widths, middle, side_seam.FRONT_APART, top, low)


def _back_waist_darts(body: Body, found: Drawn) -> tuple[Dart, ...]:
    frame, widths = found.frame, found.shape.back_darts
    middle = side_seam.BACK_AT * (frame.side_back + found.shape.out_waist)
    top, low = frame.bust_level - side_seam.BELOW_LEVEL, -side_seam.BACK_LOW * found.hip_depth
    return side_seam.waist_darts("back_waist_dart", widths, middle, side_seam.BACK_APART, top, low)


# ---- facings -----------------------------------------------------------------------------------------------


def all_in_one(wish: Wish) -> bool:
    return wish["sleeve"] in (NO_SLEEVE, CAP)


def _facing_rings(wish: Wish, found: Drawn) -> tuple[Ring, Ring]:
    frame, front, back = found.frame, found.front, found.back
    slit = found.opening_length if found.opening in (back_opening.SLIT, back_opening.KEYHOLE) else 0.0
    back_depth = max(facing.WIDTH, slit + facing.BELOW_SLIT) if slit else facing.WIDTH
    width = min(facing.WIDTH, facing.WIDTH_OF_SHOULDER * front.shoulder.length())
    if all_in_one(wish):
        below = min(facing.BELOW_ARM, facing.BELOW_ARM_MOST * frame.underarm)
        under = frame.front.underarm
        back_side = back.side.part(0.0, below)
        front_side = line(under, under.go(frame.front.out.right(), below))
        if not frame.bust:
            front_side = front.side.part(0.0, below)
        rings = (
            facing.all_in_one_ring(front.neck, front.shoulder, front.armhole, front_side, facing.WIDTH),
            facing.all_in_one_ring(back.neck, back.shoulder, back.armhole, back_side, back_depth),
        )
    else:
        rings = (
            facing.neck_ring(front.neck, frame.front.slope_deg, width, facing.WIDTH),
            facing.neck_ring(back.neck, frame.back.slope_deg, width, back_depth),
        )
    return (rings[0], back_opening.with_opening(rings[1], OPENING, _opening(found))) if slit else rings


def _facing_pieces(wish: Wish, found: Drawn, rings: Rings) -> tuple[Piece, ...]:
    zipped = found.opening == back_opening.ZIP
    kinds: dict[str, tuple[EdgeKind, float]] = {
        "outer": ("raw", 0.0),
        "side": ("seam", SEAM),
        "armhole": ("seam", CURVED_SEAM),
        "shoulder": ("seam", SEAM),
        "neck": ("seam", CURVED_SEAM),
        "centre": ("fold", 0.0),
        OPENING: ("seam", back_opening.ALLOWANCE),
    }
    pointed = wish["neckline"] == "V"
    words = "neck and armhole facing" if all_in_one(wish) else "neck facing"
    front_edges = edges_of(rings.front_facing, kinds, pointed)
    front = piece(FRONT_FACING, f"Front {words}", front_edges, interfaced=True, grain_at=FACING_GRAIN)
    if zipped:
        kinds = {**kinds, "centre": ("seam", back_opening.ZIP_ALLOWANCE)}
    back = piece(
        BACK_FACING,
        f"Back {words}",
        edges_of(rings.back_facing, kinds),
        cutting="pair" if zipped else "on fold",
        interfaced=True,
        grain_at=FACING_GRAIN,
    )
    return front, turned_over(back)


# ---- sleeves -----------------------------------------------------------------------------------------------


def _sleeve_pieces(body: Body, wish: Wish, found: Drawn) -> tuple[Piece, ...]:
    word, longer = str(wish["sleeve"]), float(wish["sleeve_longer"])
    if word == NO_SLEEVE:
        return ()
    if word == FLUTTER:
        return (sleeve.frill_piece(sleeve.frill_for(body, found.armhole, longer)),)
    if word == CAP:
        share = 1 - bust_dart.ARMHOLE_AT
        front, back = found.armhole.front.length(), found.armhole.back.length()
        return (cap_sleeve.piece(share * front, share * back, longer),)
    assert found.cap is not None
    length = sleeve.length_from_shoulder(body, word, found.cap.height, longer)
    return (sleeve.piece(found.cap, length, sleeve.hem_girth(body, found.cap, length)),)


# ---- seams -------------------------------------------------------------------------------------------------


def _seams(wish: Wish, found: Drawn, rings: Rings) -> tuple[Seam, ...]:
    front, back = rings.front, rings.back
    neck = top_joined.neck_half(front)
    faced = top_joined.neck_half(rings.front_facing, FACINGS)
    seams = [
        top_joined.shoulder_seam(front),
        top_joined.side_seams(front),
        Seam("neck", "Neck facing seam", top_joined.both(faced), top_joined.both(neck), "applied"),
    ]
    if found.opening == back_opening.ZIP:
        centre = (Run(BACK, "centre"),)
        seams.append(Seam("centre_back", "Centre back seam", centre, top_joined.mirrored(centre)))
    elif found.opening:
        inner, outer = (top_joined.both((Run(p, OPENING, backwards=True),)) for p in (BACK_FACING, BACK))
        seams.append(Seam(OPENING, f"{found.opening.capitalize()} at the back", inner, outer, "applied"))
    if all_in_one(wish):
        seams += _all_in_one_seams(wish, rings)
    else:
        walk = top_joined.backwards((Run(FRONT_FACING, "shoulder"),))
        own = (Run(BACK_FACING, "shoulder"),)
        seams.append(Seam("facing_shoulder", "Facing shoulder seams", own, walk, times=2))
        ease = found.cap.ease if found.cap else 0.0
        seams += [sleeve.set_in(top_joined.armhole_walk(front, back), ease), sleeve.UNDERARM]
    return tuple(seams)


def _all_in_one_seams(wish: Wish, rings: Rings) -> list[Seam]:
    seams = [
        top_joined.shoulder_seam(rings.front_facing, name="facing_shoulder", pieces=FACINGS),
        Seam(
            "facing_side",
            "Facing side seams",
            (Run(FRONT_FACING, "side"),),
            (Run(BACK_FACING, "side", backwards=True),),
            times=2,
        ),
    ]
    garment = top_joined.armhole_walk(rings.front, rings.back)
    faced = top_joined.armhole_walk(rings.front_facing, rings.back_facing, FACINGS)
    if wish["sleeve"] != CAP:
        return [*seams, Seam("armhole", "Armhole facing seams", faced, garment, "applied", times=2)]
    under, under_outer = _joined_under(faced), _joined_under(garment)
    return [
        *seams,
        Seam(
            "armhole", "Cap sleeves between armhole and facing", faced[1:3], garment[1:3], "applied", times=2,
            more=cap_sleeve.PLIES,
        ),
        Seam("armhole_under", "Armhole facing seams under the arm", under, under_outer, "applied", times=2),
    ]  # fmt: skip


def _joined_under(walk: tuple[Run, ...]) -> tuple[Run, ...]:
    """The lowest parts of an armhole, from the back over the underarm to the front."""
    return (walk[3], walk[0])


def _joints(wish: Wish, found: Drawn, rings: Rings) -> tuple[Joint, ...]:
    found_joints = [*top_joined.joints(rings.front, rings.back)]
    if not all_in_one(wish):
        found_joints += sleeve.joints()
    if found.opening == back_opening.ZIP:
        found_joints.append(Joint("hem at the centre back", (Corner(BACK, "hem", "centre"),) * 2))
    return tuple(found_joints)


def _free_edges(wish: Wish, found: Drawn, turn: float, sleeves: tuple[Piece, ...]) -> tuple[FreeEdge, ...]:
    edges = [hem.hem_edge("Hem", top_joined.hem_round(), turn)]
    if found.opening == back_opening.ZIP:
        zip_runs = (Run(BACK, back_opening.ZIP), Run(BACK, back_opening.ZIP, backwards=True, side="mirrored"))
        width = back_opening.ZIP_ALLOWANCE
        edges.append(FreeEdge("zip", "Zip at the centre back", zip_runs, "zip", width, closed=False))
        edges.append(
            FreeEdge(
                "facing_at_zip", "Facing ends at the zip", (Run(BACK_FACING, "centre"),), "band", width, width,
                closed=False, times=2,
            )
        )  # fmt: skip
    if not all_in_one(wish):
        turn_up = sleeves[0].edge("hem").allowance
        edges.append(
            replace(
                hem.hem_edge("Sleeve hems", (Run(sleeve.PIECE, "hem"),), turn_up, times=2), name="sleeve_hem"
            )
        )
    return tuple(edges)


# ---- what it promises --------------------------------------------------------------------------------------


def _both(line_name: str) -> tuple[tuple[str, str, int], ...]:
    return ((FRONT, line_name, 2), (BACK, line_name, 2))


def _levels(body: Body, found: Drawn, rings: Rings) -> tuple[Level, ...]:
    girths = (
        ("bust", "Bust", body["bust_girth"], rings.bust),
        ("waist", "Waist", body["waist_girth"], 2 * found.half_waist),
        ("hip", "Hip", body["hip_girth"], 2 * found.half_hip),
    )
    levels = [Level(name, title, _both(name), girth, made - girth) for name, title, girth, made in girths]
    if found.cap:
        arm = body["upper_arm_girth"]
        levels.append(
            Level("upper_arm", "Upper arm", ((sleeve.PIECE, "upper_arm", 1),), arm, found.cap.width - arm)
        )
    return tuple(levels)


def _passages(body: Body, wish: Wish, found: Drawn, rings: Rings) -> tuple[Passage, ...]:
    neck = [(FRONT, name, 2) for name in names_of(rings.front, "neck")]
    neck.append((BACK, "neck", 2))
    waist = [*_both("waist")]
    if found.opening == back_opening.ZIP:
        neck.append((BACK, back_opening.ZIP, 2))
        waist.append((BACK, back_opening.ZIP, 2))
    elif found.opening:
        neck.append((BACK, OPENING, 2))
    head = Passage("over_head", "Neck over the head", tuple(neck), body["head_girth"], HEAD_NEEDS)
    bust = Passage("over_bust", "Waist over the bust", tuple(waist), body["bust_girth"], OVER_BUST)
    hand = (sleeve.over_hand(body),) if found.cap else ()
    return head, bust, *hand


def _notions(found: Drawn) -> tuple[Notion, ...]:
    if found.opening == back_opening.ZIP:
        length = found.opening_length
        return (Notion("zip", f"Zip {length:.0f} cm long", place="zip", length=length, count=1),)
    return (back_opening.button(OPENING),) if found.opening else ()


def _finished(
    body: Body, wish: Wish, found: Drawn, rings: Rings, sleeves: tuple[Piece, ...]
) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    finished = {
        "bust": rings.bust,
        "waist": 2 * found.half_waist,
        "hip": 2 * found.half_hip,
        "hem": 2 * (found.front.hem.length() + found.back.hem.length()),
        "back length": found.back.neck[-1].end.y + found.depth,
        "neck opening": 2 * (found.front.neck_length + found.back.neck_length),
    }
    if found.cap:
        word, longer = str(wish["sleeve"]), float(wish["sleeve_longer"])
        finished["sleeve length"] = sleeve.length_from_shoulder(body, word, found.cap.height, longer)
        finished["upper_arm"] = found.cap.width
        finished["sleeve hem"] = sleeves[0].edge("hem").curve.length()
    return finished


def _with_notches(garment: Garment, wish: Wish, found: Drawn, rings: Rings) -> Garment:
    """Match marks: the waist at the side; front single and back double in the armhole, without ease below
    them.
    """
    side = found.front.side.length() - _to_waist(found)
    if side > NOTCH_FREE and wish["waist"] != SEAMED:
        garment = notched(garment, "side_seam", side, "waist")
    if wish["sleeve"] == CAP:
        return cap_sleeve.with_notches(garment)
    return top_joined.armhole_notched(garment, "armhole" if all_in_one(wish) else "sleeve", found.armhole)


def _to_waist(found: Drawn) -> float:
    """Along the front side seam from its upper end down to the waist. [cm]"""
    return level.distance_to(found.front.side, 0.0)
