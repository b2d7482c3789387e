"""Which house drafts a command is about: by name, or `module:CONSTANT` for one that is not on the shelf yet."""

from __future__ import annotations

from argparse import ArgumentParser
from collections.abc import Sequence
from importlib import import_module

from clothwise.draft import PATTERNS, HouseDraft, pattern
from clothwise.errors import WorkroomError


def draft_named(name: str) -> HouseDraft:
    """The draft on the shelf, or the constant of a module."""
    if ":" not in name:
        return pattern(name)
    module, constant = name.split(":")
    found = getattr(import_module(module), constant)
    assert isinstance(found, HouseDraft), f"{name} is not a house draft"
    return found


def asked_for(names: Sequence[str], words: ArgumentParser) -> tuple[str, ...]:
    """The drafts a command names, all of the shelf when none; an unknown one ends it with a sentence."""
    try:
        for name in names:
            draft_named(name)
    except WorkroomError as refused:
        words.error(str(refused))
    return tuple(names) or tuple(draft.name for draft in PATTERNS)
