"""Reads PDFs and SVGs of ours back with means of their own: pdfium for PDF, lxml for SVG. Lengths in cm."""

from __future__ import annotations

import ctypes
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw
from lxml import etree
from numpy.typing import NDArray
from PIL import Image

CM = 72 / 2.54  # points in one cm
CHORDS = 200  # a curve: fewer give false differences of a tenth of a millimetre

Points = NDArray[np.float64]


def bezier(p: Points) -> Points:
    """CHORDS points along a cubic, its start left out."""
    t = np.linspace(0, 1, CHORDS + 1)[1:, None]
    u = 1 - t
    return np.asarray(u**3 * p[0] + 3 * u**2 * t * p[1] + 3 * u * t**2 * p[2] + t**3 * p[3])


def _matrix(thing: pdfium.PdfObject) -> NDArray[np.float64]:
    a, b, c, d, e, f = thing.get_matrix().get()
    return np.array([[a, b, 0], [c, d, 0], [e, f, 1]])


def _to_page(thing: pdfium.PdfObject) -> NDArray[np.float64]:
    """From the object's own plane to the page, through every form that holds it."""
    matrix = _matrix(thing)
    outer = thing.container
    while outer is not None:
        matrix = matrix @ _matrix(outer)
        outer = outer.container
    return matrix


def strokes(page: pdfium.PdfPage, *, in_forms: bool | None = None) -> Iterator[Points]:
    """Every path on the page, flattened, closed ones with their first point again at the end. [cm]"""
    for thing in page.get_objects(max_depth=8):
        if thing.type != raw.FPDF_PAGEOBJ_PATH or (in_forms is not None and (thing.level > 0) != in_forms):
            continue
        points = _path(thing)
        flat = np.hstack([points, np.ones((len(points), 1))]) @ _to_page(thing)
        yield flat[:, :2] / CM


def _path(thing: pdfium.PdfObject) -> Points:
    x, y = ctypes.c_float(), ctypes.c_float()
    points: list[tuple[float, float]] = []
    handles: list[tuple[float, float]] = []
    closed = False
    for i in range(raw.FPDFPath_CountSegments(thing.raw)):
        segment = raw.FPDFPath_GetPathSegment(thing.raw, i)
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        at = (x.value, y.value)
        closed = closed or bool(raw.FPDFPathSegment_GetClose(segment))
        if raw.FPDFPathSegment_GetType(segment) != raw.FPDF_SEGMENT_BEZIERTO:
            points.append(at)
            continue
        handles.append(at)
        if len(handles) == 3:
            points.extend(map(tuple, bezier(np.array([points[-1], *handles]))))
            handles = []
    if closed and points[0] != points[-1]:
        points.append(points[0])
    return np.array(points)


def squares(page: pdfium.PdfPage) -> list[tuple[float, float]]:
    """Width and height of every closed axis-parallel box drawn on the page itself. [cm]"""
    found = []
    for ring in strokes(page, in_forms=False):
        if len(ring) == 5 and np.allclose(ring[0], ring[4]):
            steps = np.abs(np.diff(ring, axis=0))
            if np.all(steps.min(axis=1) < 1e-4):
                found.append((float(np.ptp(ring[:, 0])), float(np.ptp(ring[:, 1]))))
    return found


def characters(page: pdfium.PdfPage) -> list[tuple[str, tuple[float, float, float, float]]]:
    """Every printed letter with its own box: left, bottom, right, top. [cm]"""
    text = page.get_textpage()
    found = []
    for i in range(text.count_chars()):
        letter = text.get_text_range(i, 1)
        if letter.strip():
            found.append((letter, tuple(v / CM for v in text.get_charbox(i))))
    return found


def rasters(data: bytes, folder: Path, dpi: int, first: int, last: int) -> list[NDArray[np.uint8]]:
    """Pages drawn by poppler, grey, row 0 uppermost."""
    folder.mkdir(exist_ok=True)
    (folder / "in.pdf").write_bytes(data)
    command = ["pdftoppm", "-gray", "-r", str(dpi), "-f", str(first), "-l", str(last), "in.pdf", "page"]
    subprocess.run(command, cwd=folder, check=True)
    return [np.asarray(Image.open(path)) for path in sorted(folder.glob("page*.pgm"))]


HAS_POPPLER = shutil.which("pdftoppm") is not None

SVG = "{http://www.w3.org/2000/svg}"


def svg_root(text: str) -> etree._Element:
    return etree.fromstring(text.encode("utf-8"))


def svg_path(d: str) -> Points:
    """Points of a path of M, L, C and Z, flattened. [cm, y down]"""
    numbers = re.findall(r"[MLCZ]|-?\d+(?:\.\d+)?", d)
    points: list[tuple[float, float]] = []
    i, command = 0, ""
    while i < len(numbers):
        if numbers[i] in "MLCZ":
            command = numbers[i]
            i += 1
            if command == "Z":
                points.append(points[0])
                continue
        take = 6 if command == "C" else 2
        values = np.array([float(v) for v in numbers[i : i + take]]).reshape(-1, 2) / 10
        i += take
        if command == "C":
            points.extend(map(tuple, bezier(np.vstack([points[-1], values]))))
        else:
            points.append((values[0, 0], values[0, 1]))
    return np.array(points)


def word_boxes(page: pdfium.PdfPage) -> list[tuple[str, Points]]:
    """Each line of words with the four corners of the box that holds its ink, as pdfium measures it. [cm]"""
    text = page.get_textpage()
    found = []
    for thing in page.get_objects(max_depth=8):
        if thing.type != raw.FPDF_PAGEOBJ_TEXT:
            continue
        quad = np.array(thing.get_quad_points())
        flat = np.hstack([quad, np.ones((4, 1))])
        outer = thing.container
        while outer is not None:
            flat = flat @ _matrix(outer)
            outer = outer.container
        size = raw.FPDFTextObj_GetText(thing.raw, text.raw, None, 0)
        buffer = ctypes.create_string_buffer(size)
        raw.FPDFTextObj_GetText(thing.raw, text.raw, ctypes.cast(buffer, ctypes.POINTER(ctypes.c_ushort)), size)
        found.append((buffer.raw.decode("utf-16-le").strip("\0 "), flat[:, :2] / CM))
    return found
