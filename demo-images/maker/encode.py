"""Scene-linear light -> camera code, and picture files that are the same bytes every time."""

import io
from pathlib import Path

import colour
import numpy as np
import oxipng
import png
from PIL import Image

# Encoding id -> (colour-science name of the log curve, of the gamut).
LOG_ENCODINGS = {
    "logc3": ("ARRI LogC3", "ARRI Wide Gamut 3"),
    "logc4": ("ARRI LogC4", "ARRI Wide Gamut 4"),
    "slog3-sgamut3cine": ("S-Log3", "S-Gamut3.Cine"),
    "vlog": ("V-Log", "V-Gamut"),
}


def to_gamut(scene_lin: np.ndarray, source: str, target: str) -> np.ndarray:
    """(h, w, 3) scene-linear from one gamut to another, both by colour-science name; both whites are D65."""
    matrix = colour.matrix_RGB_to_RGB(colour.RGB_COLOURSPACES[source], colour.RGB_COLOURSPACES[target], "CAT02")
    return scene_lin @ matrix.T


def balanced(scene_lin: np.ndarray, gamut: str, grey_kelvin: float) -> np.ndarray:
    """Adapt light whose greys look like a black body of a kelvin to the gamut's own white (CAT16)."""
    space = colour.RGB_COLOURSPACES[gamut]
    uv = colour.temperature.CCT_to_uv_Ohno2013(np.array([grey_kelvin, 0.0]))
    adapt = colour.adaptation.matrix_chromatic_adaptation_VonKries(
        colour.xy_to_XYZ(colour.UCS_uv_to_xy(uv)), colour.xy_to_XYZ(space.whitepoint), transform="CAT16"
    )
    return scene_lin @ (space.matrix_XYZ_to_RGB @ adapt @ space.matrix_RGB_to_XYZ).T


def log_pixels(scene_lin: np.ndarray, encoding: str) -> np.ndarray:
    """Scene-linear light in the encoding's own gamut -> (h, w, 3) uint16, full range.

    The four lowest bits are left zero: 12-bit steps, as a camera records, at two thirds of the file's size.
    """
    code = colour.log_encoding(np.maximum(scene_lin, 0.0), function=LOG_ENCODINGS[encoding][0])
    return (np.clip(np.round(code * 65535.0 / 16.0), 0, 4095) * 16).astype(np.uint16)


def write_png16(path: Path, pixels: np.ndarray) -> None:
    """(h, w, 3) uint16 -> PNG without a colour chunk: its encoding stands in frames.json."""
    height, width = pixels.shape[:2]
    buffer = io.BytesIO()
    png.Writer(width, height, greyscale=False, bitdepth=16, compression=1).write(buffer, pixels.reshape(height, -1))
    path.write_bytes(oxipng.optimize_from_memory(buffer.getvalue(), level=3, bit_depth_reduction=False))


def read_png16(path: Path) -> np.ndarray:
    """16-bit RGB PNG -> (h, w, 3) uint16."""
    width, height, rows, _ = png.Reader(bytes=path.read_bytes()).asDirect()
    return np.array([np.asarray(row, dtype=np.uint16) for row in rows]).reshape(height, width, 3)


def write_jpeg(path: Path, picture: Image.Image, quality: int, icc: bytes | None = None) -> None:
    """8-bit RGB picture -> baseline JPEG, chroma at half size as phones write it above a few megapixels."""
    picture.save(path, "JPEG", quality=quality, subsampling=2 if quality < 92 else 0, optimize=True, icc_profile=icc)
