"""The house drafts: patterns drawn to a body."""

from clothwise.draft.pattern import Choice, HouseDraft, Wish

__all__ = ["Choice", "HouseDraft", "Wish"]
