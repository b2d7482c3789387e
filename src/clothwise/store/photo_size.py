"""How many dots a photo has, read from its head alone: nothing is unpacked, so a small file that would unpack
to gigapixels costs nothing to refuse. (A general picture library makes room for the whole canvas of a WebP
before it tells its size.)

JPEG: the first frame header (ISO/IEC 10918-1, B.2.2), behind segments that are stepped over. PNG: the header
chunk, which comes first (ISO/IEC 15948, 11.2.2). WebP: the head of its one picture, or the canvas of all
(RFC 9649).
"""

from __future__ import annotations

import struct

Size = tuple[int, int]  # across, down
FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}  # start-of-frame markers; these three are tables
ALONE = frozenset({0x01, *range(0xD0, 0xD8)})  # markers without a length
# tables, application data, comments
BEFORE_A_FRAME = frozenset({0xC4, 0xCC, 0xDB, 0xDD, *range(0xE0, 0xF0), 0xFE})


def size_of(data: bytes) -> Size | None:
    """Dots across and down; None where its head does not tell."""
    read = {b"RIFF": _webp, b"\x89PNG": _png}.get(data[:4], _jpeg)
    try:
        across, down = read(data)
    except (struct.error, ValueError):
        return None
    return (across, down) if across and down else None


def _png(data: bytes) -> Size:
    if data[12:16] != b"IHDR":
        raise ValueError
    across, down = struct.unpack_from(">II", data, 16)
    return across, down


def _jpeg(data: bytes) -> Size:
    at = 2
    while True:
        fill, marker = struct.unpack_from(">BB", data, at)
        if fill != 0xFF:
            raise ValueError
        if marker == 0xFF:  # any number of these may stand before a marker
            at += 1
        elif marker in ALONE:
            at += 2
        elif marker in FRAMES:
            down, across = struct.unpack_from(">HH", data, at + 5)
            return across, down
        elif marker in BEFORE_A_FRAME:
            at += 2 + struct.unpack_from(">H", data, at + 2)[0]
        else:  # its data begin, or it ends, and no frame was told
            raise ValueError


def _webp(data: bytes) -> Size:
    kind = data[12:16]
    if kind == b"VP8X":
        canvas = data[24:30]
        if len(canvas) < 6:
            raise ValueError
        return int.from_bytes(canvas[:3], "little") + 1, int.from_bytes(canvas[3:], "little") + 1
    if kind == b"VP8L" and data[20:21] == b"\x2f":
        (bits,) = struct.unpack_from("<I", data, 21)
        return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
    if kind == b"VP8 " and data[23:26] == b"\x9d\x01\x2a":
        across, down = struct.unpack_from("<HH", data, 26)
        return across & 0x3FFF, down & 0x3FFF
    raise ValueError
