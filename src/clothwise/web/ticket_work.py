"""Long work on one ticket, in a worker: a careful lay, the whole packet."""

from __future__ import annotations

from typing import Any

from clothwise.store import Store
from clothwise.web.work import Tell


def lay(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """To come with the station of cloth."""
    raise NotImplementedError


def packet(store: Store, asked: dict[str, Any], tell: Tell) -> None:
    """To come with the station of paper."""
    raise NotImplementedError
