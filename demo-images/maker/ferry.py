"""A small ferry, seen from the side at night, drawn by us: where it is, what colour it is, and what shines."""

from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw
from scipy.ndimage import gaussian_filter

from .lamps import lamp_rgb, stops

SUPERSAMPLED = 4
LENGTH_M, HEIGHT_M = 41.0, 15.0

# Metres from the stern (x) and above the waterline (y); painted in this order.
_HULL = [(0.6, 0), (0, 2.5), (2, 2.7), (30, 2.7), (36, 3.1), (41, 4.1), (38.4, 0)]
_SHAPES = [
    # reflectance (r, g, b), outline
    ((0.035, 0.05, 0.075), _HULL),
    ((0.55, 0.53, 0.48), [(0, 2.35), (0, 2.75), (30, 2.75), (36, 3.15), (41, 4.2), (40.9, 3.9), (36, 2.8), (30, 2.4)]),
    ((0.30, 0.05, 0.03), [(0.6, 0), (0.5, 0.45), (38.7, 0.45), (38.4, 0)]),
    ((0.60, 0.58, 0.52), [(4.5, 2.7), (4.5, 5.25), (33.2, 5.25), (34.6, 2.75)]),
    ((0.42, 0.41, 0.38), [(2.2, 5.2), (2.2, 5.5), (34.6, 5.5), (34.4, 5.2)]),
    ((0.60, 0.58, 0.52), [(12.5, 5.5), (12.5, 7.7), (28.6, 7.7), (29.8, 5.5)]),
    ((0.42, 0.41, 0.38), [(7.0, 7.6), (7.0, 7.9), (30.6, 7.9), (30.4, 7.6)]),
    ((0.62, 0.60, 0.55), [(23.4, 7.9), (23.6, 10.2), (28.4, 10.2), (29.4, 7.9)]),
    ((0.33, 0.32, 0.30), [(23.0, 10.2), (23.0, 10.5), (29.2, 10.5), (29.0, 10.2)]),
    ((0.42, 0.06, 0.035), [(15.2, 7.9), (14.6, 11.4), (17.4, 11.4), (18.0, 7.9)]),
    ((0.04, 0.04, 0.045), [(14.75, 10.6), (14.6, 11.6), (17.4, 11.6), (17.55, 10.6)]),
]
_POSTS = [(2.4, 2.7, 5.2), (7.2, 5.5, 7.6), (9.8, 5.5, 7.6), (26.0, 10.5, 14.4), (4.2, 5.5, 10.2), (39.6, 4.0, 6.2)]
_RAILS = [(2.2, 12.5, 5.5), (29.8, 34.4, 5.5), (7.0, 23.4, 7.9), (34.6, 40.6, 3.2)]
# Lamps: x, y, kind, stops above mid-grey, radius of the shining globe in metres.
LAMPS = [
    (3.3, 5.0, "sodium", 7.5, 0.17),
    (8.5, 7.35, "sodium", 7.8, 0.20),
    (11.4, 7.35, "sodium", 7.0, 0.17),
    (34.9, 4.95, "sodium", 7.8, 0.20),
    (26.0, 14.2, "incandescent", 7.2, 0.16),
    (4.2, 10.0, "incandescent", 6.6, 0.15),
    (25.2, 9.9, "green", 5.6, 0.15),
]


@dataclass(frozen=True)
class Drawing:
    """Supersampled layers, (h, w, 3) scene-linear and (h, w, 1) cover 0..1; the bottom row is the waterline."""

    light: np.ndarray
    cover: np.ndarray


def side_light_rgb(gamut_lamp: np.ndarray) -> np.ndarray:
    """A starboard light: green glass before an incandescent lamp (a plain guess at the glass)."""
    tinted = gamut_lamp * np.array([0.12, 1.0, 0.45])
    return tinted / tinted[1]


def lamp_colour(kind: str, gamut: str) -> np.ndarray:
    """(3,) light of one of the ferry's lamps, in the gamut, about luminance 1."""
    if kind == "green":
        return side_light_rgb(lamp_rgb("incandescent", gamut))
    return lamp_rgb(kind, gamut)


def draw(px_per_m: float, ambient_lin: np.ndarray, gamut: str) -> Drawing:
    """The ferry at a scale, lit by the ambient light (3,) and by its own lamps."""
    scale = px_per_m * SUPERSAMPLED
    width, height = int(LENGTH_M * scale) + 1, int(HEIGHT_M * scale) + 1

    def at(x_m, y_m):
        return (x_m * scale, height - 1 - y_m * scale)

    def mask(paint) -> np.ndarray:
        picture = Image.new("L", (width, height))
        paint(ImageDraw.Draw(picture))
        return np.asarray(picture, dtype=np.float64)[..., None] / 255.0

    paint_rgb = np.zeros((height, width, 3))
    cover = np.zeros((height, width, 1))
    for reflectance, outline in _SHAPES:
        m = mask(lambda d: d.polygon([at(*p) for p in outline], fill=255))
        paint_rgb = paint_rgb * (1 - m) + m * np.array(reflectance)
        cover = np.maximum(cover, m)

    def lines(d):
        for x, y0, y1 in _POSTS:
            d.line([at(x, y0), at(x, y1)], fill=255, width=max(1, round(0.14 * scale)))
        for x0, x1, y in _RAILS:
            for up in (0.55, 1.0):
                d.line([at(x0, y + up), at(x1, y + up)], fill=150, width=max(1, round(0.07 * scale)))
            for x in np.arange(x0, x1 + 0.01, 1.3):
                d.line([at(x, y), at(x, y + 1.0)], fill=150, width=max(1, round(0.07 * scale)))

    m = mask(lines)
    paint_rgb = paint_rgb * (1 - m) + m * 0.25
    cover = np.maximum(cover, m)

    y_px, x_px = np.mgrid[0:height, 0:width]
    x_m, y_m = x_px / scale, (height - 1 - y_px) / scale
    received = np.broadcast_to(ambient_lin, (height, width, 3)).copy()
    for x, y, kind, level, radius in LAMPS:
        # A lamp a little in front of the side that it lights; its light falls off from there.
        squared = (x_m - x) ** 2 + (y_m - y) ** 2 + 0.65**2
        below = np.clip(0.5 + (y - y_m) / 2.0, 0.12, 1.0)
        if kind == "green":  # a screen keeps a side light off the ship itself
            continue
        strength = 3.0 * (radius / 0.2) ** 2 * 2.0 ** (level - 7.8)
        received += (strength * below / squared)[..., None] * lamp_colour(kind, gamut)
    random = np.random.default_rng(17)
    light = paint_rgb * received * _weather(random, height, width, scale)

    warm, cool, sodium = (lamp_rgb(kind, gamut) for kind in ("incandescent", "mercury", "sodium"))
    rows = [(6.0, 32.6, 3.55, 1.15, 0.95, 2.5), (13.6, 28.0, 6.05, 1.0, 1.05, 2.1)]
    for x0, x1, y, tall, wide, level in rows:
        for x in np.arange(x0, x1 - wide, wide + 0.42):
            shine = level + random.normal(0.0, 0.6) - (2.6 if random.random() < 0.15 else 0.0)
            pane = mask(lambda d: d.rectangle([at(x, y + tall), at(x + wide, y)], fill=255))
            inside = np.clip(0.55 + 0.6 * (y_m - y) / tall, 0.4, 1.1)[..., None]
            light = light * (1 - pane) + pane * inside * stops(shine) * (0.86 * warm + 0.14 * sodium)
    bridge = mask(lambda d: d.polygon([at(24.0, 9.8), at(28.2, 9.8), at(28.8, 8.8), at(24.0, 8.8)], fill=255))
    light = light * (1 - bridge) + bridge * stops(-1.6) * cool
    for x, y, tall in ((8.2, 5.5, 1.7), (9.1, 5.5, 1.62), (10.9, 5.5, 1.75), (3.4, 2.7, 1.7), (31.6, 5.5, 1.7), (36.4, 3.1, 1.68)):
        body = mask(lambda d: _person(d, at, x, y, tall))
        light = light * (1 - body) + body * 0.035 * received
        cover = np.maximum(cover, body)
    for x in (10.2, 20.4, 31.0):  # lifebuoys
        ring = mask(lambda d: d.ellipse([at(x - 0.36, 3.26), at(x + 0.36, 2.54)], outline=255, width=round(0.17 * scale)))
        light = light * (1 - ring) + ring * np.array([0.62, 0.10, 0.03]) * received * 1.3
    return Drawing(light=light, cover=cover)


def _person(draw, at, x: float, y: float, tall: float) -> None:
    """A standing figure's outline."""
    draw.ellipse([at(x - 0.13, y + tall), at(x + 0.13, y + tall - 0.3)], fill=255)
    draw.polygon([at(x - 0.26, y + tall - 0.36), at(x + 0.26, y + tall - 0.36), at(x + 0.2, y), at(x - 0.2, y)], fill=255)


def _weather(random, height: int, width: int, scale: float) -> np.ndarray:
    """Uneven paint: faint plates and streaks, (h, w, 1) about 1."""
    plates = gaussian_filter(random.normal(size=(height, width)), (0.5 * scale, 0.9 * scale))
    streaks = gaussian_filter(random.normal(size=(height, width)), (1.1 * scale, 0.07 * scale))
    return np.exp2(0.22 * plates / plates.std() + 0.16 * streaks / streaks.std())[..., None]


def lower(layer: np.ndarray) -> np.ndarray:
    """Average a supersampled layer down to picture pixels, the waterline staying the bottom edge."""
    n = SUPERSAMPLED
    height, width = layer.shape[0] // n * n, layer.shape[1] // n * n
    kept = layer[layer.shape[0] - height :, :width]
    return kept.reshape(height // n, n, width // n, n, -1).mean(axis=(1, 3))
