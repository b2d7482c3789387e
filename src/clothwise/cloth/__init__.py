"""The cloth in the cupboard."""

from clothwise.cloth.cloth import Cloth, Make, Nap

__all__ = ["Cloth", "Make", "Nap"]
