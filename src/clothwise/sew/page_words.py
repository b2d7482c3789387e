"""The wording of the booklet's other pages: headings, labels, cautions, tips. With `words`, all its English."""

from __future__ import annotations

from clothwise.sew.cautions import Caution
from clothwise.sew.manners import Iron, Tip

LABELS: dict[str, str] = {
    "kind": "Kind",
    "fibre": "Fibre",
    "size": "Width × length",
    "weight": "Weight",
    "direction": "Direction",
    "one_way": "all pieces point one way",
    "needle": "Needle {needle}",
    "wide": "{what}, {width} wide",
    "instead": "{what}, {width} wide, instead of cutting the strip",
    "likely": "Likely",
    "to": "to",
    "for": "for",
    "made_on": "drawn on",
    "order_of_work": "Order of work",
    "time": "Time",
    "measures": "Measures",
    "body": "Body",
    "finished": "Finished garment",
    "what_you_need": "What you need",
    "cloth": "Cloth",
    "haberdashery": "Haberdashery",
    "tools": "Tools",
    "cutting": "Pieces and cutting",
    "piece": "Piece",
    "cut": "Cut",
    "allowances": "Allowances",
    "lay": "Lay",
    "before": "Before the first stitch",
    "allowance": "Allowance",
    "fold": "Fold",
    "elastic": "Elastic",
    "notches": "Notches",
    "stitch": "Stitch",
    "paper": "Paper",
    "words": "Words",
    "all_steps": "All steps",
    "key": "How to read the drawings",
    "key_right": "right side of the cloth",
    "key_wrong": "wrong side",
    "key_joined": "already joined",
    "key_seam": "stitch here",
    "key_notch": "notch",
    "care": "When it is done",
    "safety": "Take care",
    "steps": "Steps",
    "step": "Step",
    "why": "Why",
    "tips": "This cloth",
    "notes": "What was drawn for you",
    "next_time": "For next time",
    "page": "page",
    "estimated": "estimated",
    "contents": "Contents",
    "minutes_note": "Nine in ten makes like this take between",
    "and": "and",
    "shopping": "Not counted: deciding, shopping, the washing itself.",
    "rest": "and it rests",
}

TIME_ROWS: dict[str, str] = {
    "ready": "Set up, wash, read through",
    "print_tape": "Print, tape and cut the paper",
    "cut": "Press, lay and cut the cloth",
    "sew": "Sew",
    "finish": "Waist, hems, last pressing",
}

CAUTIONS: dict[Caution, tuple[str, str]] = {
    "child cords": (
        "Children and cords",
        "Give a child's garment no cord, drawstring or tie at hood or neck: up to 7 years not at all, up to 14 "
        "none with free ends. Leave loose cords off waist and hems too; they catch in doors, slides and "
        "wheels. EN 14682 says it in full; your own country's rules come first.",
    ),
    "small parts": (
        "Small parts",
        "Whatever is sewn on for a small child must not come off when pulled hard: no safety pins left in, no "
        "beads, no buttons on three stitches.",
    ),
    "child elastic": (
        "Soft elastic",
        "Two fingers must slip under the waist when the child sits. A mark on the skin means too tight.",
    ),
    "child nightwear": (
        "If it is slept in",
        "Children's nightwear has fire rules of its own in most countries (for cloth, fit and labels). Loose "
        "cotton burns fast: keep nightwear close-fitting and away from flames, stoves and heaters, and look up "
        "your local rules before you sew it for sleeping.",
    ),
    "nightwear": (
        "Open flames",
        "Light, open or raised cloth burns fast. Worn as nightwear, keep it away from stoves, candles and "
        "heaters; local rules may ask more.",
    ),
    "iron": (
        "Iron",
        "Steam scalds before it is felt. Keep the other hand out of its way, stand the iron up, and switch it "
        "off when you leave the room.",
    ),
    "needle": (
        "Needle",
        "Take pins out before the needle reaches them. Switch the machine off before you change needle or "
        "thread it. Count the pins in and out.",
    ),
    "blade": (
        "Blade",
        "Close a rotary blade every time you lay it down; cut away from the other hand. Shears belong where no "
        "child reaches.",
    ),
}

TIPS: dict[Tip, str] = {
    "slips": "It slips: pin every few centimetres to tissue paper, cut through both, and leave the paper on "
    "until you sew; use fine pins.",
    "frays": "It frays: handle cut edges little, neaten them soon, and do not snip notches, chalk them.",
    "thick": "It is thick: grade layers that lie on each other, hammer or press them flat, and start stitching "
    "on a scrap so that the foot lies level.",
    "pile": "It has a pile: all pieces point one way, and it is pressed from the wrong side over a towel.",
    "grows": "It grows while you work: do not let it hang off the table, and do not pull at the machine.",
    "curls": "Its edges curl: starch them lightly or press them flat just before you sew.",
    "soft": "It is soft and open: use a short stitch and never pull it over the plate.",
    "crisp": "It creases well: finger-press, then iron; folds stay where you put them.",
    "shows holes": "Needle holes stay visible: pin inside the allowance only, and unpick as little as you can.",
    "press cloth": "Press through a cloth, or the iron leaves a shine.",
    "walking foot": "If the upper layer creeps, use a walking foot or less pressure on the foot.",
    "shrinks": "It shrinks: wash and iron it before you cut, just as you will wash the finished garment.",
    "weighty": "It is heavy: hold the weight up with your lap or a table, so that it does not drag at the "
    "needle.",
}

IRONS: dict[Iron, str] = {
    "cool": "cool iron (one dot)",
    "warm": "warm iron (one to two dots)",
    "medium": "medium iron (two dots), steam",
    "hot": "hot iron (three dots), steam",
}

LAYERS = {
    "shell": "cloth",
    "lining": "lining",
    "interfacing": "interfacing",
    "rib": "ribbing",
    "pocket": "pocket cloth",
}
CUT_HOW = {
    "pair": "{n} ×, as mirror images",
    "single": "{n} ×",
    "on fold": "{n} ×, on the fold",
}

PAPER = (
    "Print one sheet first and measure its test square both ways. If it is right, print the rest at the same "
    "setting (actual size); tape them row by row.",
    "Cut the paper along the outer line: the allowances are in it. Arrows lie along the selvedge.",
)

WORDS: dict[str, str] = {  # said in the steps -> what it means
    "right side": "the face of the cloth that will be seen; the other is the wrong side.",
    "selvedge": "the woven edge along both sides of the cloth.",
    "notch": "a short mark at a piece's edge; notches with one name are sewn to each other.",
    "neaten": "to keep a raw edge from fraying.",
    "overlock": "to trim, sew and cover an edge in one, on an overlocker.",
    "zigzag": "the stitch that swings from side to side.",
    "inseam": "the seam along the inside of the leg.",
    "casing": "a tunnel of cloth that elastic runs through.",
    "hem": "the lower edge, folded up and sewn.",
    "allowance": "what is cut outside a seam, from the stitching to the edge.",
    "press": "to set the iron down and lift it, without sliding.",
}

TOOLS = ("Shears, pins, chalk", "Tape and a ruler", "Safety pin", "Iron")

BEFORE = (
    "Put in a new needle: {needle}. Wind the bobbin with the thread you sew with.",
    "On a scrap of the same cloth, sew a few lines: {stitch} mm stitches, looking the same above and below.",
    "Measure {seam} from the needle to the right and lay a strip of tape on the plate there. Marks on machines "
    "can be off, and every {off} counts several times round the body.",
    "Iron: {iron}. Press after every seam, before another crosses it.",
)
WASH = "Wash and iron the cloth first, as you will wash the garment."
SEW_AHEAD = "Read all steps once before you start; it saves more time than it takes."
CARE = (
    "Wash it as you washed the cloth. Sew in a tape at the back: front and back are easily mistaken.",
    "Note below what you changed and how long it took. Next time starts from there.",
)
NEXT_TIME = ("Changed", "Fit", "Minutes")


def caution_words(kind: Caution) -> tuple[str, str]:
    """Title and text of a caution."""
    return CAUTIONS[kind]
