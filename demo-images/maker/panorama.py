"""Scene-linear panoramas: reading an EXR, and taking an ordinary camera view out of a lat-long picture."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import OpenEXR
from scipy.ndimage import grey_closing, map_coordinates, maximum_filter

# Pictures are resampled and enlarged in log2 of light: linear light would ring beside the sun.
# The small offset keeps zeroed pixels and the tiny negatives of lossy EXR compression finite.
LOG_FLOOR_LIN = 2.0**-9


@dataclass(frozen=True)
class View:
    """Where an imaginary rectilinear camera looks. All angles in degrees; yaw 0 is the panorama's middle."""

    yaw_deg: float
    pitch_deg: float
    width_deg: float
    width_px: int
    height_px: int

    @property
    def focal_px(self) -> float:
        return self.width_px / 2 / np.tan(np.radians(self.width_deg) / 2)


def read_exr(path: Path) -> np.ndarray:
    """EXR file -> (height, width, 3) float64 scene-linear, in the file's own primaries."""
    channels = OpenEXR.File(str(path), separate_channels=True).channels()
    return np.stack([channels[name].pixels for name in "RGB"], axis=-1).astype(np.float64)


def repair(scene_lin: np.ndarray, brightest_lin: float) -> np.ndarray:
    """Mend what the panoramas' own making left in them, same shape.

    Their reduction left thin near-black lines and specks beside glare, and a sun's core whose blue is negative.
    Lines and specks are filled from their surroundings (grey closing); light above `brightest_lin` is held there,
    and the hottest core is mixed with a little white, as glare in a lens would.
    """
    out = np.maximum(scene_lin, 0.0)
    wrapped = np.pad(out, ((8, 8), (8, 8), (0, 0)), mode="wrap")
    filled = np.stack([grey_closing(wrapped[..., c], size=(3, 3)) for c in range(3)], axis=-1)
    glare = maximum_filter(wrapped.max(axis=-1), size=5)[..., None]
    beside_glare = glare > 10.0 * filled.max(axis=-1, keepdims=True)
    speck = beside_glare & (wrapped < 0.4 * filled).any(axis=-1, keepdims=True)
    out = np.where(speck, filled, wrapped)[8:-8, 8:-8]
    peak = out.max(axis=-1, keepdims=True)
    held = np.minimum(peak, brightest_lin)
    white_share = 0.2 * np.clip(np.log2(np.maximum(held, 1e-6) * 5.0 / brightest_lin), 0.0, 1.0)
    return out * (held / np.maximum(peak, 1e-6)) * (1.0 - white_share) + held * white_share


def log2_light(scene_lin: np.ndarray) -> np.ndarray:
    """Scene-linear light -> log2 with a floor, same shape."""
    return np.log2(np.maximum(scene_lin, 0.0) + LOG_FLOOR_LIN)


def from_log2_light(light_log2: np.ndarray) -> np.ndarray:
    """Inverse of `log2_light`, same shape."""
    return np.maximum(np.exp2(light_log2) - LOG_FLOOR_LIN, 0.0)


def rays(view: View) -> np.ndarray:
    """(height, width, 3) unit directions of a view's pixels: x right, y up, z towards yaw 0."""
    x, y = np.meshgrid(
        np.arange(view.width_px) + 0.5 - view.width_px / 2,
        view.height_px / 2 - np.arange(view.height_px) - 0.5,
    )
    z = np.full_like(x, view.focal_px)
    pitch, yaw = np.radians(view.pitch_deg), np.radians(view.yaw_deg)
    y, z = y * np.cos(pitch) + z * np.sin(pitch), z * np.cos(pitch) - y * np.sin(pitch)
    x, z = x * np.cos(yaw) + z * np.sin(yaw), z * np.cos(yaw) - x * np.sin(yaw)
    direction = np.stack([x, y, z], axis=-1)
    return direction / np.linalg.norm(direction, axis=-1, keepdims=True)


def source_px(view: View, panorama_shape: tuple) -> tuple[np.ndarray, np.ndarray]:
    """(row, column) of every pixel of a view in the lat-long picture; columns may leave 0..width: they wrap."""
    height, width = panorama_shape[:2]
    d = rays(view)
    # Unwrapped around the view's own direction, so that a crop never straddles the seam.
    yaw = np.radians(view.yaw_deg)
    across = d[..., 0] * np.cos(yaw) - d[..., 2] * np.sin(yaw)
    ahead = d[..., 0] * np.sin(yaw) + d[..., 2] * np.cos(yaw)
    longitude = np.arctan2(across, ahead) + yaw
    latitude = np.arcsin(d[..., 1])
    return (0.5 - latitude / np.pi) * height - 0.5, (longitude / (2 * np.pi) + 0.5) * width - 0.5


def crop_for(view: View, panorama: np.ndarray, margin_px: int = 10) -> tuple[np.ndarray, int, int]:
    """The part of a panorama that a view needs, with its first row and column."""
    row, column = source_px(view, panorama.shape)
    top = max(int(row.min()) - margin_px, 0)
    bottom = min(int(row.max()) + margin_px + 1, panorama.shape[0])
    left, right = int(np.floor(column.min())) - margin_px, int(column.max()) + margin_px + 1
    wrapped = np.arange(left, right) % panorama.shape[1]
    return panorama[top:bottom][:, wrapped], top, left


def take(view: View, panorama_shape: tuple, crop_log2: np.ndarray, top: int, left: int, enlarged: int) -> np.ndarray:
    """Cubic resampling of an (enlarged) crop through a view -> scene-linear (height, width, 3)."""
    row, column = source_px(view, panorama_shape)
    row = (row - top + 0.5) * enlarged - 0.5
    column = (column - left + 0.5) * enlarged - 0.5
    planes = [map_coordinates(crop_log2[..., c], [row, column], order=3, mode="nearest") for c in range(3)]
    return from_log2_light(np.stack(planes, axis=-1))
