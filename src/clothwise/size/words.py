"""The reasons of a size in sentences a sewer uses. Figures come as data from `size`; here they become words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from clothwise.shelf.doubts import ChartDoubt
from clothwise.shelf.levels import level as level_of
from clothwise.size.advice import Alteration, LengthAdvice, Reason
from clothwise.size.getting_in import Elastic, Passage, slit_span
from clothwise.size.growth import LONGEST, Growing
from clothwise.size.lengthening import Longer
from clothwise.units import YARD, Unit, format_length

MOST_SIZES_NAMED = 4  # of doubted sizes; more are told from first to last
ROUNDING = 0.01  # of a step: what was already a whole step stays one
PARTS = {"head": "head", "shoulders": "shoulders", "hips": "hips", "hand": "hand", "foot": "foot and heel"}
OPENINGS = {
    "neck_opening": "neck",
    "waist_opening": "waist edge",
    "waist": "waist",
    "sleeve_hem": "sleeve hem",
    "leg_hem": "leg hem",
}
WHERE_LENGTH = {
    "back_length": "above the waist",
    "sleeve_length": "in the sleeve",
    "rise": "at the rise line, all panels alike",
    "crotch_length": "along the crotch seam",
    "inside_leg": "in the leg",
    "side_length": "in the leg",
    "length": "at the hem",
}


TOGETHER = (
    "no finished measure",
    "hangs free",
    "equals the chart",
    "gap filled",
    "not measured",
    "level missing",
)


def _first(words: str) -> str:
    """The words as they begin a sentence; a name stays as it is written."""
    return words[:1].upper() + words[1:] if words.startswith("you") else words


def _listed(words: Sequence[str], last: str = "and") -> str:
    """'bust, waist and hip'"""
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


@dataclass(frozen=True, slots=True)
class Speaker:
    """Says lengths in the sewer's unit, and reasons as sentences."""

    unit: Unit = "cm"
    chest: bool = False  # the bust is called so on men and children
    wearer: str = ""  # her or his name; '': whoever reads it

    @property
    def who(self) -> str:
        """'Juno', 'you'"""
        return self.wearer or "you"

    @property
    def whose(self) -> str:
        """'Juno's', 'your'"""
        return f"{self.wearer}'s" if self.wearer else "your"

    def does(self, one: str, many: str) -> str:
        """'Juno is', 'you are': the word of one or of the reader."""
        return f"{self.who} {one if self.wearer else many}"

    def level(self, name: str) -> str:
        """'hip', 'back length'; 'chest' where that is the word."""
        return "chest" if self.chest and name == "bust" else level_of(name).words

    def cm(self, value: object) -> str:
        """'6 cm', '6.5 cm', '2 3/8 in'"""
        text = format_length(float(str(value)), self.unit, with_unit=False)
        return f"{text.removesuffix('.0')} {self.unit}"

    def cloth(self, value: float, *, buy: bool = False) -> str:
        """A length of cloth as a shop measures it: '1.85 m', or '2 1/8 yd'; to buy, rounded up."""
        if self.unit == "cm":
            step = 5.0 if buy else 1.0
            return f"{step * math.ceil(value / step - ROUNDING) / 100:.2f} m"
        eighths = math.ceil(value / YARD * 8 - ROUNDING) if buy else round(value / YARD * 8)
        whole, rest = divmod(eighths, 8)
        part = str(Fraction(rest, 8)) if rest else ""
        return f"{' '.join(word for word in (str(whole) if whole or not rest else '', part) if word)} yd"

    def bare(self, value: float) -> str:
        """The same without its unit, for a table."""
        return format_length(value, self.unit, with_unit=False).removesuffix(".0")

    def reasons(self, found: Sequence[Reason]) -> list[str]:
        """All reasons; what is said alike of several levels is said once."""
        said: dict[tuple[str, str], list[Reason]] = {}
        for at, one in enumerate(found):
            alike = (
                (one.kind, str(one.figures.get("size", ""))) if one.kind in TOGETHER else (one.kind, str(at))
            )
            said.setdefault(alike, []).append(one)
        return [self.reason(same[0]) if len(same) == 1 else self._together(same) for same in said.values()]

    def _together(self, same: list[Reason]) -> str:
        levels = [self.level(str(one.figures["level"])) for one in same]
        both, f = _listed(levels), same[0].figures
        match same[0].kind:
            case "equals the chart":
                return f"At {both} {self.does('is', 'are')} size {f['size']} of the chart."
            case "hangs free":
                ease = _listed([self.bare(float(one.figures["ease"])) for one in same])
                spare = f"with {ease} {self.unit} to spare"
                return f"{both.capitalize()} hang free, {spare}: they do not decide the size."
            case "gap filled":
                return f"The figures for {both} have gaps, filled in from the sizes beside them."
            case "not measured":
                return f"{_first(self.whose)} {both} are not measured, so nothing is said of them."
            case "level missing":
                return f"The pattern says nothing of {both}: measure its pieces there before you cut."
            case _:
                ease = _listed([self.bare(float(one.figures["assumed"])) for one in same])
                return (
                    f"The envelope prints no finished {_listed(levels, 'or')}: {ease} {self.unit} of ease are "
                    f"assumed, as is usual for a {f['fit_class']} garment. Measure the pieces once."
                )

    def reason(self, one: Reason) -> str:
        """One reason as a sentence or two."""
        f, cm = one.figures, self.cm
        level = self.level(str(f["level"])) if "level" in f else ""
        match one.kind:
            case "base by high bust":
                return (
                    f"{_first(self.whose)} bust of {cm(f['bust'])} is {cm(f['difference'])} fuller than the "
                    f"high bust; the pattern is drawn for {cm(f['drawn_for'])}. So the size follows the frame, "
                    f"{cm(f['high_bust'])} and {cm(f['drawn_for'])}, as if the bust were {cm(f['base'])}."
                )
            case "high bust not taped":
                return (
                    f"Tape the high bust as well: if it is {cm(f['from'])} or more under the bust, a smaller "
                    "size with bust room sits better at shoulders and neck."
                )
            case "equals the chart":
                return f"At the {level} {self.does('is', 'are')} size {f['size']} of the chart."
            case "between sizes":
                return (
                    f"At the {level} {self.does('lies', 'lie')} between {f['lower']} and {f['upper']}: they "
                    f"give {cm(f['lower_ease'])} and {cm(f['upper_ease'])} of ease, and {cm(f['wanted'])} is "
                    "wanted."
                )
            case "off the chart":
                return (
                    f"At the {level} {self.does('is', 'are')} {f['size']}: the grade of {cm(f['grade'])} a "
                    f"size was carried on. The paper ends at {f['nearest']}."
                )
            case "too far off":
                return (
                    f"{_first(self.whose)} {level} of {cm(f['body'])} lies too far off this "
                    f"chart ({cm(f['smallest'])} to {cm(f['largest'])}): no grade holds so far."
                )
            case "drawn in":
                return f"The {level} is drawn in by elastic: it does not decide the size."
            case "hangs free":
                return f"The {level} hangs free, with {cm(f['ease'])} to spare: it does not decide the size."
            case "unwearable below":
                return (
                    f"Cut straight in {f['size']}, the {level} would have {cm(f['ease'])} of ease, and "
                    f"{cm(f['floor'])} is the least one can wear."
                )
            case "straight serves":
                return (
                    f"{_first(self.whose)} {level} alone would take {f['own']}; {f['size']} gives "
                    f"{cm(f['ease'])} there, which serves, so there is no need to blend."
                )
            case "likes":
                by = float(f["by"])
                makes = "1 make" if float(f["judged"]) == 1 else f"{float(f['judged']):.0f} makes"
                return (
                    f"{_first(self.does('likes', 'like'))} {cm(abs(by))} {'less' if by < 0 else 'more'} at the "
                    f"{level} than this pattern intends (learned from {makes}): {cm(f['wanted'])} is "
                    "reckoned with."
                )
            case "wish":
                less = float(f["asked"]) < float(f["wanted"])
                held = f" Less than {cm(f['wanted'])} cannot be worn: so much is reckoned with." if less else ""
                asked = f"{cm(f['asked'])} is asked for at the {level}"
                return f"{asked}; the pattern means {cm(f['intended'])}.{held}"
            case "wish too far":
                return (
                    f"{cm(f['wanted'])} is asked for at the {level}: the largest size, {f['largest']}, gives "
                    f"{cm(f['most'])}."
                )
            case "no finished measure":
                return (
                    f"The envelope prints no finished {level}: {cm(f['assumed'])} of ease is assumed, as is "
                    f"usual for a {f['fit_class']} garment. Measure the pieces once."
                )
            case "no chart":
                return (
                    f"The chart has no {level}: the size is told from the finished measure, with "
                    f"{cm(f['assumed'])} of ease as is usual."
                )
            case "gap filled":
                return f"The figures for the {level} have gaps, filled in from the sizes beside them."
            case "level missing":
                return f"The pattern says nothing of the {level}: measure its pieces there before you cut."
            case "not measured":
                return f"{_first(self.whose)} {level} is not measured, so nothing is said of it."
            case "estimated":
                return f"{_first(self.whose)} {level} of {cm(f['body'])} is only estimated: tape it."
            case "tape is old":
                return f"The measures are {float(f['months']):.0f} months old: take bust, waist and hip again."
            case "unwearable":
                return (
                    f"Even {f['size']} gives only {cm(f['ease'])} at the {level}, and {cm(f['floor'])} is the "
                    "least one can wear: it must be let out."
                )
            case "intends little":
                return (
                    f"Only {cm(f['intended'])} of ease is meant at the {level}, little for cloth that does not "
                    "stretch: sew a trial first."
                )
            case "drop is large":
                return (
                    f"From waist to hip there are {cm(f['drop'])}: each half of the pattern must lose "
                    f"{cm(f['half'])} towards the waist. Share it over {float(f['shapers']):.0f} darts and "
                    f"side edges, none wider than {cm(3)}."
                )
            case "jump too wide":
                return (
                    f"From {f['upper']} to {f['lower']} the sizes lie {cm(f['jump'])} apart in the round; over "
                    f"{cm(f['length'])} a side seam takes {cm(f['most'])}. The rest is altered."
                )
            case "size by height":
                same = f["width"] == f["length"]
                words = f"Girth and height both say {f['width']}."
                apart = f"Width follows the girth, {f['width']}; length the height, {f['length']}."
                return words if same else apart
            case "one size":
                return "There is one size only: what does not suit must be altered."
            case "one size unmeasured":
                return (
                    "There is one size only, and the envelope does not say what it measures: measure its "
                    "pieces before you cut."
                )
            case "other figure":
                return (
                    f"The pattern is drawn for a {f['pattern']}, not for a {f['body']}: its shapes differ too."
                )
            case "no level at all":
                return "Of what this garment is judged by, chart and body have nothing in common."
            case _:
                return self._of_cloth(one)

    def _of_cloth(self, one: Reason) -> str:
        f = one.figures
        match one.kind:
            case "cloth stretches less":
                return (
                    f"{f['cloth']} stretches {float(f['stretch']):.0%}, the pattern asks for "
                    f"{float(f['least']):.0%}: it will sit tighter; the sizes allow for what it can do."
                )
            case "cloth does not stretch":
                return (
                    f"{f['cloth']} does not stretch and this pattern wants a knit: the sizes are those that "
                    "could be worn at all. Choose a knit."
                )
            case "cloth stretches more":
                return (
                    f"{f['cloth']} stretches {float(f['stretch']):.0%}, far more than the "
                    f"{float(f['least']):.0%} asked for: neck and shoulders may grow; tape them."
                )
            case "knit for a woven":
                return (
                    f"{f['cloth']} is a knit and the pattern is for woven cloth: neck and shoulders may grow; "
                    "tape them."
                )
            case _:
                return "Nobody says how far the knit must stretch: pull 10 cm of it and see what it reaches."

    def alteration(self, one: Alteration) -> str:
        """One change beyond the chart."""
        cm, level = self.cm, self.level(one.level)
        if one.kind == "bust room":
            return f"Add {cm(one.by)} of bust room, {cm(one.each)} on each half of the front; shoulders stay."
        if one.kind in ("let out", "take in"):
            verb = "Let out" if one.kind == "let out" else "Take in"
            edges = "each of the four side edges" if one.places == 4 else "each edge of the seam"
            darts = float(one.figures.get("pairs_of_darts", 0))
            more = (
                f"; share the rest over {darts:.0f} more pair{'s' if darts > 1 else ''} of darts"
                if darts
                else ""
            )
            return f"{verb} the {level} by {cm(one.by)}: {cm(one.each)} at {edges}{more}."
        if one.kind == "redraw beyond the chart":
            how = "wider" if one.by > 0 else "narrower"
            return (
                f"Draw the {level} {cm(abs(one.by))} {how} than the last size, {cm(abs(one.each))} at each "
                "side edge."
            )
        if one.level == "trunk":
            over = ", over the nappy" if one.figures["nappy"] else ""
            return (
                f"Lengthen by {cm(one.by)} round the trunk, {cm(one.each)} above the waist and as much at the "
                f"rise: it has {cm(one.figures['finished'])}, and {self.does('measures', 'measure')} "
                f"{cm(one.figures['trunk'])} there{over}."
            )
        verb = "Lengthen" if one.kind == "lengthen" else "Shorten"
        return f"{verb} by {cm(one.by)} {WHERE_LENGTH.get(one.level, 'at the ' + level)}."

    def length(self, one: LengthAdvice) -> str:
        """Why a length is changed, or left."""
        cm, words = self.cm, self.level(one.level)
        if one.level == "length":
            return (
                f"{words}: {cm(one.garment)} on the paper, {cm(one.wanted)} as {self.does('likes', 'like')} it"
            )
        size = one.size if " " in one.size else f"size {one.size}"
        return f"{words}: {self.who} {cm(one.body)}, {size} has {cm(one.garment)}, wanted {cm(one.wanted)}"

    def longer(self, by: Longer) -> str:
        """'2 cm longer, sleeves 3 cm shorter'"""
        parts = (("", by.body), ("sleeves ", by.sleeves))
        said = [f"{what}{self.cm(abs(cm))} {'longer' if cm > 0 else 'shorter'}" for what, cm in parts if cm]
        return ", ".join(said) or "as long as it is"

    def passage(self, one: Passage) -> str:
        """Whether a part goes through an opening."""
        cm = self.cm
        part = f"{PARTS[one.part].capitalize()} {cm(one.part_girth)}{' (estimated)' if one.estimated else ''}"
        through = f"{part} through the {OPENINGS[one.opening]} of {cm(one.edge)}"
        opened = f", opening to {cm(one.opened)}" if one.opened > one.edge else ""
        if one.goes:
            return f"{through}{opened}: goes."
        if one.drawn_in:
            where = ", straight up from the hip" if one.part == "hips" else ""
            return (
                f"{through}{opened}: does not go; cut that edge {cm(one.wider)} wider{where}. The elastic "
                "draws it in again."
            )
        low, high = slit_span(one)
        return f"{through}{opened}: does not go; a slit or placket of {cm(low)} to {cm(high)} is needed."

    def elastic(self, one: Elastic) -> str:
        """What the elastic must do."""
        return (
            f"Elastic of {self.cm(one.length)} must stretch to {1 + one.stretch:.0%} of its length to pass the "
            f"hips, and the cloth edge must measure {self.cm(one.edge)} or more. For elastic wider or narrower "
            "than the pattern's, change the fold at the waist edge by as much."
        )

    def growing(self, one: Growing) -> list[str]:
        """Room to grow and months of wear."""
        said = []
        if not one.wear:
            said.append("How long a size serves cannot be told: the survey of children begins at two years.")
        for worn in one.wear:
            wear = worn.wear
            if wear.likely >= LONGEST:
                time = "as long as can be told"
            else:
                most = "more than 60" if wear.high >= LONGEST else f"{wear.high:.0f}"
                time = f"about {wear.likely:.0f} months ({wear.low:.0f} to {most})"
            said.append(f"{worn.size} by its {self.level(worn.level)}: {time}.")
        if one.roomy_size and one.room:
            room = ", ".join(f"{self.level(level)} {self.cm(by)}" for level, by in one.room)
            said.append(f"The next size gives more: {room}. Growth takes length first: leave a deep hem.")
        if one.age_guessed:
            said.append(f"The age was not given and is told from the height: about {one.age_years:.0f} years.")
        return said

    def doubts(self, found: Sequence[ChartDoubt]) -> list[str]:
        """All doubts; those of one kind in one row are told together."""
        said = []
        for _, group in groupby(found, key=lambda one: (one.kind, one.table, one.view, one.level)):
            same = list(group)
            if len(same) > 1 and same[0].kind in ("impossible", "not rising"):
                said.append(self._row_of_doubts(same))
            else:
                said += [self.doubt(one) for one in same]
        return said

    def _row_of_doubts(self, same: list[ChartDoubt]) -> str:
        one = same[0]
        sizes = _listed([each.size for each in same])
        if len(same) > MOST_SIZES_NAMED:
            sizes = f"{len(same)} sizes, from {one.size} to {same[-1].size}"
        where = f"{self._where(one)} of {sizes}"
        if one.kind == "not rising":
            return f"{where} is less than the size before. A slip, or sizes in another order?"
        low, high = min(each.found for each in same), max(each.found for each in same)
        return f"{where} is {self.bare(low)} to {self.cm(high)}: nobody measures that. Another unit?"

    def _where(self, one: ChartDoubt) -> str:
        view = f", view {one.view}" if one.view else ""
        return f"{one.table.capitalize()}{view}: {self.level(one.level)}"

    def doubt(self, one: ChartDoubt) -> str:
        """One doubt about a chart, as a question."""
        cm = self.cm
        where = f"{self._where(one)}{f' of {one.size}' if one.size else ', in all sizes,'}"
        found, other = cm(one.found), cm(one.other)
        match one.kind:
            case "not rising":
                return f"{where} is {found}, less than the size before ({other}). A slip?"
            case "inches among centimetres":
                return f"{where} is {found}; inches perhaps, that is {other}?"
            case "centimetres among inches":
                return f"{where} is {found}; centimetres perhaps, that is {other}?"
            case "digits turned":
                return f"{where} is {found}; {other} perhaps, its digits turned about?"
            case "impossible":
                return f"{where} is {found}: nobody measures that. Another unit?"
            case "uneven step":
                return f"{where} is {found} more than the size before, where {other} is usual. A slip?"
            case "smaller than the body":
                return f"{where} is {found}, less than its body ({other}), in cloth that does not stretch."
            case "a child's":
                return "The body chart holds a child's measures; the pattern is said to be for an adult."
            case "uneven ease":
                return f"{where} has {found} of ease, the other sizes {other}. A slip?"
