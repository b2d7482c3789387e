"""Photos at the page: added from a form, taken away, shown. The same for a make, a ticket's log and a cloth."""

from __future__ import annotations

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from clothwise.errors import StoreError
from clothwise.store import Store, photos
from clothwise.store.store import CLOTH
from clothwise.web.numbers import NUMBER
from clothwise.web.sheet import go_to, named, slug, store_of, wants_json


def photo_routes(path: str, of: str) -> tuple[Route, ...]:
    """Adding a photo to a thing and taking one away, then back to its page.

    path  of the thing's page, '/cloth/{name}'
    of    the word its photos are kept under, 'cloth'
    """

    async def added(request: Request) -> Response:
        """A photo of the thing, from a form."""
        name = named(request.path_params["name"])
        async with request.form(max_files=1, max_fields=8) as form:
            sent = form.get("photo")
            if not isinstance(sent, UploadFile):
                raise StoreError("No photo was chosen.", where="photo", mend="Choose one first.")
            data = await sent.read(photos.MOST_BYTES + 1)
            words = str(form.get("words", "")).strip()[:200]
        await run_in_threadpool(_there, store_of(request), of, name)
        number = await run_in_threadpool(photos.add, store_of(request), f"{of}/{name}", data, words)
        return JSONResponse({"photo": number}) if wants_json(request) else go_to(_back(path, name))

    async def gone(request: Request) -> Response:
        """Takes a photo away; undo brings it back."""
        name, number = named(request.path_params["name"]), request.path_params["number"]
        await run_in_threadpool(photos.take_away, store_of(request), f"{of}/{name}", number)
        return go_to(_back(path, name))

    return (
        Route(f"{path}/photo", added, methods=["POST"]),
        Route(f"{path}/photo/{NUMBER}/away", gone, methods=["POST"]),
    )


def _there(store: Store, of: str, name: str) -> None:
    """Refuses a photo of what is not kept; a make has its photos from its ticket on."""
    if of == CLOTH.word:
        store.cloth(name)
    elif name not in {make.name for make in store.makes()}:
        store.ticket(name)


def _back(path: str, name: str) -> str:
    return path.replace("{name}", slug(name))


async def shown(request: Request) -> Response:
    """The bytes of a photo: shown as the picture it is, and as nothing else."""
    kind, data = await run_in_threadpool(photos.bytes_of, store_of(request), request.path_params["number"])
    headers = {"content-security-policy": "default-src 'none'; sandbox", "content-disposition": "inline"}
    return Response(data, media_type=kind, headers=headers)


ROUTES = (Route(f"/photo/{NUMBER}", shown),)
