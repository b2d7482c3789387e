"""Figures off the usual run: fuller bust, sloping shoulder, broad back, full arm, long rise.

A house draft is drawn to the body, so such a change is no slash in paper: the measure it stands for, or the
choice of the draft where no tape shows it, is moved by as much and the draft drawn again, and every seam, dart
and sleeve head follows. What came of it is read off the pieces, not promised. Lengths in cm, slopes in degrees.

Source: the trade's list of figure alterations, each tied to the one measure of the vocabulary that shows it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from clothwise.body import Body
from clothwise.draft import Choice, HouseDraft
from clothwise.errors import ChoiceError, DraftError
from clothwise.garment import Garment, Note, Piece

WORTH_SAYING = 0.1  # cm: a line that changes by less is not told
LINES_TOLD = 3  # of a piece: the lines that change most


@dataclass(frozen=True, slots=True)
class FigureChange:
    """One way in which a figure differs: its name for more of it and for less; `moves` and `choices` tell how
    far each measure, or choice of the draft, moves for one unit of it."""

    name: str
    more: str
    less: str
    moves: Mapping[str, float]
    low: float
    high: float
    unit: str = "cm"
    choices: Mapping[str, float] = field(default_factory=dict)

    def shows_in(self, draft: HouseDraft) -> bool:
        """Whether the draft asks for the measures, or has a choice, that it moves, and is drawn for it."""
        if self.name in draft.instead:
            return False
        asked = bool(self.moves) and all(measure in draft.needs for measure in self.moves)
        return asked or bool(self._asked_of(draft))

    def chosen(self, draft: HouseDraft, wish: Mapping[str, float | str], by: float) -> dict[str, float]:
        """The draft's choices as they are for so much of it."""
        return {c.name: float(wish.get(c.name, c.default or 0.0)) + by * k for c, k in self._asked_of(draft)}

    def _asked_of(self, draft: HouseDraft) -> list[tuple[Choice, float]]:
        return [(choice, self.choices[choice.name]) for choice in draft.choices if choice.name in self.choices]


FIGURE_CHANGES = (
    FigureChange("bust", "fuller bust", "smaller bust", {"bust_girth": 1.0}, -6.0, 14.0),
    FigureChange(
        "bust_depth", "lower bust", "higher bust", {"shoulder_neck_point_to_bust_point": 1.0}, -3.0, 5.0
    ),
    FigureChange("back_length", "longer back", "shorter back", {"back_waist_length": 1.0}, -5.0, 5.0),
    FigureChange("underarm", "lower underarm", "higher underarm", {"armscye_depth": 1.0}, -2.0, 3.0),
    FigureChange(
        "shoulder_slope",
        "sloping shoulders",
        "square shoulders",
        {"shoulder_slope_deg": 1.0},
        -8.0,
        8.0,
        "degrees",
    ),
    FigureChange("shoulder_width", "longer shoulder", "shorter shoulder", {"shoulder_length": 1.0}, -2.0, 2.0),
    FigureChange("across_back", "broad back", "narrow back", {"across_back": 1.0}, -4.0, 4.0),
    FigureChange("across_front", "broad chest", "narrow chest", {"across_front": 1.0}, -4.0, 4.0),
    FigureChange("upper_arm", "full upper arm", "slim upper arm", {"upper_arm_girth": 1.0}, -4.0, 8.0),
    FigureChange("neck", "wider neck", "slimmer neck", {"neck_base_girth": 1.0}, -4.0, 4.0),
    FigureChange("round_back", "rounded back", "flat back", {}, -2.0, 2.5, choices={"round_back": 1.0}),
    FigureChange(
        "forward_shoulder",
        "shoulders held forward",
        "shoulders held back",
        {},
        -1.0,
        2.0,
        choices={"forward_shoulder": 1.0},
    ),
    FigureChange(
        "low_shoulder", "lower shoulder", "higher shoulder", {}, -1.2, 1.2, choices={"low_shoulder": 1.0}
    ),
    FigureChange("tummy", "full tummy", "flat tummy", {}, -2.0, 2.0, choices={"front_waist": 1.0}),
    FigureChange(
        "seat",
        "full seat",
        "flat seat",
        {"crotch_length_total": 1.0},
        -5.0,
        5.0,
        choices={"back_waist": 1.0},
    ),
    FigureChange("hip_height", "higher hip", "lower hip", {}, 0.0, 2.0, choices={"side_waist": 1.0}),
    FigureChange("rise", "long rise", "short rise", {"body_rise": 1.0, "crotch_length_total": 2.0}, -4.0, 4.0),
    FigureChange("thigh", "full thigh", "slim thigh", {"thigh_girth": 1.0}, -4.0, 8.0),
    FigureChange("calf", "full calf", "slim calf", {"calf_girth": 1.0}, -4.0, 6.0),
)


def figured(
    draft: HouseDraft, body: Body, wish: Mapping[str, float | str], changes: Mapping[str, float]
) -> Garment:
    """The garment drawn for the changed figure, with a note for each change and for the lines that moved most.

    changes  name of FIGURE_CHANGES -> how much; 0 is no change, so that one side can be left as it is
    Raises   ChoiceError: no such change, out of range, or the draft does not ask for that measure;
             DraftError: it moves no line; else as the draft
    """
    figure, wished, notes = body, dict(wish), []
    changes = {name: by for name, by in changes.items() if by}
    if not changes:
        return draft.make(body, wish)
    for name, by in changes.items():
        change = _change(draft, name, by)
        wished |= change.chosen(draft, wished, by)
        figure = figure.with_measures(**{m: figure[m] + by * k for m, k in change.moves.items() if m in figure})
        notes.append(
            Note(
                f"Drawn for {change.more if by > 0 else change.less}, {abs(by):g} {change.unit}.",
                measure=name,
                by=by,
            )
        )
    before, after = draft.make(body, wish), draft.make(figure, wished)
    return replace(after, notes=(*after.notes, *notes, *_differences(before, after)))


def _change(draft: HouseDraft, name: str, by: float) -> FigureChange:
    where = f"pattern '{draft.name}', figure '{name}'"
    possible = [c for c in FIGURE_CHANGES if c.shows_in(draft)]
    change = next((c for c in possible if c.name == name), None)
    if name in draft.instead:
        raise ChoiceError(
            f"'{name.replace('_', ' ')}' is not drawn into this make.", where=where, mend=draft.instead[name]
        )
    if change is None:
        raise ChoiceError(
            f"'{name.replace('_', ' ')}' changes nothing in this draft.",
            where=where,
            mend=f"It knows {', '.join(c.name for c in possible)}.",
        )
    if not change.low <= by <= change.high:
        raise ChoiceError(
            f"{by:+g} {change.unit} is out of range.",
            where=where,
            mend=f"Possible is {change.low:+g} to {change.high:+g} {change.unit}; beyond it measure again.",
        )
    return change


def _differences(before: Garment, after: Garment) -> list[Note]:
    """What the change did, piece by piece: the lines, level lines among them, that grew or shrank most."""
    notes = []
    olds = {piece.name: piece for piece in before.pieces}
    for piece in after.pieces:
        if piece.name not in olds:
            notes.append(Note(f"{piece.title} is new."))
            continue
        old = dict(_lines(olds[piece.name]))
        moved = [(length - old[name], name) for name, length in _lines(piece) if name in old]
        told = sorted((m for m in moved if abs(m[0]) >= WORTH_SAYING), key=lambda m: -abs(m[0]))[:LINES_TOLD]
        if told:
            words = ", ".join(f"{name.replace('_', ' ')} {by:+.1f}" for by, name in told)
            notes.append(Note(f"{piece.title}: {words} cm."))
    if not notes:
        raise DraftError(
            "The change moves no line of this make by a millimetre.",
            where=f"pattern '{after.name}'",
            mend="Another measure decides there; change that one, or leave it out.",
        )
    return notes


def _lines(piece: Piece) -> Iterator[tuple[str, float]]:
    """Names and lengths of its edges and of the levels across it. [cm]"""
    yield from ((edge.name, edge.curve.length()) for edge in piece)
    for mark in piece.marks:
        if mark.kind == "level":
            yield f"{mark.name} line", mark.curve.length()
