"""The haberdashery box: what is in it, put in, a new amount, taken out."""

from __future__ import annotations

from dataclasses import replace

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.errors import WorkroomError
from clothwise.shopping.box import BY_LENGTH, SORTS, BoxItem
from clothwise.store import deeds
from clothwise.store.store import IN_BOX
from clothwise.store.versions import refuse_unfit_name
from clothwise.web.sheet import Reader, go_to, named, page, reader, store_of

SCOPE = IN_BOX.word
LONG = 200.0  # cm: from here a length is told in metres or yards
MOST_LETTERS = 80  # of a name, an amount, a colour


async def show(request: Request) -> Response:
    """All that is in it, and how to put something in."""
    return await run_in_threadpool(_shown, request)


def _shown(request: Request) -> Response:
    who = reader(request)
    items = [
        {"item": item, "much": much(item, who), "size": size(item, who)} for item in store_of(request).box()
    ]
    return page(
        request, "box.html", title="Haberdashery box", scope=f"{SCOPE}/", items=items, sorts=SORTS,
        by_length=BY_LENGTH,
    )  # fmt: skip


def much(item: BoxItem, who: Reader) -> str:
    """How much of it there is, as it may be typed again."""
    if item.sort not in BY_LENGTH:
        return str(item.count)
    return who.metres(item.length) if item.length >= LONG else who.length(item.length)


def size(item: BoxItem, who: Reader) -> str:
    """Its width, or a zip's length; nothing when any serves."""
    if not item.width:
        return ""
    return f"{who.length(item.width)} {'long' if item.sort == 'zip' else 'wide'}"


def with_much(item: BoxItem, text: str, who: Reader) -> BoxItem:
    """The thing with another amount: a length, or a count. Raises WorkroomError, LengthError."""
    text = text.strip()
    if not text or text == much(item, who):
        return item
    if item.sort in BY_LENGTH:
        return replace(item, length=who.typed(text))
    if not text.isascii() or not text.isdigit() or len(text) > 9:
        raise WorkroomError(
            f"{text[:20]!r} is no number of them.", where=f"box: '{item.name}'", mend="Count them: 6, say."
        )
    return replace(item, count=int(text))


async def put(request: Request) -> Response:
    """Puts a thing in."""
    form = await request.form()
    asked = {key: str(form.get(key, "")).strip() for key in ("name", "sort", "much", "width", "colour")}
    return await run_in_threadpool(_put, request, asked)


def _put(request: Request, asked: dict[str, str]) -> Response:
    store, who, name = store_of(request), reader(request), asked["name"]
    refuse_unfit_name("thing in the box", name)
    if any(len(text) > MOST_LETTERS for text in asked.values()):
        raise WorkroomError("That is too long to write on a box.", where="box", mend="Say it shorter.")
    if name in {item.name for item in store.box()}:
        raise WorkroomError(
            f"There is '{name}' in the box already.", where="box", mend="Change how much in its own line."
        )
    by_length = asked["sort"] in BY_LENGTH
    begun = BoxItem(
        name,
        asked["sort"],  # type: ignore[arg-type]  # BoxItem checks it
        length=1.0 if by_length else 0.0,  # replaced by what was typed, in the next line
        count=0 if by_length else 1,
        width=who.typed(asked["width"]) if asked["width"] else 0.0,
        colour=asked["colour"],
    )
    if not asked["much"]:
        raise WorkroomError(
            f"How much of '{name}' is there?", where="box", mend="Give its length, or how many there are."
        )
    deeds.keep(store, IN_BOX, with_much(begun, asked["much"], who), f"{name} put in")
    return go_to("/box")


async def change(request: Request) -> Response:
    """Another amount of a thing."""
    form = await request.form()
    return await run_in_threadpool(_changed, request, str(form.get("much", "")))


def _changed(request: Request, text: str) -> Response:
    store, who, name = store_of(request), reader(request), named(request.path_params["name"])
    before = store.box_item(name)
    after = with_much(before, text, who)
    deeds.keep(store, IN_BOX, after, f"{name}: {much(before, who)} to {much(after, who)}")
    return go_to("/box")


async def take_out(request: Request) -> Response:
    """Takes a thing out: used up, given away."""
    name = named(request.path_params["name"])
    await run_in_threadpool(deeds.forget, store_of(request), IN_BOX, name, f"{name} taken out")
    return go_to("/box")


ROUTES = (
    Route("/box", show),
    Route("/box/put", put, methods=["POST"]),
    Route("/box/{name}/much", change, methods=["POST"]),
    Route("/box/{name}/out", take_out, methods=["POST"]),
)
