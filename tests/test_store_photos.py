"""Photos are bounded in dots by what their heads say, whichever program wrote them."""

from __future__ import annotations

import pytest
from PIL import Image

from clothwise.errors import StoreError
from clothwise.store import Store, photos
from clothwise.store.photo_size import size_of
from tests.small_photos import PHOTO, bomb, picture

EXIF = Image.Exif()
EXIF[0x010E] = "as tall as the bolt" * 40  # a long segment before the frame
WAYS: dict[str, tuple[str, dict[str, object]]] = {
    "jpeg": ("JPEG", {}),
    "jpeg, coarse to fine": ("JPEG", {"progressive": True}),
    "jpeg, grey": ("JPEG", {"mode": "L"}),
    "jpeg, for print": ("JPEG", {"mode": "CMYK"}),
    "jpeg, with words": ("JPEG", {"exif": EXIF, "comment": b"\xff\xc0 is no frame here"}),
    "jpeg, restarts": ("JPEG", {"restart_marker_rows": 1}),
    "png": ("PNG", {}),
    "png, see-through": ("PNG", {"mode": "LA"}),
    "webp": ("WEBP", {}),
    "webp, exact": ("WEBP", {"lossless": True}),
    "webp, see-through": ("WEBP", {"mode": "RGBA"}),
    "webp, with words": ("WEBP", {"exif": EXIF}),
    "webp, moving": ("WEBP", {"moving": True}),
}


@pytest.mark.parametrize("size", [(1, 1), (37, 21), (255, 257), (4097, 3)])
@pytest.mark.parametrize("way", WAYS)
def test_the_head_tells_the_size_that_another_reader_finds(way: str, size: tuple[int, int]) -> None:
    kind, how = WAYS[way]
    assert size_of(picture(kind, size, **how)) == size  # type: ignore[arg-type]


@pytest.mark.parametrize("way", WAYS)
def test_a_photo_cut_anywhere_tells_its_size_or_nothing(way: str) -> None:
    kind, how = WAYS[way]
    data = picture(kind, (37, 21), **how)  # type: ignore[arg-type]
    assert {size_of(data[:end]) for end in range(len(data))} <= {None, (37, 21)}


def test_a_small_file_that_would_unpack_to_gigapixels_is_refused(mill: Store) -> None:
    data = bomb()
    assert len(data) < 1_000_000
    with pytest.raises(StoreError, match=r"has 50000 by 25000 dots, more than can be shown\."):
        photos.add(mill, "cloth/White poplin", data, "front")
    assert photos.of_thing(mill, "cloth/White poplin") == ()


def test_the_sharpest_photo_of_a_phone_is_kept_just_as_it_came(mill: Store) -> None:
    sharp = picture(size=(8160, 6120), mode="L")
    number = photos.add(mill, "cloth/White poplin", sharp, "front")
    assert photos.bytes_of(mill, number) == ("image/jpeg", sharp)


def test_a_photo_of_no_known_size_is_refused(mill: Store) -> None:
    """The standard lets a height come behind the picture; whoever shows it must unpack it to know."""
    endless = PHOTO.replace(
        (2).to_bytes(2, "big") + (3).to_bytes(2, "big"), b"\0\0\0\3"
    )  # its height comes later
    for data in (b"\xff\xd8\xff.", PHOTO[:12], endless):
        with pytest.raises(StoreError, match="does not say how large"):
            photos.add(mill, "cloth/White poplin", data, "front")
