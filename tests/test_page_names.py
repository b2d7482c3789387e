"""Names of any length, in any script: whole on the screen, in their direction, in addresses and files."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any
from urllib.parse import unquote, urlencode

import pytest
from fontTools.ttLib import TTFont

from clothwise.errors import StoreError
from clothwise.store import KeptTicket, Store, open_store
from clothwise.ticket import Ticket, write_ticket
from clothwise.web.files import FONTS, HERE
from clothwise.web.naming import file_word
from clothwise.web.sheet import named, slug
from clothwise.web.words_set import CLOSES, OPENS, words_set
from tests.page_screens import opened_out
from tests.page_tools import Server, ask, form, sideways

LONG = "Wilhelminaalexandrina" * 3 + "vanoosterzeelookerk"
HEBREW, ARABIC, PERSIAN = "מרים, בת 7", "فاطمة الزهراء", "می\u200cخواهم"
NAMES = (
    LONG,
    HEBREW,
    ARABIC,
    PERSIAN,
    "👩\u200d🦱 Ida",
    "Μαριάννα",
    "藍染め",
    "a/b\\c/../d",
    "..",
    ".",
    "~2E",
    "<b>'\"&",
)


def seeded(store: Store, name: str) -> str:
    """Somebody, a cloth, and a ticket of both by this name; the address of the ticket."""
    store.keep_body(replace(store.body("Marit"), name=name))
    store.keep_cloth(replace(store.cloth("Grey-green linen"), name=name))
    made = Ticket(name, "four_panel_skirt", body_name=name, cloth_name=name)
    store.keep_ticket(KeptTicket(name, write_ticket(made)))
    return f"/ticket/{slug(name)}"


def told(page: Any, path: str) -> str:
    return ask(page, "GET", path).text


@pytest.mark.parametrize("name", NAMES)
def test_every_name_has_an_address_that_a_browser_leaves_alone(mill_page: Any, mill: Store, name: str) -> None:
    seeded(mill, name)
    assert named(slug(name)) == name
    assert slug(name).strip(".")
    assert not re.search(r"[/\\%?#]", slug(name))
    for path in ("person", "cloth"):
        assert ask(mill_page, "GET", f"/{path}/{slug(name)}").status == 200, path


@pytest.mark.parametrize("name", ["\u200d", "a\u200d", "\u202eIda", "I\u200bda", " Ida", "I\nda", ""])
def test_what_cannot_be_seen_is_no_name(mill: Store, name: str) -> None:
    with pytest.raises(StoreError, match="cannot be called"):
        mill.keep_body(replace(mill.body("Marit"), name=name))


def test_a_name_from_the_right_is_set_off_with_its_own_figures(mill_page: Any, mill: Store) -> None:
    ticket = seeded(mill, HEBREW)
    for path in ("/", "/people", "/tickets", "/cupboard", ticket, f"{ticket}/cloth", "/shelf", "/shopping"):
        shown = re.sub(
            r"<(title|option|script)\b.*?</\1>|<[^>]*(?<!bdi)>", "", ask(mill_page, "GET", path).text
        )
        assert HEBREW in shown, path
        assert shown.count(HEBREW) == shown.count(f"<bdi>{HEBREW}</bdi>"), path


def test_tags_fields_and_drawings_are_left_alone() -> None:
    kept = (
        f'<a title="{ARABIC}"><option>{ARABIC}</option><textarea>{ARABIC}\n</textarea>'
        f"<svg><text>{ARABIC}</text></svg><script>'{ARABIC}'</script>"
    )
    assert words_set(kept, lambda: [ARABIC]) == kept
    assert words_set("Ida & Zoë", lambda: 1 // 0) == "Ida & Zoë", "no names are asked where none is needed"  # type: ignore[arg-type, return-value]
    once = words_set(f"<p>{ARABIC}, 2</p>", list)
    assert once == f"<p><bdi>{ARABIC}</bdi>, 2</p>"
    assert words_set(once, list) == once
    quoted = words_set("<p>מ&#39;רים</p>", lambda: ["מ'רים"])
    assert quoted == "<p><bdi>מ&#39;רים</bdi></p>", "as it is written in a page"


def test_a_refusal_that_a_script_shows_sets_it_off_too(mill_page: Any, mill: Store) -> None:
    seeded(mill, ARABIC)
    body = urlencode({"name": ARABIC, "figure": "woman"}).encode()
    sent_as = {"content-type": "application/x-www-form-urlencoded", "accept": "application/json"}
    answered = ask(mill_page, "POST", "/people/add", headers=sent_as, body=body).json
    assert f"{OPENS}{ARABIC}{CLOSES}" in answered["refused"]["what"]


@pytest.mark.parametrize(
    ("name", "file", "plain"),
    [
        ("Marit's trousers, 2", "marit-s-trousers-2.toml", "marit-s-trousers-2.toml"),
        (ARABIC, "فاطمة-الزهراء.toml", "clothwise-.toml"),
        ("藍染め", "藍染め.toml", "clothwise.toml"),
        ("...", "clothwise.toml", "clothwise.toml"),
        ("../../etc/x\"; a=b", "etc-x-a-b.toml", "etc-x-a-b.toml"),
        ("Zoe\u0308", "zoë.toml", "zo.toml"),
    ],
)  # fmt: skip
def test_a_download_is_called_what_it_is_of(
    mill_page: Any, mill: Store, name: str, file: str, plain: str
) -> None:
    head = ask(mill_page, "GET", f"{seeded(mill, name)}/ticket.toml").headers["content-disposition"]
    assert f'filename="{plain}"' in head
    more = re.search(r"filename\*=UTF-8''(\S+)", head)
    assert (unquote(more[1]) if more else plain) == file


def test_the_name_of_a_file_is_never_too_long_for_a_disk() -> None:
    for name in (LONG * 2, "藍" * 200, "👗" * 200):
        assert len(f"{file_word(name)}-projector.pdf".encode()) < 256


def test_each_script_of_the_page_has_the_face_that_prints_it() -> None:
    """What is asked of a face is of the blocks that it holds, and no face of the house is left out."""
    styles = (HERE / "scripts.css").read_text(encoding="utf-8")
    rules = re.findall(r'src: url\("/static/([^"]+)"\); unicode-range: ([^;]+);', styles)
    faces = {face for face, _ in rules}
    assert faces == {file.name for file in FONTS.glob("*.ttf")} - {"NotoSans-Regular.ttf", "NotoSans-Bold.ttf"}
    for face, ranges in rules:
        with TTFont(FONTS / face) as opened_face:
            known = opened_face.getBestCmap()
        for one in ranges.split(", "):
            low, high = (int(end, 16) for end in one.removeprefix("U+").split("-"))
            assert any(letter in known for letter in range(low, high + 1)), f"{face} {one}"


@pytest.mark.page
def test_a_long_name_is_whole_and_nothing_lies_beside_a_phone(
    opened: Callable[..., Any], server: Server
) -> None:
    with open_store(server.store) as store:
        ticket = seeded(store, LONG)
    page = opened("/", narrow=True)
    own = f"/cloth/{slug(LONG)}"
    paths = ("/", "/tickets", "/people", "/cupboard", "/shelf", "/draft/apron", "/draft/apron/metres", own)
    for path in (*paths, ticket, f"{ticket}/cloth", f"{ticket}/log"):
        page.goto(server.address + path)
        page.wait_for_load_state("networkidle")
        opened_out(page)
        assert sideways(page) <= 0, path
    words = page.evaluate(
        """async () => { document.body.append('藍');
        await document.fonts.ready; return [...document.fonts].some((one) => one.status === 'loaded'
          && one.unicodeRange.includes('4E00')); }"""
    )
    assert words, "a letter that the machine may lack has the face that prints it"


def test_a_name_sent_by_a_form_is_kept_as_it_was_typed(mill_page: Any, mill: Store) -> None:
    assert form(mill_page, "/people/add", name=f"  {PERSIAN} ", figure="woman").status == 303
    assert PERSIAN in {body.name for body in mill.bodies()}
