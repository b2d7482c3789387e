"""How the pieces of a raglan pullover are joined: seams, hems, neck, match marks, what is promised and bought.

Front, back and sleeve are the wearer's left half. Side and underarm are one seam, sewn when both raglans are
done. Lengths in cm.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.body import Body
from clothwise.draft import fit, frill, hem, pocket, raglan_neck, raglan_pieces, waist
from clothwise.draft.pattern import Wish
from clothwise.draft.raglan_frame import Frame
from clothwise.draft.raglan_neck import NAME, Neck
from clothwise.draft.raglan_pieces import (
    BACK,
    BACK_PEPLUM,
    FRONT,
    FRONT_PEPLUM,
    LAP,
    RAGLAN_SEAM,
    SLEEVE,
    STAND,
    STAND_FOLD_IN,
    Cut,
)
from clothwise.draft.raglan_pockets import Pockets
from clothwise.garment import (
    Corner,
    FreeEdge,
    Garment,
    Joint,
    Level,
    Note,
    Notion,
    Passage,
    Piece,
    Run,
    Seam,
)
from clothwise.garment.notches import notched

FRONT_FRILL, BACK_FRILL = "front_frill", "back_frill"
HAND_OF_WRIST = 1.35  # girth of the hand, thumb folded in, over the wrist (trade knowledge: 20-24 over 15-18)
HAND_EASE = 1.0  # cm
SLEEVE_EASE = 2.5  # cm: elastic round wrist or arm does not bind
LEAST_HIP = 4.0  # cm of ease at the hip, at least; or what a close fit asks, where that is less
MATCH = 0.45  # of the raglan from the underarm: where its match mark stands
CLEAR = 3.0  # cm between a match mark and a corner
BUTTON = 1.3  # cm across


def joined(
    body: Body,
    wish: Wish,
    frame: Frame,
    cut: Cut,
    neck: Neck,
    patch: Pockets | None,
    notes: tuple[Note, ...],
) -> Garment:
    """The garment of these pieces."""
    lap = LAP if cut.buttoned else 0.0
    edge = _neck_edge(frame)
    sleeve = raglan_pieces.sleeve(frame, cut)
    front = raglan_pieces.front(frame, cut)
    if patch:
        front = replace(front, marks=(*front.marks, patch.place))
    pieces = (
        front,
        raglan_pieces.back(frame, cut),
        sleeve,
        *(raglan_pieces.peplums(frame, cut) if cut.peplum else ()),
        *_frills(body, wish, frame, cut),
        *((pocket.piece(patch.pocket),) if patch else ()),
        raglan_neck.strip(neck, lap),
    )
    whole = Garment(
        name=NAME,
        title="Raglan pullover",
        pieces=pieces,
        seams=(
            *((pocket.seam(FRONT),) if patch else ()),
            *_frill_seams(cut),
            *_body_seams(cut),
            *(_peplum_seams(cut) if cut.peplum else ()),
            *raglan_neck.seams(neck, edge, lap),
        ),
        free_edges=(
            *((pocket.top(),) if patch else ()),
            *_frill_hems(cut),
            *_stands(cut),
            *raglan_neck.free_edges(neck),
            _sleeve_end(cut),
            _hem(cut),
        ),
        joints=_joints(cut, frame),
        levels=_levels(body, wish, frame, cut),
        passages=(*raglan_neck.passages(body, neck, edge), _hand(body)),
        notions=(*raglan_neck.notions(neck), *_sleeve_elastic(body, wish, cut), *_buttons(pieces)),
        notes=(*frame.notes, *notes),
        choices=wish,
        finished=_finished(body, frame, cut, neck, sleeve),
        for_child=body.child,
        body_name=body.name,
    )
    return _with_notches(whole, frame, cut)


# ---- seams -----------------------------------------------------------------------------------------


def _neck_edge(frame: Frame) -> tuple[Run, ...]:
    """Round the neck from the centre back over the wearer's left shoulder, and back over her right."""
    sleeve = raglan_pieces.neck_names(frame)
    left = (Run(BACK, "neck"), *(Run(SLEEVE, name) for name in sleeve), Run(FRONT, "neck"))
    return (*left, *(replace(run, backwards=True, side="mirrored") for run in reversed(left)))


def _body_seams(cut: Cut) -> tuple[Seam, ...]:
    return (
        _raglan(FRONT, "Front raglan seams", "front_raglan", FRONT_FRILL if cut.frills[0] else ""),
        _raglan(BACK, "Back raglan seams", "back_raglan", BACK_FRILL if cut.frills[1] else ""),
        Seam(
            "side_seam",
            "Side and underarm seams",
            (Run(SLEEVE, "front_underarm", backwards=True), Run(FRONT, "side_seam", backwards=True)),
            (Run(SLEEVE, "back_underarm"), Run(BACK, "side_seam")),
            times=2,
            after=("front_raglan", "back_raglan"),
        ),
    )


def _raglan(piece: str, title: str, name: str, frill_there: str) -> Seam:
    after = (frill_there,) if frill_there else ()
    sleeve = (Run(SLEEVE, name, backwards=True),)
    return Seam(name, title, (Run(piece, "raglan"),), sleeve, times=2, after=after)


def _round(front: str, back: str, edge: str, *, turned: bool = False) -> tuple[Run, ...]:
    """Once round along a lower edge of front and back, from the centre back; `turned`: along an upper edge."""
    left = (Run(back, edge, backwards=not turned), Run(front, edge, backwards=not turned))
    right = (replace(run, backwards=turned, side="mirrored") for run in reversed(left))
    return (*left, *right)


def _peplum_seams(cut: Cut) -> tuple[Seam, ...]:
    return (
        Seam(
            "peplum_side",
            "Side seams of the peplum",
            (Run(FRONT_PEPLUM, "side_seam"),),
            (Run(BACK_PEPLUM, "side_seam", backwards=True),),
            times=2,
        ),
        Seam(
            "peplum",
            "Peplum",
            _round(FRONT_PEPLUM, BACK_PEPLUM, "waist", turned=True),
            _round(FRONT, BACK, "waist"),
            "gathered",
            ratio=cut.fullness,
            pressed="up",
        ),
    )


def _joints(cut: Cut, frame: Frame) -> tuple[Joint, ...]:
    names = raglan_pieces.neck_names(frame)
    low_front, low_back = (FRONT_PEPLUM, BACK_PEPLUM) if cut.peplum else (FRONT, BACK)
    pairs = (
        ("neck in front", Corner(FRONT, "raglan", "neck"), Corner(SLEEVE, names[-1], "front_raglan")),
        ("neck at the back", Corner(BACK, "neck", "raglan"), Corner(SLEEVE, "back_raglan", names[0])),
        (
            "underarm in front",
            Corner(FRONT, "side_seam", "raglan"),
            Corner(SLEEVE, "front_raglan", "front_underarm"),
        ),
        (
            "underarm at the back",
            Corner(BACK, "raglan", "side_seam"),
            Corner(SLEEVE, "back_underarm", "back_raglan"),
        ),
        ("sleeve end", Corner(SLEEVE, "front_underarm", "hem"), Corner(SLEEVE, "hem", "back_underarm")),
        ("hem at the side", Corner(low_front, "hem", "side_seam"), Corner(low_back, "side_seam", "hem")),
    )
    return tuple(Joint(name, (one, other)) for name, one, other in pairs)


# ---- frills ----------------------------------------------------------------------------------------


def _frills(body: Body, wish: Wish, frame: Frame, cut: Cut) -> tuple[Piece, ...]:
    wished = float(wish["frill_width"]) if "frill_width" in wish else None
    usual = frill.CHILD_WIDTH if body.child else frill.WIDTH
    made = []
    for name, title, half, there in (
        (FRONT_FRILL, "Front frill", frame.front, cut.frills[0]),
        (BACK_FRILL, "Back frill", frame.back, cut.frills[1]),
    ):
        if there:
            start, end = raglan_pieces.frill_stretch(half)
            width = frill.width_for(wished, usual, end - start)
            made.append(frill.piece(f"{name}_piece", title, end - start, width, RAGLAN_SEAM))
    return tuple(made)


def _frill_seams(cut: Cut) -> tuple[Seam, ...]:
    both = (
        frill.sewn(FRONT_FRILL, "Front frills", f"{FRONT_FRILL}_piece", FRONT, "frill_place"),
        frill.sewn(BACK_FRILL, "Back frills", f"{BACK_FRILL}_piece", BACK, "frill_place"),
    )
    return tuple(seam for seam, there in zip(both, cut.frills, strict=True) if there)


def _frill_hems(cut: Cut) -> tuple[FreeEdge, ...]:
    both = (
        frill.hem(f"{FRONT_FRILL}_piece", "Hems of the front frills"),
        frill.hem(f"{BACK_FRILL}_piece", "Hems of the back frills"),
    )
    return tuple(edge for edge, there in zip(both, cut.frills, strict=True) if there)


# ---- free edges ------------------------------------------------------------------------------------


def _stands(cut: Cut) -> tuple[FreeEdge, ...]:
    if not cut.buttoned:
        return ()
    pieces = (BACK, BACK_PEPLUM) if cut.peplum else (BACK,)
    runs = tuple(Run(piece, "stand", backwards=True) for piece in pieces)
    return (FreeEdge("stand", "Button stands", runs, "stand", STAND, STAND_FOLD_IN, closed=False, times=2),)


def _sleeve_end(cut: Cut) -> FreeEdge:
    runs = (Run(SLEEVE, "hem"),)
    if not cut.sleeve_elastic:
        return replace(hem.hem_edge("Sleeve hems", runs, cut.sleeve_turn, times=2), name="sleeve_hem")
    return FreeEdge(
        "sleeve_hem",
        "Casings at the sleeves",
        runs,
        "casing",
        cut.sleeve_turn,
        waist.TURN_IN,
        times=2,
        elastic=cut.sleeve_elastic,
    )


def _hem(cut: Cut) -> FreeEdge:
    front, back = (FRONT_PEPLUM, BACK_PEPLUM) if cut.peplum else (FRONT, BACK)
    turn = cut.peplum_turn or cut.bottom_turn
    return hem.hem_edge("Hem", _round(front, back, "hem"), turn, closed=not cut.buttoned)


def _sleeve_elastic(body: Body, wish: Wish, cut: Cut) -> tuple[Notion, ...]:
    """For both sleeves together."""
    if not cut.sleeve_elastic:
        return ()
    girth = body["wrist_girth"] if wish["sleeve"] == "long" else body["upper_arm_girth"]
    length = girth + SLEEVE_EASE + waist.LAP
    title = f"Elastic {cut.sleeve_elastic:g} cm wide, for both sleeves"
    return (Notion("elastic", title, "sleeve_hem", 2 * length, cut.sleeve_elastic),)


def _buttons(pieces: tuple[Piece, ...]) -> tuple[Notion, ...]:
    count = sum(mark.kind == "button" for piece in pieces for mark in piece.marks)
    if not count:
        return ()
    return (Notion("button", f"Buttons {BUTTON * 10:g} mm", "stand", width=BUTTON, count=count),)


# ---- what is promised ------------------------------------------------------------------------------


def least_hip(body: Body, wish: Wish) -> float:
    """The ease promised at the hip line. [cm]"""
    return min(LEAST_HIP, fit.ease("hip", body, wish))


def _levels(body: Body, wish: Wish, frame: Frame, cut: Cut) -> tuple[Level, ...]:
    around = ((FRONT, "bust", 2), (BACK, "bust", 2))
    found = [
        Level("bust", "Bust", around, body["bust_girth"], frame.bust_ease),
        Level("arm", "Upper arm", ((SLEEVE, "arm", 1),), body["upper_arm_girth"], frame.arm_ease),
    ]
    if cut.hip:
        low = (FRONT_PEPLUM, BACK_PEPLUM) if cut.peplum else (FRONT, BACK)
        runs = tuple((piece, "hip", 2) for piece in low)
        least = LEAST_HIP if cut.peplum else least_hip(body, wish)
        found.append(Level("hip", "Hip", runs, body["hip_girth"], least, at_least=True))
    return tuple(found)


def _hand(body: Body) -> Passage:
    passes = HAND_OF_WRIST * body["wrist_girth"]
    return Passage("over_hand", "Sleeve end over the hand", ((SLEEVE, "hem", 1),), passes, HAND_EASE)


def _finished(body: Body, frame: Frame, cut: Cut, neck: Neck, sleeve: Piece) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    return {
        "neck": neck.finished,
        "back length": frame.back.neck.end.y + (cut.peplum or cut.bottom),
        "sleeve from the neck": body["shoulder_length"] - frame.opened + cut.sleeve,
        "sleeve end": sleeve.edge("hem").curve.length(),
    }


# ---- match marks -----------------------------------------------------------------------------------


def _with_notches(garment: Garment, frame: Frame, cut: Cut) -> Garment:
    """Single in front, double at the back; where a frill begins and ends; hip or middle of the side."""
    for seam, half, count, frilled in (
        ("front_raglan", frame.front, 1, cut.frills[0]),
        ("back_raglan", frame.back, 2, cut.frills[1]),
    ):
        length = half.raglan.length()
        garment = notched(garment, seam, MATCH * length, seam, count, count)
        if frilled:
            from_neck = raglan_pieces.frill_stretch(half)
            at = from_neck if seam == "back_raglan" else [length - distance for distance in from_neck]
            for sign, place in zip(("frill begins", "frill ends"), at, strict=True):
                garment = notched(garment, seam, place, sign, count, count)
    under = garment.piece(SLEEVE).edge("front_underarm").curve.length()
    side = garment.piece(FRONT).edge("side_seam").curve.length()
    garment = notched(garment, "side_seam", under / 2, "underarm")
    at_hip = cut.hip and not cut.peplum
    down = (frame.underarm + cut.hip) / -frame.down.y if at_hip else side / 2
    return notched(garment, "side_seam", under + min(down, side - CLEAR), "side")
