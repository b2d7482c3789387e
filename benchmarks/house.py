"""Which house drafts a command is about: by name, or `module:CONSTANT` for one that is not on the shelf yet."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module

from clothwise.draft import PATTERNS, HouseDraft, pattern


def draft_named(name: str) -> HouseDraft:
    """The draft on the shelf, or the constant of a module."""
    if ":" not in name:
        return pattern(name)
    module, constant = name.split(":")
    found = getattr(import_module(module), constant)
    assert isinstance(found, HouseDraft), f"{name} is not a house draft"
    return found


def asked_for(arguments: Sequence[str]) -> tuple[str, ...]:
    """Names among the arguments of a command; all of the shelf when there are none."""
    names = tuple(word for word in arguments if not word.startswith("-"))
    return names or tuple(draft.name for draft in PATTERNS)
