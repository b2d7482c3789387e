"""Photos made for tests: one that is a photo, one that is small and would unpack to gigapixels."""

from __future__ import annotations

import io
import zlib
from typing import Any

from PIL import Image


def picture(
    kind: str = "JPEG", size: tuple[int, int] = (3, 2), mode: str = "RGB", moving: bool = False, **how: Any
) -> bytes:
    """A picture as another program writes it."""
    made = io.BytesIO()
    if moving:
        how |= {"save_all": True, "append_images": [Image.new(mode, size, 60)]}
    Image.new(mode, size, 120).save(made, kind, **how)
    return made.getvalue()


PHOTO = picture()


def bomb(across: int = 50_000, down: int = 25_000) -> bytes:
    """A sound PNG of one bit a dot, all black: a file of some hundred kilobytes, shown it would take 5 GB."""
    row = b"\0" * (1 + (across + 7) // 8)
    packed = zlib.compressobj(9)
    data = b"".join(packed.compress(row * 1000) for _ in range(down // 1000)) + packed.flush()
    head = across.to_bytes(4, "big") + down.to_bytes(4, "big") + b"\x01\0\0\0\0"
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", data) + _chunk(b"IEND", b"")


def _chunk(name: bytes, data: bytes) -> bytes:
    return len(data).to_bytes(4, "big") + name + data + zlib.crc32(name + data).to_bytes(4, "big")
