"""Typefaces carried with the house, so that paper comes out the same everywhere and offline.

Data only: VENDOR.toml lists every file with version, licence and hash; the licence text lies beside it.
"""
