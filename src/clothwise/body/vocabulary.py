"""The vocabulary of measures: what each one is, where the tape runs, and how to take it alone.

    nape bone        the bone that stands out at the base of the neck when the head nods (7th neck bone)
    neck point       where the shoulder line meets the side of the neck
    shoulder point   the outer edge of the shoulder bone, where a raised arm makes a dimple
    natural waist    half way between the lowest rib and the top of the hip bone, at the side
    hip level        where the seat stands out furthest

Posture unless said otherwise: standing upright and easy, feet together, no shoes, breathing out,
in underwear; a thin elastic tied round the natural waist marks it for all lengths. The tape lies
flat and snug and slides: it marks nothing and holds no finger. Heights and the lengths 'waist to …'
are straight down; a tape that hugs the hip reads up to 1 cm more.

Girths and levels follow the surveys behind `population.json`; where a survey measured otherwise,
the proxies stand in the script that made it. Ranges are the house's, 2026-11: wider than every body
in the data, so that outside them lies a slip of the tape or a body the house knows nothing of.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from clothwise.body.body import Figure
from clothwise.errors import MeasureError

Asked = Literal["always", "tape it", "may be estimated"]
Range = tuple[float, float]
ADULTS_AND_CHILDREN: tuple[Figure, ...] = ("woman", "man", "girl", "boy")


@dataclass(frozen=True, slots=True)
class Definition:
    """One measure of the vocabulary.

    says      landmarks, posture and tape path
    alone     how to take it at home with nobody to help
    asked     'always': the rest is estimated from these; 'tape it': size says little of it, an estimate
              is only a stopgap; 'may be estimated': the estimate serves for all but close fits
    adult     least and most plausible, in cm (or degrees, see unit); child: the same for 2 to 18 years
    figures   whom it is taken on
    """

    name: str
    says: str
    alone: str
    asked: Asked
    adult: Range
    child: Range
    unit: Literal["cm", "degrees"] = "cm"
    figures: tuple[Figure, ...] = ADULTS_AND_CHILDREN

    @property
    def words(self) -> str:
        """The name as it is spoken and printed."""
        return self.name.removesuffix("_deg").replace("_", " ")

    @property
    def girth(self) -> bool:
        """Whether the tape goes round."""
        return self.name.endswith("_girth")

    def plausible(self, figure: Figure) -> Range:
        """Least and most that anybody of this figure measures."""
        return self.child if figure in ("girl", "boy") else self.adult


VOCABULARY: tuple[Definition, ...] = (
    Definition(
        "height",
        "From the floor straight up to the highest point of the head; back against a wall, eyes level.",
        "Stand with your back to a door frame, lay a hardcover book on your head with its spine against "
        "the frame, hold it there, turn round and mark its lower edge.",
        "always",
        (130, 220),
        (80, 197),
    ),
    Definition(
        "bust_girth",
        "Level round the trunk over the fullest part of the bust or chest, under the arms and over the "
        "shoulder blades, in the bra that will be worn. On children: level with the nipples.",
        "Lay the tape behind you, bring both ends forward under the arms, and look in a mirror from the "
        "side: it must not dip at the back. Let the arms hang before you read it.",
        "always",
        (65, 180),
        (38, 130),
    ),
    Definition(
        "high_bust_girth",
        "Round the trunk high under the arms: above the bust in front, straight across the shoulder "
        "blades behind.",
        "As the bust, but with the tape pushed up into the armpits; keep it snug, there is little to "
        "press there.",
        "tape it",
        (62, 170),
        (38, 125),
    ),
    Definition(
        "under_bust_girth",
        "Level round the ribs directly below the bust.",
        "Before a mirror, tape close under the bust all round, breathing out.",
        "tape it",
        (55, 160),
        (38, 120),
        figures=("woman", "girl"),
    ),
    Definition(
        "waist_girth",
        "Level round the natural waist, half way between the lowest rib and the top of the hip bone at "
        "the side; snug, not tight.",
        "Find the lowest rib and the top of the hip bone with the fingers at the side, tie a thin "
        "elastic half way between and let it settle; measure over it, breathing out.",
        "always",
        (48, 180),
        (35, 130),
    ),
    Definition(
        "high_hip_girth",
        "Level round the top of the hip bones, in adults 8 to 10 cm below the natural waist.",
        "Measure 9 cm down from the waist elastic at both sides, mark with pins, and measure over the marks.",
        "tape it",
        (55, 190),
        (38, 135),
    ),
    Definition(
        "hip_girth",
        "Level round the seat where it stands out furthest, feet together. With a full belly, hold a "
        "card upright against its front and measure round the card.",
        "Stand sideways to a mirror, slide the tape down until it is at the fullest part of the seat, "
        "and see that it is level all round.",
        "always",
        (65, 190),
        (38, 140),
    ),
    Definition(
        "neck_base_girth",
        "Round the base of the neck: over the nape bone, both neck points and the pit of the neck; the "
        "tape stands on its edge.",
        "Lay a fine chain or a cord round the base of the neck, let it settle, mark where it meets and "
        "lay it along the tape.",
        "may be estimated",
        (28, 62),
        (19, 52),
    ),
    Definition(
        "neck_girth",
        "Round the middle of the neck just below the larynx, square to the neck.",
        "Before a mirror, one finger's width below the larynx, tape close.",
        "may be estimated",
        (25, 60),
        (18, 48),
    ),
    Definition(
        "head_girth",
        "Level above the brows and over the fullest back of the head; over the hair as it is worn.",
        "Slide the tape at the back of the head up and down until it reads most.",
        "tape it",
        (48, 67),
        (42, 64),
    ),
    Definition(
        "shoulder_length",
        "Along the top of the shoulder from the neck point to the shoulder point.",
        "Raise the arm level to feel the dimple at the shoulder point, lower it, and lay the tape from "
        "the cord round the neck to that point.",
        "tape it",
        (8, 20),
        (5, 18),
    ),
    Definition(
        "across_shoulder",
        "From shoulder point to shoulder point over the back, passing over the nape bone.",
        "Mark both shoulder points with tape on a fitting shirt, put it on again to check, then measure "
        "the shirt from mark to mark over the nape.",
        "may be estimated",
        (27, 60),
        (17, 52),
    ),
    Definition(
        "across_back",
        "Across the back from arm crease to arm crease, half way between shoulder point and armpit, arms "
        "hanging.",
        "In a close shirt with set-in sleeves that fits, mark the creases behind the arms, take it off "
        "and measure from mark to mark, half way down the armhole.",
        "tape it",
        (24, 62),
        (14, 50),
    ),
    Definition(
        "across_front",
        "Across the chest from arm crease to arm crease, half way between shoulder point and armpit, "
        "arms hanging.",
        "Before a mirror, from the front crease of one arm straight across to the other.",
        "tape it",
        (23, 60),
        (13, 50),
    ),
    Definition(
        "shoulder_slope_deg",
        "How steeply the shoulder falls from neck point to shoulder point, in degrees from level.",
        "From a picture taken from behind at chest height: level line through the neck point, angle down "
        "to the shoulder point. Usual is 21.",
        "may be estimated",
        (5, 40),
        (5, 40),
        "degrees",
    ),
    Definition(
        "back_waist_length",
        "From the nape bone down the spine to the level of the natural waist.",
        "Fix the end of the tape at the nape bone with sticking plaster, let it hang down the back, and "
        "read it in the mirror at the waist elastic.",
        "may be estimated",
        (28, 60),
        (16, 55),
    ),
    Definition(
        "front_waist_length_over_bust",
        "From the neck point over the bust point, then straight down to the natural waist.",
        "Hold the end at the neck point, run the tape over the bust point, let it fall to the waist elastic.",
        "tape it",
        (30, 68),
        (18, 58),
    ),
    Definition(
        "bust_point_distance",
        "Straight from bust point to bust point, in the bra that will be worn.",
        "Hold a ruler level before the bust, read it in the mirror.",
        "tape it",
        (12, 36),
        (7, 27),
    ),
    Definition(
        "shoulder_neck_point_to_bust_point",
        "On the body from the neck point to the bust point.",
        "Hold the end at the neck point under the cord, let the tape fall over the bust, read at its "
        "fullest point.",
        "tape it",
        (18, 48),
        (9, 38),
    ),
    Definition(
        "bust_height",
        "From the floor straight up to the bust point.",
        "Stand beside a wall, hold a ruler level from the bust point to the wall, mark it, measure the "
        "mark's height.",
        "may be estimated",
        (85, 165),
        (50, 155),
    ),
    Definition(
        "nape_to_floor",
        "From the nape bone straight down to the floor.",
        "Stand with your back to a door frame, hold a ruler level on the nape bone, mark where it "
        "touches the frame.",
        "may be estimated",
        (105, 195),
        (58, 180),
    ),
    Definition(
        "armscye_girth",
        "From the shoulder point round under the armpit and back to it, arm hanging.",
        "Lay the tape under the arm, bring both ends up to the shoulder point, let the arm hang, read.",
        "may be estimated",
        (28, 75),
        (17, 62),
    ),
    Definition(
        "armscye_depth",
        "From the nape bone straight down the spine to the level of the armpits.",
        "Clamp a ruler level under both armpits behind you and mark its upper edge on a close shirt; "
        "take the shirt off and measure from the nape.",
        "tape it",
        (12, 32),
        (7, 27),
    ),
    Definition(
        "upper_arm_girth",
        "Round the fullest upper arm near the armpit, arm hanging and relaxed, tape square to the arm.",
        "Let the arm hang, hold one end with the chin or a pin, and draw the tape round with the other hand.",
        "may be estimated",
        (18, 65),
        (10, 48),
    ),
    Definition(
        "elbow_girth",
        "Round the bent elbow over its point and through the crease.",
        "Bend the arm as if to hold a cup and lay the tape round.",
        "may be estimated",
        (19, 50),
        (11, 40),
    ),
    Definition(
        "wrist_girth",
        "Round the wrist over the two wrist bones.",
        "With the other hand, tape close.",
        "may be estimated",
        (11, 28),
        (7, 24),
    ),
    Definition(
        "arm_length",
        "From the shoulder point over the point of the bent elbow to the outer wrist bone.",
        "Put the hand on the hip, fix the end at the shoulder point with sticking plaster, run the tape "
        "over the elbow to the wrist bone.",
        "may be estimated",
        (40, 80),
        (20, 74),
    ),
    Definition(
        "waist_to_hip",
        "At the side from the natural waist straight down to hip level.",
        "Tie a second elastic level at the fullest seat, and measure from elastic to elastic at the side.",
        "may be estimated",
        (9, 34),
        (5, 30),
    ),
    Definition(
        "waist_to_knee",
        "At the side from the natural waist straight down to the middle of the kneecap.",
        "Clip the tape to the waist elastic, let it hang, and read beside the middle of the kneecap in "
        "the mirror.",
        "may be estimated",
        (40, 82),
        (20, 76),
    ),
    Definition(
        "waist_to_ankle",
        "At the side from the natural waist straight down to the outer ankle bone.",
        "Clip the tape to the waist elastic with its end on the floor, read at the elastic and at the "
        "ankle bone.",
        "may be estimated",
        (70, 140),
        (36, 130),
    ),
    Definition(
        "waist_to_floor",
        "At the side from the natural waist straight down to the floor.",
        "Stand on the end of the tape, draw it straight up along the side, read at the waist elastic.",
        "may be estimated",
        (75, 148),
        (38, 138),
    ),
    Definition(
        "inside_leg",
        "From the crotch straight down to the floor, feet a little apart.",
        "Stand with your back to a wall, draw a hardcover book up between the legs with its spine along "
        "the wall until it is snug, mark its upper edge on the wall.",
        "may be estimated",
        (55, 115),
        (26, 106),
    ),
    Definition(
        "body_rise",
        "From the natural waist straight down to the level of the crotch, standing: waist to floor less "
        "inside leg.",
        "Take waist to floor and inside leg; this is the difference.",
        "may be estimated",
        (14, 45),
        (6, 40),
    ),
    Definition(
        "crotch_depth_sitting",
        "Sitting upright on a hard seat: at the side from the natural waist straight down to the seat. "
        "More than the body rise, because the tape follows the hip.",
        "Sit on a table beside a mirror, end of the tape on the table top, read at the waist elastic.",
        "may be estimated",
        (15, 48),
        (7, 42),
    ),
    Definition(
        "crotch_length_total",
        "From the natural waist in front through the legs to the natural waist behind, snug but not pressing.",
        "Clip the tape to the waist elastic at the back, bring it through, read at the elastic in front.",
        "may be estimated",
        (48, 130),
        (24, 105),
    ),
    Definition(
        "thigh_girth",
        "Level round the fullest thigh just below the fold of the seat, legs a little apart.",
        "Before a mirror, as high as the tape goes, level.",
        "may be estimated",
        (36, 110),
        (19, 90),
    ),
    Definition(
        "knee_girth",
        "Level round the middle of the kneecap, leg straight.",
        "Sit, stretch the leg out, lay the tape round.",
        "may be estimated",
        (25, 75),
        (15, 62),
    ),
    Definition(
        "calf_girth",
        "Level round the fullest calf, standing.",
        "Set the foot on a low stool, slide the tape until it reads most.",
        "may be estimated",
        (23, 68),
        (13, 56),
    ),
    Definition(
        "ankle_girth",
        "Level round the slimmest part just above the ankle bones.",
        "Set the foot on a stool, tape close above the bones, not over them.",
        "may be estimated",
        (14, 42),
        (9, 36),
    ),
    Definition(
        "foot_heel_girth",
        "Round the point of the heel and the fold of the instep: the girth that a trouser hem must pass.",
        "Sit, point the toes, lay the tape round heel and instep.",
        "may be estimated",
        (22, 46),
        (12, 44),
    ),
    Definition(
        "foot_length",
        "From the heel to the tip of the longest toe, standing.",
        "Stand on paper with the heel against a wall, mark the longest toe, measure from the wall.",
        "may be estimated",
        (18, 36),
        (10, 34),
    ),
)

_BY_NAME = {definition.name: definition for definition in VOCABULARY}


def definition(name: str) -> Definition:
    """The definition of one measure. Raises MeasureError when the vocabulary does not hold it."""
    if name not in _BY_NAME:
        raise MeasureError(
            f"There is no measure called '{name}'.",
            where="vocabulary of measures",
            mend="Use a name of the vocabulary, for example 'waist_girth' or 'inside_leg'.",
        )
    return _BY_NAME[name]


def measures_of(figure: Figure) -> tuple[str, ...]:
    """The names of all measures taken on this figure, in the order of the vocabulary."""
    return tuple(definition.name for definition in VOCABULARY if figure in definition.figures)
