"""KEY=VALUE as typed after --set."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.errors import ChoiceError


def settings_of(settings: Sequence[str] | None) -> dict[str, float | str]:
    """KEY=VALUE pairs; a value that reads as a number is one."""
    wish: dict[str, float | str] = {}
    for setting in settings or []:
        key, equals, value = setting.partition("=")
        if not equals or not key.strip():
            raise ChoiceError(f"'{setting}' is not a choice.", where="--set", mend="Write it as KEY=VALUE.")
        try:
            wish[key.strip()] = float(value)
        except ValueError:
            wish[key.strip()] = value.strip()
    return wish
