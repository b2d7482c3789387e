"""Which house drafts a command is about, by name, or `module:CONSTANT` for one that is not on the shelf yet;
and what else must be chosen for a choice to show.
"""

from __future__ import annotations

from argparse import ArgumentParser
from collections.abc import Mapping, Sequence
from importlib import import_module

from clothwise.draft import PATTERNS, HouseDraft, pattern
from clothwise.errors import WorkroomError

Wish = dict[str, float | str]
SLEEVED: Wish = {"sleeve": "long"}
BESIDE: Mapping[str, Mapping[str, Wish]] = {  # draft -> choice, or choice and option -> what it needs to show
    "darted_shift": {
        "sleeve_longer": SLEEVED,
        "arm_ease": SLEEVED,
        "cap_ease": SLEEVED,
        "waist_ease": {"waist": "shaped by darts"},
        "dart: waist": {"waist": "shaped, with a waist seam"},
        "side_slit": {"length": "dress"},
    },
    "button_front_shirt": {
        "side_slit": {"hem_shape": "straight", "length": "tunic"},
        "hem": {"hem_shape": "straight"},
    },
    "raglan_pullover": {"frill_width": {"frill": "both"}, "neck: gathered and bound": {"back": "buttons"}},
    "cut_on_sleeve_tee": {"rib_stretch": {"bands": "rib"}, "side_slit": {"length": "dress"}},
}


def chosen(draft: HouseDraft, choice: str, value: float | str) -> Wish:
    """The wish for that choice, with what it needs beside it to make a difference."""
    needs = BESIDE.get(draft.name, {})
    return {**needs.get(choice, {}), **needs.get(f"{choice}: {value}", {}), choice: value}


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
