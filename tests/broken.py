"""Sound garments broken on purpose, each in one way, with the rule that must name it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from clothwise.curve import Curve, Line, Point, Vector, line, polyline
from clothwise.garment import Corner, Edge, Garment, Joint, Mark, Notch, Note, Notion, Piece, Run
from tests.breaking import (
    MM,
    Change,
    added,
    both,
    curve,
    dart,
    edge,
    free,
    hooked,
    level,
    longer,
    mark,
    moved_corner,
    notches,
    passage,
    piece,
    reversed_outline,
    seam,
    without,
    wobbled,
)
from tests.hand_made import bag, bent, legs, skirt, with_edge, with_piece

EXTRA = Piece(
    "loose",
    "Loose",
    tuple(
        Edge(str(i), line(a, b), "raw", 0.0)
        for i, (a, b) in enumerate(
            [
                (Point(0, 0), Point(8, 0)),
                (Point(8, 0), Point(8, 8)),
                (Point(8, 8), Point(0, 8)),
                (Point(0, 8), Point(0, 0)),
            ]
        )
    ),
    (Point(4, 1), Point(4, 7)),
    "single",
    1,
)

BROKEN: list[tuple[str, str, Callable[[], Garment], Change]] = [
    # rule, what was done, to which garment, how
    # -- graph
    ("names", "two pieces of one name", bag, added("pieces", bag().piece("front"))),
    ("names", "two seams of one name", legs, added("seams", legs().seams[0])),
    (
        "names",
        "two lines of one name",
        legs,
        lambda g: with_edge(g, "front_leg", "side", lambda e: replace(e, name="hem")),
    ),
    (
        "names",
        "a mark called like an edge",
        legs,
        lambda g: with_piece(
            g, "front_leg", lambda p: replace(p, marks=(*p.marks, Mark("hem", "note", p.marks[0].curve)))
        ),
    ),
    (
        "names",
        "two darts of one name",
        skirt,
        lambda g: with_piece(g, "front", lambda p: replace(p, darts=p.darts * 2)),
    ),
    ("names", "a seam and a free edge of one name", legs, seam("side", name="hem")),
    ("copies", "a pair cut three times", legs, piece("front_leg", copies=3)),
    ("copies", "a piece cut no times", bag, piece("front", copies=0)),
    ("fold", "cut on the fold without a fold edge", legs, piece("front_leg", cutting="on fold", copies=1)),
    ("fold", "a fold edge on a pair", skirt, piece("front", cutting="pair", copies=2)),
    ("runs", "a seam to a piece that is not there", legs, seam("side", b=(Run("sleeve", "side"),))),
    ("runs", "a seam to a line that is not there", legs, seam("side", b=(Run("back_leg", "outside"),))),
    ("runs", "a seam with one side", legs, seam("side", b=())),
    ("runs", "a level along a line that is not there", legs, level("hip", runs=(("front_leg", "bust", 2),))),
    ("runs", "a seam the garment has no times", legs, seam("side", times=0)),
    ("order", "a seam waits for one that is not there", legs, seam("side", after=("yoke",))),
    (
        "order",
        "two seams wait for one another",
        legs,
        both(seam("side", after=("crotch",)), seam("crotch", after=("side",))),
    ),
    ("edge kind", "a hem sewn in a seam", legs, edge("front_leg", "hem", kind="seam")),
    ("edge kind", "a fold sewn", skirt, seam("centre_back", b=(Run("front", "centre"),))),
    ("used once", "an edge forgotten", legs, without("seams", "side")),
    ("used once", "an edge used twice", legs, added("seams", replace(legs().seams[1], name="side_again"))),
    ("used once", "a hem forgotten", legs, without("free_edges", "hem")),
    ("used once", "the waist of one half forgotten", legs, free("waist", runs=legs().free_edges[1].runs[:2])),
    ("used once", "a pair sewn at one side only", legs, seam("inseam", times=1)),
    ("used once", "a placement that nothing is sewn to", skirt, without("seams", "pocket")),
    ("used once", "three pockets for two places", skirt, seam("pocket", times=3)),
    ("used once", "a seam sewn to a level line", skirt, seam("pocket", b=(Run("front", "hip_line"),))),
    ("sides", "the crotch sewn to the same half", legs, seam("crotch", b=legs().seams[2].a)),
    ("sides", "the waist of the left half twice", legs, free("waist", runs=legs().free_edges[1].runs[::3] * 2)),
    ("attached", "a piece by itself", bag, added("pieces", EXTRA)),
    (
        "joint corners",
        "a joint at a corner that is not there",
        legs,
        added("joints", Joint("j", (Corner("front_leg", "hem", "waist"),))),
    ),
    (
        "joint corners",
        "a joint the wrong way round",
        legs,
        added("joints", Joint("j", (Corner("front_leg", "side", "hem"),), 90.0)),
    ),
    (
        "joint corners",
        "a joint on a piece that is not there",
        legs,
        added("joints", Joint("j", (Corner("cuff", "side", "hem"),))),
    ),
    # -- pieces
    (
        "finite",
        "a point that is nowhere",
        legs,
        lambda g: with_edge(
            g,
            "front_leg",
            "side",
            lambda e: replace(e, curve=Curve((Line(Point(26.0, -103.0), Point(math.nan, -50.0)),))),
        ),
    ),
    (
        "closed",
        "two edges that do not meet",
        legs,
        curve("front_leg", "side", lambda c: c.moved(Vector(0.001, 0.0))),
    ),
    (
        "closed",
        "edges out of order",
        bag,
        lambda g: with_piece(g, "front", lambda p: replace(p, edges=(p.edges[1], p.edges[0], *p.edges[2:]))),
    ),
    (
        "crosses itself",
        "a side that loops",
        bag,
        curve("front", "right", lambda c: bent(c, (0, 1, -60.0, 25.0), (0, 2, -60.0, -25.0))),
    ),
    (
        "crosses itself",
        "two lines that cross",
        legs,
        curve("front_leg", "inseam", lambda c: bent(c, (0, 1, 60.0, 0.0), (0, 2, 60.0, 0.0))),
    ),
    (
        "anticlockwise",
        "an outline walked the wrong way",
        bag,
        lambda g: with_piece(g, "front", reversed_outline),
    ),
    (
        "short edge",
        "an edge of 2 mm",
        bag,
        lambda g: with_piece(
            g,
            "front",
            lambda p: replace(
                p,
                edges=(
                    *p.edges[:1],
                    Edge("nip", line(Point(0, 0), Point(0.2, 0)), "seam", 1.5),
                    replace(p.edges[1], curve=line(Point(0.2, 0), Point(30, 0))),
                    *p.edges[2:],
                ),
            ),
        ),
    ),
    (
        "fold straight",
        "a fold that bows by 1 mm",
        skirt,
        curve("front", "centre", lambda c: bent(c, (0, 1, 1.4 * MM, 0.0), (0, 2, 1.4 * MM, 0.0))),
    ),
    (
        "fold square",
        "a hem not square to the fold",
        skirt,
        curve("front", "hem", lambda c: bent(c, (0, 1, 0.0, -0.3))),
    ),
    (
        "fold square",
        "a waist not square to the fold",
        skirt,
        curve("front", "waist_2", lambda c: bent(c, (0, 2, 0.0, 0.3))),
    ),
    ("fold allowance", "allowance at the fold", skirt, edge("front", "centre", allowance=1.5)),
    ("grain", "no grain", bag, piece("front", grain=(Point(5.0, 5.0), Point(5.0, 5.0)))),
    (
        "grain inside",
        "grain beside the piece",
        bag,
        piece("front", grain=(Point(-5.0, 5.0), Point(-5.0, 35.0))),
    ),
    ("grain inside", "grain that sticks out", bag, piece("front", grain=(Point(15.0, 5.0), Point(15.0, 45.0)))),
    (
        "grain along fold",
        "grain off the fold by a degree",
        skirt,
        piece("front", grain=(Point(6.0, -50.0), Point(6.5, -25.0))),
    ),
    ("bias on fold", "a bias piece on the fold", skirt, piece("front", bias=True)),
    (
        "direction",
        "a stroke that is a point",
        legs,
        curve("front_leg", "side", lambda c: Curve((*c.strokes, Line(c.end, c.end)))),
    ),
    (
        "kink",
        "a side seam broken by 3 degrees",
        legs,
        both(
            *(
                curve(p, "side", lambda c: polyline([c.start, c.start.between(c.end).right(1.4), c.end]))
                for p in ("front_leg", "back_leg")
            )
        ),
    ),
    (
        "kink",
        "a side seam that doubles back",
        legs,
        both(*(curve(p, "side", hooked) for p in ("front_leg", "back_leg"))),
    ),
    ("wavy", "a hem that waves", legs, both(*(curve(p, "hem", wobbled) for p in ("front_leg", "back_leg")))),
    (
        "wavy",
        "a crotch with two reversals",
        legs,
        both(
            *(
                curve(
                    p,
                    "crotch",
                    lambda c: Curve((*wobbled(Curve(c.strokes[:1]), 2, -0.15).strokes, *c.strokes[1:])),
                )
                for p in ("front_leg", "back_leg")
            )
        ),
    ),
    (
        "too tight",
        "a hollow tighter than its allowance",
        legs,
        both(*(edge(p, "crotch", allowance=9.0) for p in ("front_leg", "back_leg"))),
    ),
    ("dart mouth", "a dart on an edge that is not there", skirt, dart("front", edge="yoke")),
    ("dart mouth", "a leg that misses the mouth by 2 mm", skirt, dart("back", first_leg=Point(11.2, -0.5))),
    ("dart legs", "legs that differ by 2 mm", skirt, dart("front", tip=Point(11.0, -9.5))),
    ("dart tip", "a tip that nearly reaches the side", skirt, dart("front", tip=Point(24.5, -9.5))),
    ("dart tip", "a tip outside the piece", skirt, dart("front", tip=Point(10.0, 6.0))),
    (
        "dart closed",
        "a waist straight across an open dart",
        skirt,
        both(
            curve("front", "waist_1", lambda c: line(c.start, c.end)),
            curve("front", "waist_2", lambda c: line(c.start, c.end)),
        ),
    ),
    (
        "mark inside",
        "a hip line drawn beside the piece",
        legs,
        mark("front_leg", "hip_line", lambda c: c.moved(Vector(0.5, 0.0))),
    ),
    # -- seams
    ("seam length", "a seam longer by 2 mm", legs, curve("front_leg", "side", lambda c: longer(c, 2 * MM))),
    ("seam length", "a corner lower by 1 mm", legs, moved_corner("front_leg", "hem", "side", 0.0, -1 * MM)),
    ("seam length", "gathering that is not there", legs, seam("side", ratio=1.5)),
    ("seam length", "ease that is not there", legs, seam("side", ease=0.1)),
    (
        "seam length",
        "a pocket wider than its place by 2 mm",
        skirt,
        mark("front", "pocket_place", lambda c: c.mapped(lambda p: Point(p.x * 0.98, p.y))),
    ),
    ("allowances equal", "one side cut with 1 cm", legs, edge("front_leg", "side", allowance=1.0)),
    (
        "allowance missing",
        "a seam without allowance",
        legs,
        both(*(edge(p, "side", allowance=0.0) for p in ("front_leg", "back_leg"))),
    ),
    ("face to face", "a side walked the wrong way", legs, seam("side", b=(Run("back_leg", "side"),))),
    (
        "same end",
        "one side walked from the other end",
        legs,
        seam("inseam", b=(Run("back_leg", "inseam"),)),
    ),
    (
        "face to face",
        "single pieces that fit wrong side out",
        bag,
        seam("round", b=tuple(Run("back", e) for e in ("left", "bottom", "right"))),
    ),
    (
        "runs on",
        "a hem not square to the side of one piece",
        legs,
        both(
            without("joints", "hem_at_side"),
            curve("front_leg", "hem", lambda c: bent(c, (0, 1, 0.0, 1.0))),
        ),
    ),
    (
        "runs on",
        "a crotch curve with a corner at the inseam",
        legs,
        both(
            without("joints", "crotch_at_inseam"),
            *(curve(p, "crotch", lambda c: bent(c, (1, 2, 0.0, 1.0))) for p in ("front_leg", "back_leg")),
        ),
    ),
    (
        "goes round",
        "a hem in the round with one piece left out",
        legs,
        free("hem", runs=(Run("front_leg", "hem"),), times=2),
    ),
    (
        "goes round",
        "a level round three legs",
        legs,
        level("hip", runs=(("front_leg", "hip_line", 3), ("back_leg", "hip_line", 1))),
    ),
    (
        "joint angle",
        "a crotch curve with a corner at the inseam",
        legs,
        curve("front_leg", "crotch", lambda c: bent(c, (1, 2, 0.0, 1.0))),
    ),
    (
        "joint angle",
        "a joint that promises what is not there",
        legs,
        added("joints", Joint("j", (Corner("front_leg", "hem", "side"),), 180.0)),
    ),
    # -- notches
    ("notch pair", "a notch without its other half", legs, notches("front_leg", "inseam")),
    ("notch pair", "a notch on a hem", legs, notches("front_leg", "hem", Notch("Q", 10.0))),
    ("notch match", "a notch moved by 2 mm", legs, notches("front_leg", "inseam", Notch("K", 35.0 + 2 * MM))),
    ("notch match", "a notch counted from the other end", bag, notches("back", "right", Notch("A", 12.0, 2))),
    (
        "notch near corner",
        "a notch 5 mm from a corner",
        legs,
        both(*(notches(p, "inseam", Notch("K", 0.5)) for p in ("front_leg", "back_leg"))),
    ),
    (
        "notch near corner",
        "a notch beyond the end",
        legs,
        both(*(notches(p, "inseam", Notch("K", 99.0)) for p in ("front_leg", "back_leg"))),
    ),
    (
        "notch sign",
        "two notches of one sign",
        legs,
        both(*(notches(p, "inseam", Notch("K", 20.0), Notch("K", 30.0)) for p in ("front_leg", "back_leg"))),
    ),
    # -- girths
    ("girth", "hips 2 mm too wide", legs, level("hip", ease=5.8)),
    ("girth", "hips 2 mm too narrow", legs, level("hip", ease=6.2)),
    ("girth", "hips narrower than their least", legs, level("hip", ease=6.2, at_least=True)),
    (
        "level missing",
        "trousers that say nothing of the thigh",
        legs,
        lambda g: replace(g, name="pull_on_trousers"),
    ),
    (
        "level across",
        "a hip line that ends 1 mm inside",
        legs,
        mark("back_leg", "hip_line", lambda c: line(c.start, c.end.left(MM))),
    ),
    ("passage", "a waist that does not pass the hips", legs, passage(passes=103.0)),
    ("passage missing", "elastic and no word on the hips", legs, lambda g: replace(g, passages=())),
    ("elastic", "a casing and nothing bought for it", legs, lambda g: replace(g, notions=())),
    (
        "elastic",
        "elastic too wide for the casing",
        legs,
        lambda g: replace(g, notions=(Notion("elastic", "Elastic", "waist", 75.0, 4.0),)),
    ),
    (
        "elastic",
        "elastic longer than the waist edge",
        legs,
        lambda g: replace(g, notions=(Notion("elastic", "Elastic", "waist", 120.0, 3.0),)),
    ),
    ("casing room", "a casing that binds its elastic", legs, free("waist", fold_in=0.9)),
    ("turn", "a hem cut deeper than it is turned", legs, edge("front_leg", "hem", allowance=4.0)),
    ("turn", "more folded in than turned", legs, free("hem", fold_in=3.0)),
    # -- notes
    (
        "note",
        "a change without its measure",
        legs,
        added("notes", Note("The crotch was moved by 5 mm.", by=0.5)),
    ),
    ("note", "a measure without a change", legs, added("notes", Note("The rise is odd.", measure="body_rise"))),
    ("note", "an empty note", legs, added("notes", Note(""))),
    ("finished", "a hem said to be 2 mm wider", legs, lambda g: replace(g, finished={"hem": 66.2})),
    ("finished", "hips said to be 2 mm narrower", legs, lambda g: replace(g, finished={"hip": 103.8})),
    ("finished", "a finished length below nothing", legs, lambda g: replace(g, finished={"side": -3.0})),
]
