"""What a ticket asks of its booklet: language, sheet, large print, units, and how seams are sewn."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from functools import cache

import pikepdf
import pypdfium2
import pytest

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.errors import GarmentError, TicketError
from clothwise.sew import Sewer
from clothwise.sew.language import language
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.ticket.made import Made, work_out
from clothwise.ticket.packet import packet
from clothwise.ticket.spoken_lay import spoken_lay
from clothwise.ticket.ticket import Booklet
from tests.sewn_by_hand import marit

LINEN = Cloth("Blau", 140, 300, kind="linen", grams_per_m2=185)


@cache
def body() -> Body:
    return marit()


def ticket(pattern: str = "a_line_skirt", **more: object) -> Ticket:
    return Ticket("Rock", pattern, body=body(), cloth=LINEN, body_name="Marit", cloth_name="Blau", **more)  # type: ignore[arg-type]


@cache
def plain() -> Made:
    return work_out(ticket(), effort="quick")


def text_of(pdf: bytes) -> str:
    return " ".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf))


def test_ways_and_booklet_come_back_from_the_file() -> None:
    asked = ticket(ways={"zip": "lapped"}, booklet=Booklet("de", "Phone", large=True))
    again = read_ticket(write_ticket(asked))
    assert (again.ways, again.booklet) == (asked.ways, asked.booklet)
    assert "[booklet]" not in write_ticket(ticket())  # a ticket that asks for nothing stays as it was


@pytest.mark.parametrize(
    ("entry", "where"),
    [
        ('[booklet]\nlanguage = "xx"', "booklet.language"),
        ('[booklet]\nsheet = "Napkin"', "booklet.sheet"),
        ('[booklet]\nlarge = "yes"', "booklet.large"),
        ("[booklet]\nlage = true", "Did you mean 'large'"),
        ('[ways]\nzip = "glued"', "ways.zip"),
        ("[ways]\nzip = 3", "ways.zip"),
    ],
)
def test_what_a_ticket_cannot_ask_is_refused_where_it_stands(entry: str, where: str) -> None:
    with pytest.raises(TicketError, match=re.escape(where)):
        read_ticket(f"{write_ticket(ticket())}\n{entry}\n")


def test_the_way_asked_for_is_sewn_and_what_is_not_offered_refused() -> None:
    made = work_out(ticket(ways={"zip": "invisible"}), effort="quick")
    names = [step.name for step in made.steps]
    assert names.index("zip") < names.index("centre_back")
    with pytest.raises(GarmentError, match="cannot be sewn flat"):
        work_out(ticket(ways={"zip": "flat"}), effort="quick")


def asked(**how: object) -> dict[str, bytes]:
    sewer = how.pop("sewer", Sewer("Marit"))
    made = replace(plain().ticket, booklet=Booklet(**how), sewer=sewer)  # type: ignore[arg-type]
    return packet(replace(plain(), ticket=made))


def test_a_german_packet_reads_german_in_booklet_card_and_screen() -> None:
    files = asked(language="de")
    for name in ("booklet.pdf", "card.pdf"):
        whole = text_of(files[name])
        assert "Seitennähte" in whole
        assert not re.search(r"\b(?:the|seams|stitch|selvedge|fold|cut)\b", whole.lower()), name
    assert '<html lang="de">' in files["steps.html"].decode()


def test_a_phones_booklet_is_phone_sized_and_its_card_still_hangs_on_the_wall() -> None:
    files = asked(sheet="Phone")
    sizes = {}
    for name in ("booklet.pdf", "card.pdf"):
        with pikepdf.open(io.BytesIO(files[name])) as pdf:
            sizes[name] = [round(float(v) / 72 * 25.4) for v in pdf.pages[0].MediaBox][2:]
    assert sizes == {"booklet.pdf": [90, 160], "card.pdf": [210, 297]}


def test_letter_inches_and_large_print_reach_the_booklet() -> None:
    usual, wished = asked(), asked(sheet="Letter", large=True, sewer=Sewer("Pilar", units="inch"))
    with pikepdf.open(io.BytesIO(wished["booklet.pdf"])) as pdf:
        assert [float(v) for v in pdf.pages[0].MediaBox] == pytest.approx([0, 0, 612, 792], abs=0.5)
        assert len(pdf.pages) > len(pikepdf.open(io.BytesIO(usual["booklet.pdf"])).pages)
    assert re.search(r"5/8 in\b", text_of(wished["booklet.pdf"]))


def test_the_lay_in_a_german_booklet_speaks_german_and_still_shows_every_piece() -> None:
    plan = plain().plan
    english, german = (spoken_lay(plan, "Rock", language(code)) for code in ("en", "de"))
    words = " ".join(re.findall(r"<text[^>]*>([^<]*)<", german))
    assert "Webkante" in words
    assert not re.search(r"\b(?:cut|fold|selvedge|once|through|cloth|piece)\b", words)
    assert german.count("<path") == english.count("<path")
    for piece in plan.problem.pieces:
        assert language("de").word("piece", piece.title).split()[0].lower() in words.lower()
