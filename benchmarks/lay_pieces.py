"""Made-up garments for the lay benchmark: trousers (4 copies), raglan top (5), dress (17). cm, grain up.

Drawn with plain formulas to the proportions of an ordinary adult, allowances included; nothing here is
a pattern to sew from. `strip` reads the academic strip-packing instances when they lie beside the project.
"""

from __future__ import annotations

import json
import math
from pathlib import Path

from clothwise.lay.problem import LayCloth, LayPiece, LayProblem, Nap, Outline

Points = list[tuple[float, float]]
SHARED = Path(__file__).resolve().parents[1] / ".." / "shared" / "lay-instances"
STRIP_WIDTH = 150.0  # cm: the academic strips are scaled to a usual width of cloth
BEST_PUBLISHED = {
    "shirts": 90.92,
    "trousers": 92.62,
    "swim": 79.83,
    "marques": 92.02,
    "albano": 89.82,
}  # density, %


def curve(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], n: int = 12) -> Points:
    """Points of a quadratic Bezier curve from a to c, pulled to b."""
    return [
        (
            (1 - s) ** 2 * a[0] + 2 * s * (1 - s) * b[0] + s * s * c[0],
            (1 - s) ** 2 * a[1] + 2 * s * (1 - s) * b[1] + s * s * c[1],
        )
        for s in (k / n for k in range(n + 1))
    ]


def leg(hem: float, hip: float, fork: float, length: float) -> Outline:
    """A trouser leg: hem below, inner side right."""
    crotch = length - 31.0
    top = hip - 1.0
    return (
        (0.0, 0.0),
        (hem, 0.0),
        *curve((hem, 0.0), (hip + 1.0, crotch * 0.55), (hip + fork, crotch))[1:],
        *curve((hip + fork, crotch), (hip + 0.5, crotch), (top, crotch + 14), 10)[1:],
        (top - 1.5, length),
        (1.0, length - 1.0),
        *curve((1.0, length - 1.0), (-3.0, crotch), (0.0, 0.0), 10)[1:-1],
    )


TROUSERS = (
    LayPiece("front_leg", "Front leg", leg(24, 29, 6, 106), 2, mirrored_pair=True),
    LayPiece("back_leg", "Back leg", leg(27, 31, 12, 106), 2, mirrored_pair=True),
)


def body_half(width: float, hem: float, length: float, neck: float, drop: float, raglan: bool) -> Outline:
    """Half a front or back: fold on the left, neck and armhole (or raglan line) above."""
    underarm = length - 24.0
    shoulder = (neck + 12.5, length - 4.0)
    side = [(0.0, 0.0), (hem, 0.0), *curve((hem, 0.0), (width - 3, underarm * 0.6), (width, underarm), 8)[1:]]
    if raglan:
        upper = curve((width, underarm), (width - 9, underarm + 4), (neck, length), 12)[1:]
    else:
        upper = [*curve((width, underarm), (shoulder[0] - 3, underarm), shoulder, 12)[1:], (neck, length)]
    return tuple(side + upper + curve((neck, length), (neck, length - drop), (0.0, length - drop), 10)[1:])


def sleeve(width: float, cuff: float, length: float, cap: float, top: float) -> Outline:
    """A sleeve: cuff below, cap above; `top` is the width left at the neck of a raglan sleeve."""
    w, c, t = width / 2, cuff / 2, top / 2
    right = curve((w, length - cap), (w * 0.45, length - cap), (t + w * 0.3, length - cap * 0.45), 8)
    crown = curve((t + w * 0.3, length - cap * 0.45), (t + w * 0.12, length), (t, length), 8)[1:]
    half = [(c, 0.0), *right, *crown]
    return (*half, *[(-x * 0.97, y - 0.4 * y / length) for x, y in reversed(half)])


def on_fold(name: str, title: str, outline: Outline) -> LayPiece:
    """A piece whose left edge lies on the fold."""
    ys = [y for x, y in outline if x == 0.0]
    return LayPiece(name, title, outline, on_fold=True, fold_edge=((0.0, min(ys)), (0.0, max(ys))))


def pair(name: str, title: str, outline: Outline) -> LayPiece:
    return LayPiece(name, title, outline, 2, mirrored_pair=True)


RAGLAN = (
    on_fold("front", "Front", body_half(28, 27, 66, 8, 9, True)),
    on_fold("back", "Back", body_half(28, 27, 68, 8.5, 3, True)),
    pair("sleeve", "Sleeve", sleeve(40, 26, 72, 28, 9)),
    LayPiece("neck_band", "Neck band", ((0, 0), (4.5, 0), (4.5, 52), (0, 52)), either_side_up=True),
)


def flared(top: float, hem: float, length: float, rise: float) -> Outline:
    """Half a skirt: centre on the left, hem curved up by `rise` at the side."""
    bottom = curve((0.0, 0.0), (hem * 0.55, 0.0), (hem, rise), 10)
    side = curve((hem, rise), (top + 3, length * 0.75), (top, length + rise * 0.4), 8)[1:]
    return tuple(bottom + side + curve((top, length + rise * 0.4), (top * 0.5, length), (0.0, length), 6)[1:])


def ring(inner: float, outer: float, degrees: float) -> Outline:
    """Part of a ring, as a facing or a collar."""
    turns = [math.radians(90 - degrees / 2 + degrees * k / 10) for k in range(11)]
    return tuple(
        [(outer * math.cos(a), outer * math.sin(a)) for a in turns]
        + [(inner * math.cos(a), inner * math.sin(a)) for a in reversed(turns)]
    )


DRESS = (
    on_fold("front", "Front", body_half(25, 20, 46, 8, 9, False)),
    pair("back", "Back", body_half(26, 20, 47, 8.5, 3, False)),
    on_fold("skirt_front", "Skirt front", flared(19, 31, 62, 3)),
    pair("skirt_back", "Skirt back", flared(20, 33, 62, 3)),
    pair("sleeve", "Sleeve", sleeve(36, 30, 28, 13, 2)),
    pair("cuff", "Cuff", ((0, 0), (32, 0), (32, 7), (0, 7))),
    pair("collar", "Collar", ring(12, 19, 150)),
    LayPiece("front_facing", "Front facing", ring(7, 12.5, 175), either_side_up=True),
    pair("back_facing", "Back facing", ring(8, 13.5, 80)),
    pair("pocket", "Pocket", ((0.0, 0.0), *curve((14, 0), (20, 8), (14, 22), 8), (0.0, 22.0))),
)

GARMENTS = {"trousers (4)": TROUSERS, "raglan top (5)": RAGLAN, "dress (17)": DRESS}


def problem(name: str, width: float, nap: Nap = "two-way") -> LayProblem:
    """One of the garments on cloth of this width."""
    return LayProblem(GARMENTS[name], LayCloth(width, None, nap))


def strip(name: str) -> LayProblem | None:
    """An academic instance scaled to a usual width, or None where the files are not at hand."""
    file = SHARED / f"{name}.json"
    if not file.exists():
        return None
    read = json.loads(file.read_text())
    scale = STRIP_WIDTH / read["strip_height"]
    pieces = []
    for item in read["items"]:
        points = [(-y * scale, x * scale) for x, y in item["shape"]["data"]]  # the strip runs along the grain
        if points[0] == points[-1]:
            points.pop()
        turns = 180.0 in item["allowed_orientations"]
        label = f"p{item['id']}"
        pieces.append(LayPiece(label, label, tuple(points), item["demand"], may_turn=turns))
    return LayProblem(tuple(pieces), LayCloth(STRIP_WIDTH))
