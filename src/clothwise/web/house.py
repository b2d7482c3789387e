"""Keeping: backup, restore, export, the demo."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.web.sheet import page


async def show(request: Request) -> Response:
    """What can be done with the store as a whole."""
    return page(request, "house.html", title="Keeping")


ROUTES = (Route("/house", show),)
