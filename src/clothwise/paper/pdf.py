"""Drawings to PDF, in true size: one form per drawing, placed where it is wanted; layers, bookmarks, labels.

The same pages give the same bytes: dates are given, never read from a clock; ids follow from the content.
UserUnit is never used (many readers ignore it), so no page may be longer than the format's own limit.

    content stream numbers: points, four decimals (0.00004 mm)
    operators: q Q save and restore, cm carry, re W n clip, m l c path, S stroke, f fill, BDC EMC layer
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from io import BytesIO

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String

from clothwise.curve import Cubic, Curve, Point
from clothwise.errors import PaperError
from clothwise.paper import font, script
from clothwise.paper.drawing import AS_DRAWN, Box, Carry, Drawing, Fill, Item, Words
from clothwise.paper.pens import LAYERS, PRINT, Layer, Pen, Pens
from clothwise.units import MM, PT

LONGEST_PAGE = 14400 * PT  # cm: 508, the format's limit without UserUnit
UNITS_PER_EM = 1000
FIXED_ON: frozenset[Layer] = frozenset({"sheet"})  # layers that a reader may not switch off: proof of scale


@dataclass(frozen=True, slots=True)
class Placed:
    """A form by name, carried onto the page, cut off outside the window (or shown whole). [cm]"""

    form: str
    carry: Carry = AS_DRAWN
    window: Box | None = None


@dataclass(frozen=True, slots=True)
class Page:
    """One sheet. Origin at its lower left corner.

    label     what a reader shows as the page's number: 'A2'
    bookmark  how it is listed in the outline; empty: not listed
    ground    grey of the whole page, None for paper
    """

    width: float
    height: float
    label: str
    drawing: Drawing
    placed: tuple[Placed, ...] = ()
    bookmark: str = ""
    ground: float | None = None


@dataclass(frozen=True, slots=True)
class Book:
    """A whole file.

    forms    drawings that pages place by name, each written once
    made_on  'YYYY-MM-DD', or empty to leave all dates out
    ident    what the file is of, for its own id (a ticket's id)
    sizes    forms that belong to one size: form -> size; each size becomes a layer of its own
    own_pens forms drawn with another box of pens: form -> pens
    off      layers that are not shown until the reader switches them on
    """

    title: str
    pages: tuple[Page, ...]
    forms: Mapping[str, Drawing] = field(default_factory=dict)
    made_on: str = ""
    ident: str = ""
    lang: str = "en"
    pens: Pens = field(default_factory=lambda: PRINT)
    sizes: Mapping[str, str] = field(default_factory=dict)
    own_pens: Mapping[str, Pens] = field(default_factory=dict)
    off: frozenset[Layer] = frozenset()


def write_pdf(book: Book) -> bytes:
    """The file. Raises PaperError when there is no page, or one is longer than the format can hold."""
    _check(book)
    pdf = Pdf.new()
    used = _glyphs_used([*book.forms.values(), *(page.drawing for page in book.pages)])
    fonts = {bold: _embedded(pdf, letters, bold) for bold, letters in used.items()}
    layers = _layers(pdf, book)
    resources = Dictionary(
        Font=Dictionary({f"/{_font_name(bold)}": made for bold, made in fonts.items()}),
        Properties=Dictionary({f"/{_layer_name(name)}": made for name, made in layers.items()}),
    )
    forms = {
        name: _form(
            pdf, drawing, book.own_pens.get(name, book.pens), resources, layers.get(book.sizes.get(name, ""))
        )
        for name, drawing in book.forms.items()
    }
    names = {name: f"P{i}" for i, name in enumerate(book.forms)}
    of_pages = pdf.make_indirect(
        Dictionary(
            Font=resources.Font,
            Properties=resources.Properties,
            XObject=Dictionary({f"/{names[name]}": made for name, made in forms.items()}),
        )
    )
    for page in book.pages:
        _add_page(pdf, page, book, of_pages, names)
    _catalog(pdf, book, layers)
    out = BytesIO()
    pdf.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def _check(book: Book) -> None:
    if not book.pages:
        raise PaperError("There is no sheet to write.", where=f"'{book.title}'", mend="Choose at least one.")
    for page in book.pages:
        longest = max(page.width, page.height)
        if longest > LONGEST_PAGE:
            raise PaperError(
                f"A page of {longest:.0f} cm is longer than a PDF can hold ({LONGEST_PAGE:.0f} cm).",
                where=f"page '{page.label}'",
                mend="Split it into shorter pages.",
            )


# ---- content streams -------------------------------------------------------------------------------


def _n(cm: float) -> str:
    """A length in points."""
    return _plain(cm / PT)


def _plain(value: float) -> str:
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _path(curve: Curve) -> Iterator[str]:
    yield f"{_at(curve.start)} m"
    for stroke in curve.strokes:
        if isinstance(stroke, Cubic):
            yield f"{_at(stroke.first)} {_at(stroke.second)} {_at(stroke.end)} c"
        else:
            yield f"{_at(stroke.end)} l"


def _at(p: Point) -> str:
    """A point; a nest writes a hundred thousand of them, so trailing zeros are left for the packing."""
    return f"{p.x / PT:.4f} {p.y / PT:.4f}"


@lru_cache(maxsize=256)  # a nest strokes ten thousand lines with a dozen pens
def _pen(pen: Pen) -> str:
    dashes = " ".join(_n(step * MM) for step in pen.dash_mm)
    ends = 1 if pen.round_ends else 0
    return f"{_n(pen.width_mm * MM)} w {ends} J 1 j [{dashes}] 0 d {_plain(pen.grey)} G"


def _text(words: Words, pen: Pen) -> Iterator[str]:
    text = font.tidy(words.text)
    if not text:
        return
    if not font.is_plain(text):
        yield from _outlined(text, words, pen)
        return
    numbers = "".join(f"{n:04X}" for n in font.glyphs(text, bold=words.bold))
    c, s = _turn(words.turn_deg)
    start = words.start()
    yield f"BT /{_font_name(words.bold)} {_n(words.size)} Tf {_plain(pen.grey)} g"
    yield f"{c} {s} {_plain(-float(s))} {c} {_n(start.x)} {_n(start.y)} Tm <{numbers}> Tj ET"


def _outlined(text: str, words: Words, pen: Pen) -> Iterator[str]:
    """A line in another script: its letters as filled outlines, and an unseen blank that says the text, so that
    it can be searched and copied out."""
    c, s = _turn(words.turn_deg)
    start = words.start()
    place = f"{c} {s} {_plain(-float(s))} {c} {_n(start.x)} {_n(start.y)}"
    yield f"q {_plain(pen.grey)} g {place} cm"
    for outline in script.shaped(text, words.bold).outlines:
        yield from _path(outline.mapped(lambda p: Point(p.x * words.size, p.y * words.size)))
        yield "h"
    blank = "".join(f"{n:04X}" for n in font.glyphs(" ", bold=words.bold))
    said = text.encode("utf-16-be").hex().upper()
    yield f"f Q /Span <</ActualText <FEFF{said}>>> BDC BT /{_font_name(words.bold)} {_n(words.size)} Tf 3 Tr"
    yield f"{place} Tm <{blank}> Tj 0 Tr ET EMC"


def _turn(angle_deg: float) -> tuple[str, str]:
    way = Point(1.0, 0.0).rotated(Point(0.0, 0.0), angle_deg)
    return _six(way.x), _six(way.y)


def _six(value: float) -> str:
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _item(item: Item, pen: Pen) -> Iterator[str]:
    if isinstance(item, Words):
        yield from _text(item, pen)
    elif isinstance(item, Fill):
        yield f"{_plain(pen.grey)} g"
        yield from _path(item.path)
        yield "h f"
    else:
        yield _pen(pen)
        yield from _path(item.path)
        yield "h S" if item.closed else "S"


def _content(drawing: Drawing, pens: Pens) -> str:
    """The drawing's operators, each run of one layer marked as such."""
    lines: list[str] = []
    layer: Layer | None = None
    for item in drawing:
        pen = pens.get(item.pen)
        if pen is None:
            continue
        if pen.layer != layer:
            lines += ["EMC"] if layer else []
            lines.append(f"/OC /{_layer_name(pen.layer)} BDC")
            layer = pen.layer
        lines += _item(item, pen)
    lines += ["EMC"] if layer else []
    return "\n".join(lines)


# ---- parts of the file -----------------------------------------------------------------------------


def _font_name(bold: bool) -> str:
    return "Bold" if bold else "Text"


def _layer_name(layer: str) -> str:
    return "L_" + "".join(c if c.isascii() and c.isalnum() else f"_{ord(c):x}" for c in layer)


def _layers(pdf: Pdf, book: Book) -> dict[str, pikepdf.Object]:
    """One optional-content group per layer that is drawn on, and one per size."""
    drawn = {
        book.pens[item.pen].layer
        for drawing in [*book.forms.values(), *(page.drawing for page in book.pages)]
        for item in drawing
        if item.pen in book.pens
    }
    names = [layer for layer in LAYERS if layer in drawn] + list(dict.fromkeys(book.sizes.values()))
    return {
        name: pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(name), Intent=Name.View))
        for name in names
    }


def _form(
    pdf: Pdf, drawing: Drawing, pens: Pens, resources: Dictionary, size: pikepdf.Object | None
) -> pikepdf.Object:
    left, bottom, right, top = drawing.bounds()
    spare = 0.5  # cm: room for the thickness of pens, so that no line is shaved at the form's own edge
    made = Dictionary(
        Type=Name.XObject,
        Subtype=Name.Form,
        BBox=Array([round(v / PT, 4) for v in (left - spare, bottom - spare, right + spare, top + spare)]),
        Resources=resources,
    )
    if size is not None:
        made.OC = size
    return pdf.make_indirect(Stream(pdf, _content(drawing, pens).encode("ascii"), made))


def _add_page(
    pdf: Pdf,
    page: Page,
    book: Book,
    resources: pikepdf.Object,
    names: Mapping[str, str],
) -> None:
    lines: list[str] = []
    if page.ground is not None:
        lines.append(f"{_plain(page.ground)} g 0 0 {_n(page.width)} {_n(page.height)} re f")
    for placed in page.placed:
        lines += _placed(placed, names[placed.form])
    lines.append(_content(page.drawing, book.pens))
    pdf.add_blank_page(page_size=(round(page.width / PT, 4), round(page.height / PT, 4)))
    made = pdf.pages[-1].obj
    made.Resources = resources
    made.Contents = Stream(pdf, "\n".join(lines).encode("ascii"))


def _placed(placed: Placed, name: str) -> Iterator[str]:
    yield "q"
    if placed.window is not None:
        left, bottom, right, top = placed.window
        yield f"{_n(left)} {_n(bottom)} {_n(right - left)} {_n(top - bottom)} re W n"
    c, s = placed.carry.cos_sin
    yield f"{c} {s} {-s} {c} {_n(placed.carry.dx)} {_n(placed.carry.dy)} cm /{name} Do Q"


# ---- fonts -----------------------------------------------------------------------------------------


def _glyphs_used(drawings: Iterable[Drawing]) -> dict[bool, dict[int, str]]:
    """Glyph -> letter, for each weight in use, in order of first use."""
    used: dict[bool, dict[int, str]] = {}
    for drawing in drawings:
        for words in drawing.words():
            text = font.tidy(words.text)
            text = text if font.is_plain(text) else " "  # outlines need no glyph but the blank beside them
            known = used.setdefault(words.bold, {})
            for number, letter in zip(font.glyphs(text, bold=words.bold), text, strict=True):
                known.setdefault(number, letter)
    return {bold: dict(sorted(used[bold].items())) for bold in sorted(used)}


def _embedded(pdf: Pdf, letters: Mapping[int, str], bold: bool) -> pikepdf.Object:
    """A subset, addressed by glyph number (Identity-H), with the way back to text (ToUnicode)."""
    base = Name("/CLWAAA+NotoSans-" + ("Bold" if bold else "Regular"))
    file = Stream(pdf, font.subset(letters, bold=bold))
    told = font.header(bold)
    descriptor = pdf.make_indirect(
        Dictionary(
            Type=Name.FontDescriptor,
            FontName=base,
            Flags=4,  # symbolic: glyphs are addressed by number
            FontBBox=Array(list(told["box"])),
            ItalicAngle=0,
            Ascent=told["ascent"][0],
            Descent=told["descent"][0],
            CapHeight=told["capital"][0],
            StemV=150 if bold else 80,
            FontFile2=pdf.make_indirect(file),
        )
    )
    widths = Array()
    for number, advance in zip(letters, font.advances(letters, bold=bold), strict=True):
        widths.append(number)
        widths.append(Array([advance]))
    descendant = pdf.make_indirect(
        Dictionary(
            Type=Name.Font,
            Subtype=Name.CIDFontType2,
            BaseFont=base,
            CIDSystemInfo=Dictionary(Registry=String("Adobe"), Ordering=String("Identity"), Supplement=0),
            FontDescriptor=descriptor,
            DW=UNITS_PER_EM,
            W=widths,
            CIDToGIDMap=Name.Identity,
        )
    )
    return pdf.make_indirect(
        Dictionary(
            Type=Name.Font,
            Subtype=Name.Type0,
            BaseFont=base,
            Encoding=Name("/Identity-H"),
            DescendantFonts=Array([descendant]),
            ToUnicode=pdf.make_indirect(Stream(pdf, _to_unicode(letters).encode("ascii"))),
        )
    )


def _to_unicode(letters: Mapping[int, str]) -> str:
    pairs = [
        f"<{number:04X}> <{letter.encode('utf-16-be').hex().upper()}>" for number, letter in letters.items()
    ]
    blocks = [pairs[i : i + 100] for i in range(0, len(pairs), 100)]  # the format allows 100 a block
    body = "\n".join(f"{len(block)} beginbfchar\n" + "\n".join(block) + "\nendbfchar" for block in blocks)
    return (
        "/CIDInit /ProcSet findresource begin 12 dict begin begincmap\n"
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
        "/CMapName /Adobe-Identity-UCS def /CMapType 2 def\n"
        "1 begincodespacerange <0000> <FFFF> endcodespacerange\n"
        f"{body}\nendcmap CMapName currentdict /CMap defineresource pop end end"
    )


# ---- catalog ---------------------------------------------------------------------------------------


def _catalog(pdf: Pdf, book: Book, layers: Mapping[str, pikepdf.Object]) -> None:
    root = pdf.Root
    root.Lang = String(book.lang)
    root.ViewerPreferences = Dictionary(PrintScaling=Name("/None"), DisplayDocTitle=True)
    root.PageLabels = Dictionary(Nums=_page_labels(book.pages))
    groups = Array(list(layers.values()))
    off = Array([made for name, made in layers.items() if name in book.off])
    on = Array([made for name, made in layers.items() if name not in book.off])
    locked = Array([made for name, made in layers.items() if name in FIXED_ON])
    root.OCProperties = Dictionary(
        OCGs=groups,
        D=Dictionary(Name=String("Layers"), BaseState=Name.ON, ON=on, OFF=off, Order=groups, Locked=locked),
    )
    with pdf.open_outline() as outline:
        for number, page in enumerate(book.pages):
            if page.bookmark:
                outline.root.append(pikepdf.OutlineItem(page.bookmark, number))
    root.PageMode = Name.UseOutlines
    info = Dictionary(Title=String(book.title), Creator=String("Clothwise"), Subject=String(book.ident))
    if book.made_on:
        stamp = String(f"D:{book.made_on.replace('-', '')}000000Z")
        info.CreationDate = stamp
        info.ModDate = stamp
    pdf.trailer.Info = pdf.make_indirect(info)


def _page_labels(pages: Sequence[Page]) -> Array:
    nums = Array()
    for number, page in enumerate(pages):
        nums.append(number)
        nums.append(Dictionary(P=String(page.label)))
    return nums
