"""Charts as people paste them, and slips in them: what is understood, what is told, what is never guessed."""

from __future__ import annotations

from contextlib import suppress

import pytest

from clothwise.errors import LengthError, ShelfError
from clothwise.shelf.cells import read_cell
from clothwise.shelf.doubts import doubts
from clothwise.shelf.levels import find_level
from clothwise.shelf.pasting import with_table
from clothwise.shelf.pattern import BoughtPattern
from clothwise.shelf.reading import read_pattern
from clothwise.shelf.table import read_chart, read_cloth_table
from clothwise.shelf.writing import write_pattern
from clothwise.store.demo import bought_scenario
from clothwise.units import INCH
from tests.bought_by_hand import bought, row

IN = INCH


@pytest.mark.parametrize(
    ("text", "unit", "low", "high"),
    [
        ("92", "cm", 92, 92),
        ("92,5", "cm", 92.5, 92.5),
        ("36 1/4", "in", 36.25 * IN, 36.25 * IN),
        ("36-1/4", "in", 36.25 * IN, 36.25 * IN),
        ("36¼", "in", 36.25 * IN, 36.25 * IN),
        ('36 1/4"', "cm", 36.25 * IN, 36.25 * IN),
        ("92-96", "cm", 92, 96),
        ("92 – 96 cm", "cm", 92, 96),
        ("92 to 96", "cm", 92, 96),
        ("34-36", "in", 34 * IN, 36 * IN),
        ("31 1/2 - 33", "in", 31.5 * IN, 33 * IN),
        ("31 1/2-33 1/2 in", "cm", 31.5 * IN, 33.5 * IN),
        ("80/84", "cm", 80, 84),
        ("1/2", "in", 0.5 * IN, 0.5 * IN),
        ("2 7/8 yd", "cm", 2.875 * 91.44, 2.875 * 91.44),
        ("1.5 m", "cm", 150, 150),
        ('92 cm / 36"', "cm", 92, 92),
        ('36 1/4" / 92 cm', "cm", 92, 92),
        ("74 (29)", "cm", 74, 74),
        ("40ins", "cm", 40 * IN, 40 * IN),
        ("100 cms", "in", 100, 100),
        ("92-96 (36 1/4-38)", "cm", 92, 96),
        ("102/40", "in", 102, 102),
        ("36/38", "in", 36 * IN, 38 * IN),
    ],
)
def test_a_cell_is_a_length_or_a_range(text: str, unit: str, low: float, high: float) -> None:
    cell = read_cell(text, unit)  # type: ignore[arg-type]
    assert cell is not None
    assert (cell.low, cell.high) == pytest.approx((low, high))


@pytest.mark.parametrize("text", ["", " ", "-", "–", "n/a", "?"])
def test_an_empty_cell_is_none(text: str) -> None:
    assert read_cell(text, "cm") is None


@pytest.mark.parametrize("text", ["96-92", "abc", "92 cm 3 in", "1-2-3", "92//96", "-5"])
def test_a_cell_that_is_neither_is_refused(text: str) -> None:
    with pytest.raises(LengthError):
        read_cell(text, "cm")


SAME = {"bust": [92.0, 100.0], "waist": [74.0, 82.0]}
PASTED = [
    "size\t12/14\t16/18\nbust\t92\t100\nwaist\t74\t82",
    "size,12/14,16/18\nbust,92,100\nwaist,74,82\n",
    "size;12/14;16/18\nbust;92,0;100,0\nwaist;74,0;82,0",
    "| size | 12/14 | 16/18 |\n|---|---|---|\n| Bust | 92 | 100 |\n| Waist | 74 | 82 |",
    "Size    12/14    16/18\nBust    92       100\nWaist   74       82",
    "Size 12/14 16/18\nBust 92 100\nWaist 74 82",
    "         12/14   16/18\nFull bust  92    100\nNatural waist  74   82",
    "Measurements taken in the morning\nSize\t12/14\t16/18\nBust\t92\t100\nWaist\t74\t82",
    "Body measurements in cm\nSize\t12/14\t16/18\nBust\t92\t100\nWaist\t74\t82",
    "SIZE\tsize 12/14\tSize 16/18\nBUST (cm)\t92 cm\t100 cm\nWaist:\t740 mm\t82\n\n",
    "size\tbust\twaist\n12/14\t92\t74\n16/18\t100\t82",
    "size,Bust (cm),Waist in cm\n12/14,92,74\n16/18,100,82",
    "measure\tunit\t12/14\t16/18\nBust\tcm\t92\t100\nWaist\tcm\t74\t82",
]


@pytest.mark.parametrize("text", PASTED)
def test_one_chart_however_it_is_pasted(text: str) -> None:
    chart = read_chart(text)
    assert chart.sizes == ("12/14", "16/18")
    assert {name: [c.middle for c in cells if c] for name, cells in chart.rows.items()} == SAME
    assert [problem for problem in chart.problems if "not used" not in problem] == []


def test_units_may_be_mixed_by_row_and_by_cell() -> None:
    chart = read_chart('size\tS\tM\nBust, in\t36\t38 1/2\nWaist\t74\t32"\ninches\t\t\nHip\t38\t40', unit="cm")
    assert [cell.low for cell in chart.rows["bust"] if cell] == pytest.approx([36 * IN, 38.5 * IN])
    assert [cell.low for cell in chart.rows["waist"] if cell] == pytest.approx([74, 32 * IN])
    assert [cell.low for cell in chart.rows["hip"] if cell] == pytest.approx([38 * IN, 40 * IN])


def test_the_same_row_in_cm_and_inches_is_read_once_and_compared() -> None:
    agree = read_chart("size\tS\tM\nBust cm\t91\t97\nBust in\t36\t38 1/4")
    assert [cell.low for cell in agree.rows["bust"] if cell] == [91, 97]
    assert agree.problems == ()
    apart = read_chart("size\tS\tM\nBust in\t36\t38\nBust cm\t91\t99")
    assert [cell.low for cell in apart.rows["bust"] if cell] == [91, 99]
    assert "stands twice for size M" in apart.problems[0]


def test_a_name_and_its_figure_in_one_cell_are_parted() -> None:
    chart = read_chart("Size: 8-10, 12-14, 16-18\nBust: 80-84, 88-92, 97-102")
    assert chart.sizes == ("8-10", "12-14", "16-18")
    assert chart.rows["bust"] == row((80, 84), (88, 92), (97, 102))


def test_sizes_from_the_largest_down_are_turned_round_and_it_is_said() -> None:
    chart = read_chart("size\t16\t14\t12\nbust\t97\t92\t88\nhip\t105\t100\t96")
    assert chart.sizes == ("12", "14", "16")
    assert chart.rows == {"bust": row(88, 92, 97), "hip": row(96, 100, 105)}
    assert "turned round" in chart.problems[0]
    slip = read_chart("size\t12\t14\t16\nbust\t97\t92\t88\nhip\t105\t100\t96")
    assert slip.sizes == ("12", "14", "16")  # the labels rise: that is no order, but a slip to ask about
    assert slip.problems == ()


def test_what_is_not_understood_is_listed_and_the_rest_is_read() -> None:
    chart = read_chart("size\tS\tM\nBust\t92\tabout 97\nFringe\t3\t4\nWaist\t-\t78")
    assert chart.rows["bust"][1] is None
    assert chart.rows["waist"][0] is None
    assert len(chart.problems) == 2
    assert "about 97" in chart.problems[0]
    assert "Fringe" in chart.problems[1]


@pytest.mark.parametrize("text", ["", "\n\n", "hello", "bust 92 96\nwaist 70 74", "size\tS\tS\nbust\t1\t2"])
def test_what_is_no_table_is_refused_in_one_sentence(text: str) -> None:
    with pytest.raises(ShelfError) as refusal:
        read_chart(text)
    assert refusal.value.mend


def test_a_cloth_table_has_a_row_for_each_width() -> None:
    sizes, rows, problems = read_cloth_table(
        "width\tS\tM\n140 cm\t1.50\t1,75\n150 cm with nap\t1.8 m\t190 cm\nlining 140\t0.6\t0.65\n"
        "interfacing\t-\t-"
    )
    assert sizes == ("S", "M")
    assert [(r.width, r.nap, r.kind) for r in rows] == [
        (140, "two-way", "main"), (150, "one-way", "main"), (140, "two-way", "lining"),
    ]  # fmt: skip
    assert [cell.low for one in rows for cell in one.lengths if cell] == [150, 175, 180, 190, 60, 65]
    assert len(problems) == 1


def test_a_cloth_table_in_inches_is_in_yards() -> None:
    _, rows, _ = read_cloth_table("width,S,M\n45,2 7/8,3\n60 in,2 1/4,2 3/8", unit="in")
    assert rows[0].width == pytest.approx(45 * IN)
    assert [cell.low for cell in rows[0].lengths if cell] == pytest.approx([2.875 * 91.44, 3 * 91.44])


@pytest.mark.parametrize(
    ("words", "level"),
    [
        ("Chest", "bust"), ("Full bust", "bust"), ("Upper bust", "high_bust"), ("HIPS", "hip"),
        ("Inseam", "inside_leg"),
        ("Finished bust circumference", "bust"), ("Nape to waist", "back_length"), ("Biceps", "upper_arm"),
        ("Back waist lenght", "back_length"), ("Sweep", "hem"), ("Price", None), ("Waste", None),
    ],
)  # fmt: skip
def test_words_on_envelopes_are_understood_or_left_alone(words: str, level: str | None) -> None:
    found = find_level(words)
    assert (found.name if found else None) == level


# ---- slips ----------------------------------------------------------------------------------------


def kinds(pattern: BoughtPattern) -> list[tuple[str, str, str]]:
    return [(doubt.kind, doubt.level, doubt.size) for doubt in doubts(pattern)]


def test_a_clean_chart_raises_no_doubt() -> None:
    assert kinds(bought()) == []
    for pattern in bought_scenario()[0]:
        assert kinds(pattern) == []


@pytest.mark.parametrize(
    ("cells", "slip"),
    [
        ((80, 84, 88, 36, 97, 102, 108), ("inches among centimetres", "bust", "14")),
        ((80, 84, 88, 92, 78, 102, 108), ("not rising", "bust", "16")),
        ((80, 84, 88, 92, 79, 102, 108), ("digits turned", "bust", "16")),
        ((18, 84, 88, 92, 97, 102, 108), ("digits turned", "bust", "8")),
        ((80, 84, 88, 92, 97, 102, 180), ("digits turned", "bust", "20")),
        ((80, 84, 88, 29, 97, 102, 108), ("digits turned", "bust", "14")),
        ((80, 84, 88, 234, 97, 102, 108), ("centimetres among inches", "bust", "14")),
        ((80, 84, 88, 92, 97, 120, 126), ("uneven step", "bust", "18")),
        ((19, 84, 88, 92, 97, 102, 108), ("impossible", "bust", "8")),
    ],
)
def test_a_slip_in_the_body_chart_is_asked_about(cells: tuple[float, ...], slip: tuple[str, str, str]) -> None:
    assert slip in kinds(bought(ease={}, body={"bust": row(*cells)}))


def test_a_woven_garment_smaller_than_its_body_is_asked_about_a_knit_is_not() -> None:
    tight = {"bust": row(78, 82, 86, 90, 95, 100, 106)}
    assert ("smaller than the body", "bust", "12") in kinds(bought(ease={}, finished=tight))
    assert kinds(bought(ease={}, finished=tight, make="knit")) == []


def test_one_finished_measure_off_its_row_is_asked_about() -> None:
    typed = {"hip": row(95, 99, 103, 107, 121, 117, 123)}  # 121 for 112
    assert ("uneven ease", "hip", "16") in kinds(bought(ease={}, finished=typed))


def test_a_whole_chart_in_the_wrong_unit_is_asked_about_once_a_row() -> None:
    pattern = with_table(bought(), "size\t8\t10\t12\nbust\t31\t32\t34\nwaist\t24\t26\t28", "body").pattern
    short = bought("top", sizes=("8", "10", "12"), body={n: pattern.body[n][:3] for n in ("bust", "waist")})
    assert kinds(short) == [
        ("inches among centimetres", "bust", ""), ("inches among centimetres", "waist", ""),
    ]  # fmt: skip


def test_a_childs_chart_under_a_woman_is_one_doubt_not_many() -> None:
    rows = {"height": row(98, 104, 110), "bust": row(56, 57, 63)}
    assert kinds(bought("top", sizes=("3", "4", "5"), body=rows)) == [("a child's", "height", "")]
    assert kinds(bought("top", sizes=("3", "4", "5"), body=rows, figure="girl")) == []


def test_a_hip_with_its_digits_turned_is_no_childs() -> None:
    """59 for 95: a child may measure it, the sizes beside it say what was meant."""
    rows = {"bust": row(83, 88, 92), "waist": row(65, 70, 75)}
    slip = bought(sizes=("10", "12", "14"), ease={}, finished={}, body={**rows, "hip": row(90, 59, 100)})
    assert kinds(slip) == [("digits turned", "hip", "12")]
    assert doubts(slip)[0].other == 95
    no_turn = bought(sizes=("10", "12", "14"), ease={}, finished={}, body={**rows, "hip": row(90, 55, 100)})
    assert ("a child's", "bust", "") not in kinds(no_turn)
    first = bought(sizes=("10", "12", "14"), ease={}, finished={}, body={**rows, "hip": row(9, 95, 100)})
    assert ("digits turned", "hip", "10") in kinds(first), "9 for 90: its nought was lost"


def test_half_a_row_in_inches_is_told_as_inches() -> None:
    """The waist typed without its mark in two of three cells."""
    pattern = bought(
        "skirt", sizes=("12/14", "16/18", "20/22"), body={"waist": row((26.5, 28), (30.5, 32.5), (89, 94))}
    )
    assert kinds(pattern) == [
        ("inches among centimetres", "waist", "12/14"), ("inches among centimetres", "waist", "16/18"),
    ]  # fmt: skip


def test_a_doubt_changes_no_figure() -> None:
    pattern = bought(body={"bust": row(80, 84, 88, 36, 97, 102, 108)})
    doubts(pattern)
    assert pattern.body["bust"][3] == row(36)[0]


# ---- the file -------------------------------------------------------------------------------------

FILE = """
pattern = 1
name = "Two views"
unit = "inch"
garment = "dress"
sizes = ["10", "12"]
free = ["hip"]
slits.neck_opening = "5 1/2"
[body]
bust = ["34-35", 36]
[finished.A]
bust = [38, "40 in"]
[finished.B]
bust = ["100 cm", "-"]
[[cloth]]
width = 45
lengths = ["2 yd", "2 1/4 yd"]
[[piece]]
name = "Front"
count = 1
on_fold = true
outlines."10" = [[0, 0], [10, 0], [10, 20], [0, 20]]
"""


def test_a_pattern_file_is_read_in_its_own_unit() -> None:
    reading = read_pattern(FILE)
    pattern = reading.pattern
    assert reading.problems == ()
    assert pattern.views == ("A", "B")
    assert pattern.body["bust"] == row((34 * IN, 35 * IN), 36 * IN)
    assert pattern.finished["B"]["bust"] == row(100, None)
    assert pattern.slits["neck_opening"] == pytest.approx(5.5 * IN)
    assert pattern.pieces[0].outlines["10"][1] == pytest.approx((10 * IN, 0))
    assert read_pattern(write_pattern(pattern)).pattern == pattern


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (('garment = "dress"', 'garment = "ballgown"'), "garment"),
        (('name = "Two views"', "name = 3"), "name"),
        (('sizes = ["10", "12"]', 'sizes = ["10", "12", "14"]'), "figures for 3 sizes"),
        (('sizes = ["10", "12"]', 'sizes = ["10", "10"]'), "same label"),
        (("free =", "fre ="), "Did you mean 'free'"),
        (("[body]\nbust", "[body]\nbustle"), "bustle"),
        (("count = 1", "count = 0"), "count"),
        (("[body]", "[body"), "cannot be read"),
        (("pattern = 1", "pattern = 7"), "format"),
        (('unit = "inch"', 'unit = "ell"'), "ell"),
    ],
)
def test_a_wrong_file_is_refused_where_it_is_wrong(change: tuple[str, str], says: str) -> None:
    with pytest.raises(ShelfError) as refusal:
        read_pattern(FILE.replace(*change))
    assert says in str(refusal.value)


def test_a_file_cut_anywhere_is_read_or_refused() -> None:
    read = 0
    for end in range(len(FILE)):
        with suppress(ShelfError):
            read += read_pattern(FILE[:end]).pattern.name == "Two views"
    assert 0 < read < len(FILE)


def test_a_table_pasted_later_joins_the_rest() -> None:
    pattern = bought("top")
    reading = with_table(pattern, "size\t8\t12\t99\nupper arm\t30\t32\t40", "finished")
    assert reading.pattern.finished[""]["upper_arm"] == row(30, None, 32, None, None, None, None)
    assert reading.pattern.finished[""]["bust"] == pattern.finished[""]["bust"]
    assert "99" in reading.problems[0]
    cloth = with_table(reading.pattern, "width\t8\t12\n140\t1.5\t1.6", "cloth").pattern.cloth
    assert [(r.width, r.lengths[2]) for r in cloth] == [(140, row(160)[0])]


def test_a_table_pasted_amiss_takes_nothing_away() -> None:
    pattern = with_table(bought(), "size\t8\t10\t12\nbust\t80\t84\t88", "body").pattern
    pattern = with_table(pattern, "width\t8\t10\t12\n140\t1.5\t1.6\t1.7", "cloth").pattern
    amiss = with_table(pattern, "size\t8\t99\nbust\tabc\t96", "body")
    assert amiss.pattern.body == pattern.body
    assert len(amiss.problems) == 2
    mended = with_table(pattern, "size\t10\nbust\t85", "body").pattern
    assert [cell and cell.middle for cell in mended.body["bust"]][:3] == [80, 85, 88]
    assert with_table(pattern, "width\t8\n140\tmuch", "cloth").pattern.cloth == pattern.cloth


def test_a_babys_heights_beside_its_chests_are_no_slip_and_inches_still_are() -> None:
    def chart(figure: str, heights: tuple[float, ...], chests: tuple[float, ...]) -> list[str]:
        body = {"height": row(*heights), "bust": row(*chests)}
        sizes = tuple(f"{one:g}" for one in heights)
        found = doubts(bought("top", sizes=sizes, figure=figure, body=body, finished={}))
        return [one.kind for one in found if one.level == "height"]

    assert chart("girl", (50, 56, 62, 68, 74), (39, 41, 43, 45, 47)) == []
    assert chart("boy", (68, 74, 80, 86), (45, 47, 49, 51)) == []
    assert chart("girl", (46, 48, 50, 52), (58, 60, 62, 64)) == ["inches among centimetres"]
    assert chart("girl", (46, 48, 50, 52), (23, 23.5, 24.5, 25.5)) == ["inches among centimetres"]
    assert chart("girl", (740, 800, 860), (48, 50, 52)) != []
    assert chart("woman", (74, 80, 86), (48, 50, 52)) == ["a child's"]


def test_cells_a_single_space_apart_in_a_table_typed_by_columns_are_still_cells() -> None:
    """Half way along the row she stopped lining the columns up."""
    sizes, rows, problems = read_cloth_table(
        "width   8   10   12   14   16\n"
        "45 in   2 7/8 yd   2 7/8 yd   3 yd 3 1/8 yd 3 1/4 yd\n"
        "60 in   2 1/4 yd   2 1/4 yd   2 3/8 yd 2 1/2 yd 2 1/2 yd\n"
    )
    assert problems == []
    assert sizes == ("8", "10", "12", "14", "16")
    yards = [[cell.low / 91.44 for cell in row.lengths if cell] for row in rows]
    assert yards == [
        pytest.approx([2.875, 2.875, 3, 3.125, 3.25]),
        pytest.approx([2.25, 2.25, 2.375, 2.5, 2.5]),
    ]
