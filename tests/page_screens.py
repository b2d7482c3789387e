"""Every screen of the page in every state a person brings it into: for the looks, the print and the pictures.

A state is an address and what is done there until it shows. All are of one server on the demo; each stands by
itself, so that any one can be asked for alone. `EMPTY` are the screens while nothing is kept.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from PIL import Image

LONG = 120_000  # ms: for what is searched, laid and set on a busy machine
TICKET = "/ticket/Marit~27s+linen+trousers"
CHART = "size\t10\t12\t14\nbust\t83\t88\t92\nwaist\t65\t70\t75\nhip\t90\t95\t100\n"
Do = Callable[[Any], None]


def nothing(_page: Any) -> None:
    """The screen as it opens."""


@dataclass(frozen=True)
class Screen:
    """One state: where it is, what is done there, and what is seen then."""

    name: str
    path: str
    shows: str = "h1"
    do: Do = nothing


def opened_out(page: Any) -> None:
    """Every fold of the page open at once, blanks too, of which only one is open otherwise."""
    page.evaluate(
        """for (const one of document.querySelectorAll('details')) {
            one.removeAttribute('name'); one.open = true; }"""
    )


def kept(page: Any) -> None:
    """Until the foot of the page says that it is kept."""
    page.wait_for_selector("#kept:has-text('Kept')")


# ---- the evening ---------------------------------------------------------------------------------


def ask_evening(page: Any, hours: str = "4", *, every_cloth: bool = False) -> None:
    page.select_option("[name=for]", "Marit")
    page.fill("[name=hours]", hours)
    for box in page.locator("[name=cloth]").all()[2:] if not every_cloth else ():
        box.uncheck()
    page.get_by_role("button", name="See what can be made").click()


def answered(page: Any) -> None:
    ask_evening(page)
    page.wait_for_selector(".answer", timeout=LONG)
    page.wait_for_selector("[data-cancel]", state="hidden", timeout=LONG)
    opened_out(page)


def left_off(page: Any) -> None:
    ask_evening(page, "7", every_cloth=True)  # not asked before, and much: not done before it is left
    page.wait_for_selector(".found [data-cancel]:visible")
    page.get_by_role("button", name="Leave it at that").click()
    page.wait_for_selector("[data-said]:has-text('You ended it')")


# ---- a ticket ------------------------------------------------------------------------------------


def refused_choice(page: Any) -> None:
    page.wait_for_selector(".piece")
    opened_out(page)
    page.fill("[data-path='choice.hip_ease']", "99")
    page.wait_for_selector("#no-choice-hip-ease:has-text('out of range')")


def altering(page: Any) -> None:
    page.wait_for_selector(".piece")
    page.locator("[data-kinds] > summary").click()
    page.wait_for_selector("[data-into] .blank", timeout=LONG)
    opened_out(page)


def laid(page: Any) -> None:
    """Laid on the cloth, whatever was there before."""
    if page.locator(".copy").count():
        return
    page.select_option("[name=effort]", "quick")
    page.click("[data-plan] button:not([data-cancel])")
    page.wait_for_selector(".copy", timeout=LONG)
    page.wait_for_selector(".cutting .stage")


def lies_wrong(page: Any) -> None:
    """A piece held over another by the mouse, not let go: nothing of it is kept."""
    laid(page)
    page.locator(".copy").first.scroll_into_view_if_needed()
    box = page.locator(".copy text").first.bounding_box()
    page.mouse.move(box["x"] + 4, box["y"] + 4)
    page.mouse.down()
    page.mouse.move(box["x"] + 44, box["y"] - 56, steps=4)
    page.wait_for_selector(".lay-faults li")


def packet_made(page: Any) -> None:
    page.get_by_role("button", name="Make the packet").click()
    page.wait_for_selector("[data-ready]:not([hidden])", timeout=LONG)


def clock_runs(page: Any) -> None:
    page.wait_for_selector(".step", timeout=LONG)
    if page.locator(".step.done").count() == 0:
        page.locator(".step-head").first.click()
        page.wait_for_selector(".step.done")
    if page.get_by_role("button", name="Begin sewing").count():
        page.get_by_role("button", name="Begin sewing").click()
    page.wait_for_selector("button:has-text('Stop the clock')")
    opened_out(page)


def to_be_bought(page: Any, asked: str = "?wide.rib=10") -> None:
    """The station of cloth of a make with ribbing and pockets; `asked`: widths in its address."""
    page.select_option("[action='/tickets/new'] [name=pattern]", "jogger")
    page.select_option("[action='/tickets/new'] [name=for]", "Juno")
    page.select_option("[action='/tickets/new'] [name=cloth]", "Sluice jersey")
    page.get_by_role("button", name="Begin the ticket").click()
    page.wait_for_selector(".piece")
    page.goto(f"{page.url}/cloth{asked}")
    page.wait_for_selector(".to-buy .stage", timeout=LONG)


def from_a_file(page: Any) -> None:
    """A ticket that was saved and opened beside itself."""
    text = page.request.get(f"{page.url.rpartition('/')[0]}{TICKET}/ticket.toml").body()
    page.set_input_files("[name=open]", {"name": "t.toml", "mimeType": "text/plain", "buffer": text})
    page.get_by_role("button", name="Open it as a ticket").click()
    page.wait_for_selector(".piece")
    opened_out(page)


def no_ticket(page: Any) -> None:
    page.set_input_files("[name=open]", {"name": "a.toml", "mimeType": "text/plain", "buffer": b"Dear Marit,"})
    page.get_by_role("button", name="Open it as a ticket").click()
    page.wait_for_selector(".warning")


def judged(page: Any) -> None:
    page.locator(".level-judged:has-text('Hip') .option:has-text('too tight')").click()
    page.fill("textarea", "Took in the waist.")
    page.fill("[data-path=minutes]", "soon")
    page.wait_for_selector("#no-minutes:has-text('.')")
    add_photo(page)


def add_photo(page: Any) -> None:
    if page.locator(".photos img").count() == 0:
        page.set_input_files("[name=photo]", photo_file())
        page.get_by_role("button", name="Add it").click()
        page.wait_for_selector(".photos img")


def photo_file() -> Any:
    """A small photo, as a file that a browser is given."""
    from io import BytesIO

    data = BytesIO()
    Image.new("RGB", (320, 200), (96, 128, 120)).save(data, "PNG")
    return {"name": "front.png", "mimeType": "image/png", "buffer": data.getvalue()}


def bought_begun(page: Any) -> None:
    """The one sheet of a bought pattern's ticket."""
    page.get_by_role("button", name="Begin its ticket").click()
    page.wait_for_selector("#size")
    opened_out(page)


def own_ticket(page: Any) -> None:
    """A ticket of its own, at its cloth."""
    page.select_option("[name=pattern]", "apron")
    page.locator(".begin [name=cloth]").first.select_option("Heron chambray")
    page.get_by_role("button", name="Begin the ticket").first.click()
    page.wait_for_selector(".piece")
    page.get_by_role("link", name="On to the cloth").click()
    page.wait_for_selector("[data-plan]")


def divided(page: Any) -> None:
    """One piece of it from another cloth, both laid, that one on the table."""
    own_ticket(page)
    page.locator(".divided summary").click()
    page.locator(".divided select").last.select_option("Fog double gauze")
    page.get_by_role("button", name="Cut them so").click()
    page.wait_for_selector(".cloths-laid")
    laid(page)
    page.locator(".cloths-laid a").nth(1).click()
    page.wait_for_selector(".cloths-laid a[aria-current]:has-text('Fog double gauze')")
    page.wait_for_selector(".copy")
    opened_out(page)


def cut_out(page: Any) -> None:
    """A ticket of its own, laid and taken off its cloth."""
    own_ticket(page)
    laid(page)
    page.get_by_role("button", name="take it off").click()
    page.wait_for_selector(".is-cut")


# ---- people, cupboard, shelf, makes --------------------------------------------------------------


def slipped(page: Any) -> None:
    page.fill("#m-waist_girth", "38")
    page.press("#m-waist_girth", "Tab")
    page.wait_for_selector(".doubt button")


def refused_measure(page: Any) -> None:
    page.fill("#m-knee_girth", "knee")
    page.press("#m-knee_girth", "Tab")
    page.wait_for_selector("#n-knee_girth:has-text('.')")


def begun_card(page: Any) -> None:
    """A card with nothing taped: nothing can be estimated yet."""
    page.fill("[name=name]", f"Ida {page.viewport_size['width']}")
    page.select_option("[name=figure]", "girl")
    page.get_by_role("button", name="Begin a card").click()
    page.wait_for_selector(".person")


def again_the_same(page: Any) -> None:
    """A name that is taken: said under the form."""
    page.fill("[name=name]", "Marit")
    page.get_by_role("button", name="Begin a card").click()
    page.wait_for_selector(".says-no:has-text('already')")


def remnant(page: Any) -> None:
    page.get_by_role("button", name="Mark a flaw").click()
    page.wait_for_selector("[data-told]:has-text('flaw')")
    page.fill("[data-path=drape]", "edge")
    page.press("[data-path=drape]", "Tab")
    page.wait_for_selector("#n-drape:has-text('.')")
    add_photo(page)
    opened_out(page)


def boxed(page: Any) -> None:
    if page.locator("[name=much]").count() == 1:
        page.fill("[name=name]", "White elastic")
        page.fill("form[action='/box/put'] [name=much]", "1.5 m")
        page.get_by_role("button", name="Put it in").click()
        page.wait_for_selector("button:has-text('Take out')")


def listed(page: Any) -> None:
    for box in page.locator("[name=ticket]").all():
        box.check()
    page.get_by_role("button", name="Write the list").click()
    page.wait_for_selector("[data-found] > *", timeout=LONG)
    page.wait_for_selector("[data-done]", timeout=LONG)


def widths_laid(page: Any) -> None:
    page.fill("[name=widths]", "140, 90")
    page.get_by_role("button", name="Lay it on these widths").click()
    page.wait_for_selector("[data-done]", timeout=LONG)


def pasted(page: Any) -> None:
    page.get_by_label("Called").fill("Tuesday dress")
    page.locator("form[data-draft=bought-new] textarea").fill(CHART.replace("\t95", "\t59"))
    page.wait_for_selector("[data-read] .note")
    opened_out(page)


def restored_wrongly(page: Any) -> None:
    page.set_input_files(
        "[name=backup]", {"name": "holiday.txt", "mimeType": "text/plain", "buffer": b"no backup"}
    )
    page.get_by_role("button", name="Put it back").click()
    page.wait_for_selector(".warning")


SCREENS = (
    Screen("evening", "/", do=opened_out),
    Screen("evening-answered", "/", do=answered),
    Screen("evening-left", "/", do=left_off),
    Screen("tickets", "/tickets", ".pile"),
    Screen("ticket-from-file", "/tickets", ".pile", from_a_file),
    Screen("no-ticket-in-file", "/tickets", ".pile", no_ticket),
    Screen("shape", TICKET, ".piece"),
    Screen("shape-opened", TICKET, ".piece", opened_out),
    Screen("shape-large", f"{TICKET}?pieces=large", ".piece"),
    Screen("shape-refused", TICKET, ".piece", refused_choice),
    Screen("shape-altering", TICKET, ".piece", altering),
    Screen("cloth", f"{TICKET}/cloth", "[data-plan]", opened_out),
    Screen("cloth-laid", f"{TICKET}/cloth", "[data-plan]", laid),
    Screen("cloth-to-be-bought", "/tickets", ".pile", to_be_bought),
    Screen("cloth-wrong", f"{TICKET}/cloth", "[data-plan]", lies_wrong),
    Screen("paper", f"{TICKET}/paper", ".map", opened_out),
    Screen("paper-a3", f"{TICKET}/paper?size=A3", ".map"),
    Screen("paper-packet", f"{TICKET}/paper", ".map", packet_made),
    Screen("work", f"{TICKET}/work", ".step"),
    Screen("work-clock", f"{TICKET}/work", ".step", clock_runs),
    Screen("log", f"{TICKET}/log", ".judge"),
    Screen("log-judged", f"{TICKET}/log", ".judge", judged),
    Screen("bought-ticket", "/tickets", ".pile", bought_begun),
    Screen("cloth-cut", "/tickets", ".pile", cut_out),
    Screen("cloth-divided", "/tickets", ".pile", divided),
    Screen("sizes", "/draft/four_panel_skirt/sizes"),
    Screen("people", "/people", ".cards"),
    Screen("people-refused", "/people", ".cards", again_the_same),
    Screen("person", "/person/Marit", ".person", opened_out),
    Screen("person-child", "/person/Juno", ".growing"),
    Screen("person-slip", "/person/Pilar", ".person", slipped),
    Screen("person-refused", "/person/Osei", ".person", refused_measure),
    Screen("person-begun", "/people", ".cards", begun_card),
    Screen("cupboard", "/cupboard", ".bolts"),
    Screen("one-cloth", "/cloth/Grey-green+linen", ".corner", opened_out),
    Screen("one-remnant", "/cloth/Harbour+twill+remnant", ".corner", remnant),
    Screen("box", "/box"),
    Screen("box-filled", "/box", "h1", boxed),
    Screen("shopping", "/shopping"),
    Screen("shopping-listed", "/shopping", "h1", listed),
    Screen("shelf", "/shelf", ".hung"),
    Screen("shelf-child", "/shelf?for=Juno", ".hung"),
    Screen("draft", "/draft/darted_shift", ".choices", opened_out),
    Screen("metres", "/draft/four_panel_skirt/metres?for=Marit"),
    Screen("metres-laid", "/draft/four_panel_skirt/metres?for=Marit", "h1", widths_laid),
    Screen("bought-new", "/bought", "[data-paste]", pasted),
    Screen("bought", "/bought/Mill+5+play+trousers", ".envelope", opened_out),
    Screen(
        "bought-sized", "/bought/Mill+1+swing+dress?for=Marit&cloth=Grey-green+linen", ".headline", opened_out
    ),
    Screen("makes", "/makes", ".rail"),
    Screen("make", "/make/First+straight+skirt", ".judge", add_photo),
    Screen("keeping", "/house"),
    Screen("keeping-refused", "/house", "h1", restored_wrongly),
    Screen("no-ticket", "/ticket/Nobody", ".warning"),
    Screen("no-page", "/nowhere", ".warning"),
)
EMPTY = tuple(
    Screen(f"empty{path.replace('/', '-')}", path)
    for path in (
        *("/", "/tickets", "/people", "/cupboard", "/box", "/shopping", "/shelf", "/draft/apron"),
        *("/draft/apron/metres", "/bought", "/makes", "/house"),
    )
)


def brought_up(page: Any, address: str, screen: Screen) -> None:
    """The screen in its state."""
    page.goto(address + screen.path)
    page.wait_for_selector(screen.shows, timeout=LONG)
    page.wait_for_load_state("load")
    screen.do(page)
    page.wait_for_load_state("load")  # where that led to another page: its scripts too


def saved(page: Any, place: Path) -> None:
    """The whole screen as a picture."""
    page.screenshot(path=place, full_page=True)
