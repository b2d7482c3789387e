"""Writing a packet: all of it or nothing."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

from clothwise.errors import WorkroomError


def write_all(files: Mapping[str, bytes], folder: Path) -> None:
    """Writes the files into the folder, first beside it, then moved in one by one.

    Raises WorkroomError when the folder cannot be written; then nothing of it has changed.
    """
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        beside = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
    except OSError as fault:
        raise _unwritable(folder, fault) from fault
    try:
        for name, content in files.items():
            (beside / name).write_bytes(content)
        folder.mkdir(exist_ok=True)
        for name in files:
            os.replace(beside / name, folder / name)
    except OSError as fault:
        raise _unwritable(folder, fault) from fault
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def write_one(content: bytes, file: Path) -> None:
    """Writes one file whole, or leaves what was there."""
    write_all({file.name: content}, file.parent if str(file.parent) else Path())


def _unwritable(place: Path, fault: OSError) -> WorkroomError:
    return WorkroomError(
        f"The files cannot be written: {fault.strerror or fault}.",
        where=str(place),
        mend="Name a folder you may write to, with room on the disk.",
    )


def read_file(file: Path, what: str) -> bytes:
    """The bytes of a file a person named. Raises WorkroomError when it cannot be read."""
    try:
        return file.read_bytes()
    except OSError as fault:
        raise WorkroomError(
            f"The {what} cannot be read: {fault.strerror}.", where=str(file), mend=f"Name a {what} file."
        ) from fault
