"""Changing a drawn garment: pieces altered, seams still matching, said in words."""

from clothwise.alter.length import lengthened, wedged

__all__ = ["lengthened", "wedged"]
