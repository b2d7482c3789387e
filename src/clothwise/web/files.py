"""What browsers fetch beside pages: styles, scripts, the typeface. A fixed list, read once.

An address names an entry of that list and nothing else, so no path from outside reaches the disk.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

KINDS = {".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml", ".ttf": "font/ttf"}
HERE = Path(__file__).parent / "static"
FONTS = Path(__file__).parent.parent / "fonts"


@dataclass(frozen=True)
class Fetched:
    """One file as it is sent."""

    data: bytes
    kind: str
    mark: str  # tells this content from any other


@cache
def fetched() -> dict[str, Fetched]:
    """All of them, by the name in their address."""
    found = {}
    for folder in (HERE, FONTS):
        for file in sorted(folder.iterdir()):
            if file.suffix in KINDS:
                data = file.read_bytes()
                mark = f'"{hashlib.sha256(data).hexdigest()[:20]}"'
                found[file.name] = Fetched(data, KINDS[file.suffix], mark)
    return found


async def send(request: Request) -> Response:
    """One file; nothing when the browser has this very content already."""
    file = fetched().get(request.path_params["name"])
    if file is None:
        return PlainTextResponse("There is no such file.\n", status_code=404)
    headers = {"etag": file.mark, "cache-control": "no-cache"}
    if request.headers.get("if-none-match") == file.mark:
        return Response(status_code=304, headers=headers)
    return Response(file.data, media_type=file.kind, headers=headers)


ROUTES = (Route("/static/{name}", send),)
