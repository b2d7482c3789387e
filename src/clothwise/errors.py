"""One family of refusals, each with three answers: what, where, how to mend.

    WorkroomError
    ├── LengthError      a typed length cannot be read without guessing
    ├── MeasureError     a body's measure is missing, impossible, or outside what a draft can hold
    ├── ChoiceError      a choice of a draft is unknown or out of its range
    ├── DraftError       the construction has no solution for this body and these choices
    ├── GarmentError     pieces or seams contradict each other
    ├── ClothError       a cloth cannot be as described, or is too small
    ├── LayError         no lay can be planned
    ├── PaperError       sheets cannot be made as asked
    ├── ShelfError       what is written of a bought pattern cannot be read, or no size can be told
    ├── TicketError      a ticket cannot be read or contradicts itself
    └── StoreError       something is not in the store, or the store cannot be used

`ValueError` and `assert` are for our own bugs; these are for the sewer.
"""

from __future__ import annotations


class WorkroomError(Exception):
    """A clear refusal: what is wrong, where it stands, how to mend it."""

    def __init__(self, what: str, *, where: str = "", mend: str = "") -> None:
        self.what = what
        self.where = where
        self.mend = mend
        super().__init__(str(self))

    def __str__(self) -> str:
        parts = [self.what]
        if self.where:
            parts.append(f"Where: {self.where}.")
        if self.mend:
            parts.append(self.mend)
        return " ".join(parts)

    def __reduce__(self) -> tuple[object, ...]:
        return (_rebuild, (type(self), self.what, self.where, self.mend))


def _rebuild(kind: type[WorkroomError], what: str, where: str, mend: str) -> WorkroomError:
    return kind(what, where=where, mend=mend)


class LengthError(WorkroomError):
    """A typed length cannot be read without guessing."""


class MeasureError(WorkroomError):
    """A body's measure is missing, impossible, or outside what a draft can hold."""


class ChoiceError(WorkroomError):
    """A choice of a draft is unknown or out of its range."""


class DraftError(WorkroomError):
    """The construction has no solution for this body and these choices."""


class GarmentError(WorkroomError):
    """Pieces or seams contradict each other."""


class ClothError(WorkroomError):
    """A cloth cannot be as described, or is too small."""


class LayError(WorkroomError):
    """No lay can be planned."""


class PaperError(WorkroomError):
    """Sheets cannot be made as asked."""


class ShelfError(WorkroomError):
    """What is written of a bought pattern cannot be read, or no size can be told from it."""


class TicketError(WorkroomError):
    """A ticket cannot be read or contradicts itself."""


class StoreError(WorkroomError):
    """Something is not in the store, or the store cannot be used."""
