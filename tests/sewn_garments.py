"""Four garments drawn by hand for the tests of the order of work.

A darted top with a facing and set-in sleeves, a gathered skirt on a band with a zip, a knit tee with a
neckband, a shirt with collar, stand and cuffs.

Straight lines and a few corners, cm, y up; nobody's measures. Halves on the fold have the centre at x = 0.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.curve import DOWN, LEFT, RIGHT, UP, Curve, Point, corner, line
from clothwise.garment import Dart, Edge, FreeEdge, Garment, Mark, Notch, Notion, Piece, Run, Seam
from tests.sewn_by_hand import turned_over

SEAM, HEM = 1.5, 3.0
HALF, SHOULDER_TIP, NECK_POINT = 25.0, Point(20.0, 54.0), Point(8.0, 58.0)


def _edges(*named: tuple[str, Curve, str, float]) -> tuple[Edge, ...]:
    return tuple(Edge(name, curve, kind, allowance) for name, curve, kind, allowance in named)  # type: ignore[arg-type]


def _half(name: str, title: str, *, neck_depth: float, dart: bool = False, fold: bool = True) -> Piece:
    """A bodice half from hem to shoulder; with a bust dart in the side seam."""
    under = 38.0 if dart else 35.0
    neck = corner(NECK_POINT, DOWN, Point(0, NECK_POINT.y - neck_depth), LEFT)
    armhole = corner(Point(HALF, under), LEFT, SHOULDER_TIP, UP)
    sides = [("side", line(Point(HALF, 0), Point(HALF, under)), "seam", SEAM)]
    if dart:
        low, high = Point(HALF, 14), Point(HALF, 17)
        sides = [
            ("side_low", line(Point(HALF, 0), low), "seam", SEAM),
            ("dart_mouth", line(low, high), "seam", SEAM),
            ("side_high", line(high, Point(HALF, under)), "seam", SEAM),
        ]
    edges = _edges(
        ("centre", line(neck.end, Point(0, 0)), "fold" if fold else "seam", 0.0 if fold else SEAM),
        ("hem", line(Point(0, 0), Point(HALF, 0)), "hem", HEM),
        *sides,
        ("armhole", armhole, "seam", 1.0),
        ("shoulder", line(SHOULDER_TIP, NECK_POINT), "seam", SEAM),
        ("neck", neck, "seam", 1.0),
    )
    edges = tuple(
        replace(e, notches=(Notch("A" if "front" in name else "B", 9.0, 1 if "front" in name else 2),))
        if e.name == "armhole"
        else e
        for e in edges
    )
    return Piece(
        name,
        title,
        edges,
        (Point(10, 5), Point(10, 45)),
        "on fold" if fold else "pair",
        1 if fold else 2,
        darts=(Dart("bust_dart", Point(12, 16), Point(HALF, 14), Point(HALF, 17), "dart_mouth"),)
        if dart
        else (),
    )


def _sleeve(ease: float, *, wrist: str = "hem", dart: bool = False) -> Piece:
    """The front underarm on the left. The cap's height is found so that it is as long as wished."""
    armholes = sum(
        _half(n, n, neck_depth=5, dart=dart and n == "front").line("armhole").length()
        for n in ("front", "back")
    )
    low, high = 5.0, 30.0
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if _cap(middle).length() < armholes + ease else (low, middle)
    curve = _cap(low)
    edges = _edges(
        ("wrist", line(Point(-13, -40), Point(13, -40)), wrist, HEM if wrist == "hem" else 1.0),
        ("back_underarm", line(Point(13, -40), Point(17, 0)), "seam", SEAM),
        ("cap", curve, "seam", 1.0),
        ("front_underarm", line(Point(-17, 0), Point(-13, -40)), "seam", SEAM),
    )
    notches = (Notch("B", 9.0, 2), Notch("A", curve.length() - 9.0, 1))
    edges = tuple(replace(e, notches=notches) if e.name == "cap" else e for e in edges)
    return Piece("sleeve", "Sleeve", edges, (Point(0, -35), Point(0, 5)))


def _cap(height: float) -> Curve:
    right = line(Point(17, 0), Point(9, height * 0.6)).then(line(Point(9, height * 0.6), Point(0, height)))
    left = line(Point(0, height), Point(-9, height * 0.6)).then(line(Point(-9, height * 0.6), Point(-17, 0)))
    return right.then(left)


def _sleeve_seams(ease: float, *, title: str = "Sleeves to the armholes") -> tuple[Seam, ...]:
    return (
        Seam(
            "sleeve_seam",
            title,
            (Run("sleeve", "cap", True),),
            (Run("front", "armhole"), Run("back", "armhole", True)),
            kind="eased" if ease else "plain",
            ease=ease,
            times=2,
        ),
        Seam(
            "underarm",
            "Sleeve seams",
            (Run("sleeve", "front_underarm"),),
            (Run("sleeve", "back_underarm", True),),
            times=2,
        ),
    )


SHOULDERS = Seam("shoulder", "Shoulder seams", (Run("front", "shoulder"),), (Run("back", "shoulder"),), times=2)


def _neck() -> tuple[Run, ...]:
    """Once round from the centre front, on halves that lie on the fold."""
    return (
        Run("front", "neck", True),
        Run("back", "neck"),
        Run("back", "neck", True, "mirrored"),
        Run("front", "neck", False, "mirrored"),
    )


def _facing(name: str, title: str, neck_depth: float) -> Piece:
    neck = corner(NECK_POINT, DOWN, Point(0, NECK_POINT.y - neck_depth), LEFT)
    out = Point(12.7, 56.4)
    edges = _edges(
        ("centre", line(neck.end, neck.end.down(5.5)), "fold", 0.0),
        ("outer", corner(neck.end.down(5.5), RIGHT, out, UP), "raw", 0.0),
        ("shoulder", line(out, NECK_POINT), "seam", SEAM),
        ("neck", neck, "seam", 1.0),
    )
    return Piece(
        name,
        title,
        edges,
        (Point(1.5, neck.end.y - 4.5), Point(1.5, neck.end.y - 1)),
        "on fold",
        1,
        interfaced=True,
    )


def darted_top(ease: float = 2.5) -> Garment:
    """Bust darts, a faced neck, sleeves set in with so much ease."""
    pieces = (
        _half("front", "Front", neck_depth=9, dart=True),
        _half("back", "Back", neck_depth=3),
        _sleeve(ease, dart=True),
        _facing("front_facing", "Front neck facing", 9),
        _facing("back_facing", "Back neck facing", 3),
    )
    return Garment(
        "darted_top",
        "Darted top",
        pieces,
        (
            SHOULDERS,
            Seam(
                "side_seam",
                "Side seams",
                (Run("front", "side_low"), Run("front", "side_high")),
                (Run("back", "side"),),
                times=2,
            ),
            *_sleeve_seams(ease),
            Seam(
                "facing_shoulder",
                "Facing shoulder seams",
                (Run("front_facing", "shoulder"),),
                (Run("back_facing", "shoulder"),),
                times=2,
            ),
            Seam(
                "neck_facing",
                "Neck facing",
                (Run("front_facing", "neck", True), Run("back_facing", "neck")),
                (Run("front", "neck", True), Run("back", "neck")),
                kind="applied",
                times=2,
            ),
        ),
        (
            FreeEdge("hem", "Hem", (Run("front", "hem"), Run("back", "hem", True)), "hem", HEM, 1.0, times=2),
            FreeEdge("sleeve_hem", "Sleeve hems", (Run("sleeve", "wrist"),), "hem", HEM, 1.0, times=2),
        ),
    )


# ---- a gathered skirt on a band ------------------------------------------------------------------------


def _panel(name: str, title: str, *, fold: bool) -> Piece:
    """A rectangle 36 wide as a half; the back with an opening of 20 at the centre."""
    zipped = [] if fold else [("zip_edge", line(Point(0, 60), Point(0, 40)), "seam", 2.0)]
    centre = line(Point(0, 60 if fold else 40), Point(0, 0))
    edges = _edges(
        *zipped,
        ("centre", centre, "fold" if fold else "seam", 0.0 if fold else 2.0),
        ("hem", line(Point(0, 0), Point(36, 0)), "hem", 4.0),
        ("side", line(Point(36, 0), Point(36, 60)), "seam", SEAM),
        ("waist", line(Point(36, 60), Point(0, 60)), "seam", 1.0),
    )
    return Piece(
        name, title, edges, (Point(15, 10), Point(15, 50)), "on fold" if fold else "pair", 1 if fold else 2
    )


def _waistband() -> Piece:
    edges = _edges(
        ("lower", line(Point(0, 0), Point(72, 0)), "seam", 1.0),
        ("end_right", line(Point(72, 0), Point(72, 8)), "seam", 1.0),
        ("inner", line(Point(72, 8), Point(0, 8)), "seam", 1.0),
        ("end_left", line(Point(0, 8), Point(0, 0)), "seam", 1.0),
    )
    marks = (
        Mark("fold", "fold line", line(Point(0, 4), Point(72, 4))),
        Mark("button", "button", line(Point(2, 2), Point(2.5, 2))),
        Mark("buttonhole", "buttonhole", line(Point(69, 2), Point(71, 2))),
    )
    return Piece(
        "waistband", "Waistband", edges, (Point(10, 4), Point(60, 4)), "single", 1, marks=marks, interfaced=True
    )


def gathered_skirt() -> Garment:
    front, back = (
        _panel("front", "Front panel", fold=True),
        turned_over(_panel("back", "Back panel", fold=False)),
    )
    waist = (
        Run("back", "waist", False, "mirrored"),
        Run("front", "waist", False, "mirrored"),
        Run("front", "waist", True),
        Run("back", "waist", True),
    )
    return Garment(
        "gathered_skirt",
        "Gathered skirt",
        (front, back, _waistband()),
        (
            Seam("side_seam", "Side seams", (Run("front", "side"),), (Run("back", "side", True),), times=2),
            Seam(
                "centre_back",
                "Centre back seam",
                (Run("back", "centre"),),
                (Run("back", "centre", False, "mirrored"),),
            ),
            Seam("waist", "Waistband", waist, (Run("waistband", "lower"),), kind="gathered", ratio=2.0),
        ),
        (
            FreeEdge(
                "zip",
                "Zip",
                (Run("back", "zip_edge", True), Run("back", "zip_edge", False, "mirrored")),
                "zip",
                2.0,
                closed=False,
            ),
            FreeEdge(
                "band",
                "Inside of the waistband",
                (Run("waistband", "end_right"), Run("waistband", "inner"), Run("waistband", "end_left")),
                "band",
                1.0,
                1.0,
                closed=False,
            ),
            FreeEdge("hem", "Hem", (Run("front", "hem"), Run("back", "hem", True)), "hem", 4.0, 1.0, times=2),
        ),
        notions=(Notion("zip", "Zip", "zip", length=20.0), Notion("button", "Button", "band", count=1)),
    )


# ---- a knit tee ----------------------------------------------------------------------------------------


def _strip(
    name: str, title: str, length: float, width: float, copies: int = 1, *, cutting: str = "single"
) -> Piece:
    edges = _edges(
        ("outer", line(Point(0, 0), Point(length, 0)), "seam", 1.0),
        ("end", line(Point(length, 0), Point(length, width)), "seam", 1.0),
        ("inner", line(Point(length, width), Point(0, width)), "seam", 1.0),
        ("start", line(Point(0, width), Point(0, 0)), "seam", 1.0),
    )
    fold = Mark("fold", "fold line", line(Point(0, width / 2), Point(length, width / 2)))
    grain = (Point(length / 2, 0.5), Point(length / 2, width - 0.5))
    return Piece(name, title, edges, grain, cutting, copies, layer="rib", marks=(fold,))  # type: ignore[arg-type]


def knit_tee() -> Garment:
    front, back = _half("front", "Front", neck_depth=9), _half("back", "Back", neck_depth=3)
    neck = 2 * (front.line("neck").length() + back.line("neck").length())
    band = _strip("neckband", "Neckband", 0.85 * neck, 5.0)
    cuff = _strip("cuff", "Cuff", 20.0, 12.0, 2, cutting="pair")
    return Garment(
        "knit_tee",
        "Knit tee",
        (front, back, _sleeve(0.0, wrist="seam"), band, cuff),
        (
            SHOULDERS,
            Seam("side_seam", "Side seams", (Run("front", "side"),), (Run("back", "side"),), times=2),
            *_sleeve_seams(0.0),
            Seam(
                "band_ends",
                "Ends of the neckband",
                (Run("neckband", "start"),),
                (Run("neckband", "end", True),),
            ),
            Seam(
                "neckband",
                "Neckband",
                (Run("neckband", "outer"),),
                _neck(),
                kind="stretched",
                ratio=0.85,
                more=((Run("neckband", "inner", True),),),
            ),
            Seam(
                "cuff_ends",
                "Ends of the cuffs",
                (Run("cuff", "start"),),
                (Run("cuff", "end", True),),
                times=2,
            ),
            Seam(
                "cuffs",
                "Cuffs",
                (Run("cuff", "outer"),),
                (Run("sleeve", "wrist"),),
                kind="stretched",
                ratio=20 / 26,
                times=2,
                more=((Run("cuff", "inner", True),),),
            ),
        ),
        (FreeEdge("hem", "Hem", (Run("front", "hem"), Run("back", "hem", True)), "hem", 2.5, times=2),),
    )


# ---- a shirt -------------------------------------------------------------------------------------------


def _front_with_stand() -> Piece:
    """The left front; its front edge is straight, the button stand is turned back along it."""
    half = _half("front", "Front", neck_depth=9)
    edges = tuple(Edge("front_edge", e.curve, "hem", 4.0) if e.name == "centre" else e for e in half.edges)
    marks = tuple(
        mark
        for i in range(5)
        for mark in (
            Mark(f"button_{i}", "button", line(Point(1.5, 5 + 10 * i), Point(1.6, 5 + 10 * i))),
            Mark(f"buttonhole_{i}", "buttonhole", line(Point(1.5, 4 + 10 * i), Point(1.5, 6 + 10 * i))),
        )
    )
    return replace(half, edges=edges, cutting="pair", copies=2, marks=marks)


def _collar_part(name: str, title: str, top: float, tall: float, lower: str, upper: str, copies: int) -> Piece:
    a, b, c, d = Point(0, 0), Point(top, 0.0), Point(top + 1.0, tall), Point(0, tall)
    edges = _edges(
        ("centre", line(d, a), "fold", 0.0),
        (lower, line(a, b), "seam", 1.0),
        ("end", line(b, c), "seam", 1.0),
        (upper, line(c, d), "seam", 1.0),
    )
    return Piece(name, title, edges, (Point(2, 0.5), Point(2, tall - 0.5)), "on fold", copies, interfaced=True)


def _slit_sleeve() -> Piece:
    """The wrist edge in two, between them a slit 10 deep and 1 wide."""
    sleeve = _sleeve(1.0, wrist="seam")
    left, right, top = Point(4.5, -40), Point(5.5, -40), Point(5, -30)
    wrist = _edges(
        ("wrist_front", line(Point(-13, -40), left), "seam", 1.0),
        ("slit", line(left, top).then(line(top, right)), "seam", 1.0),
        ("wrist_back", line(right, Point(13, -40)), "seam", 1.0),
    )
    return replace(sleeve, edges=(*wrist, *sleeve.edges[1:]))


def _cuff() -> Piece:
    strip = _strip("cuff", "Cuff", 22.0, 12.0, 2, cutting="pair")
    return replace(strip, layer="shell", interfaced=True)


def shirt() -> Garment:
    front, back = _front_with_stand(), _half("back", "Back", neck_depth=3)
    neck = front.line("neck").length() + back.line("neck").length()
    sleeve = _slit_sleeve()
    slit = sleeve.line("slit").length()
    binding = replace(_strip("slit_binding", "Slit binding", slit, 4.0, 2, cutting="pair"), layer="shell")
    ends = ("start", "end")  # they go into the cuffs' seam in cloth; here they are only neatened
    binding = replace(
        binding, edges=tuple(replace(e, kind="raw", allowance=0.0) if e.name in ends else e for e in binding)
    )
    stand = _collar_part("stand", "Collar stand", neck, 3.5, "lower", "upper", 2)
    collar = _collar_part("collar", "Collar", stand.line("upper").length(), 8.0, "neck", "outer", 2)

    def twice(name: str, title: str, *lines: str, piece: str, **more: object) -> Seam:
        runs = tuple(Run(piece, one) for one in lines)
        return Seam(name, title, runs, runs, times=2, **more)  # type: ignore[arg-type]

    catch = ((Run("collar", "neck", True),), (Run("collar", "neck", True),))
    return Garment(
        "shirt",
        "Shirt",
        (front, back, sleeve, collar, stand, _cuff(), binding),
        (
            SHOULDERS,
            Seam("side_seam", "Side seams", (Run("front", "side"),), (Run("back", "side"),), times=2),
            *_sleeve_seams(1.0),
            twice("collar", "Collar", "end", "outer", piece="collar"),
            twice("stand_ends", "Ends of the collar stand", "end", piece="stand"),
            twice("stand_top", "Collar between the stands", "upper", piece="stand", more=catch),
            Seam(
                "neck",
                "Collar stand to the neck",
                (Run("stand", "lower"),),
                (Run("back", "neck", True), Run("front", "neck")),
                times=2,
            ),
            Seam(
                "slit",
                "Slit bindings",
                (Run("slit_binding", "outer", True),),
                (Run("sleeve", "slit"),),
                kind="applied",
                times=2,
            ),
            Seam(
                "cuffs",
                "Cuffs",
                (Run("sleeve", "wrist_back"), Run("sleeve", "wrist_front")),
                (Run("cuff", "outer"),),
                kind="gathered",
                ratio=25 / 22,
                times=2,
            ),
        ),
        (
            FreeEdge(
                "stands",
                "Button stands",
                (Run("front", "front_edge"),),
                "stand",
                4.0,
                1.0,
                closed=False,
                times=2,
            ),
            FreeEdge(
                "stand_inside",
                "Inside of the collar stand",
                (Run("stand", "lower"),),
                "band",
                1.0,
                1.0,
                closed=False,
                times=2,
            ),
            FreeEdge(
                "slit_inside",
                "Insides of the slit bindings",
                (Run("slit_binding", "inner"),),
                "band",
                1.0,
                1.0,
                closed=False,
                times=2,
            ),
            FreeEdge(
                "cuff_inside",
                "Insides of the cuffs",
                (Run("cuff", "end"), Run("cuff", "inner"), Run("cuff", "start")),
                "band",
                1.0,
                1.0,
                closed=False,
                times=2,
            ),
            FreeEdge(
                "hem",
                "Hem",
                (Run("front", "hem"), Run("back", "hem", True)),
                "hem",
                1.5,
                0.7,
                closed=False,
                times=2,
            ),
        ),
        notions=(Notion("button", "Buttons", "stands", count=5),),
    )
