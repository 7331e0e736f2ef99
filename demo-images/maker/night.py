"""The night ferry: an evening photograph of a quay turned to night, with lamps and a ferry composed over it.

The quay, the water and the people are the photograph's. Its evening light is taken as an even one, so dividing
it out leaves what the surfaces reflect; they are lit again by a weak night sky and by lamps standing at known
places on the quay. Light on water and wet stone follows the slope statistics of Cox & Munk (1954, "Measurement
of the roughness of the sea surface from photographs of the sun's glitter"), with the photograph's own waves.
"""

from dataclasses import dataclass

import numpy as np
from scipy.ndimage import gaussian_filter

from . import ferry
from .lamps import lamp_rgb, stops
from .panorama import View

EYE_ABOVE_QUAY_M, EYE_ABOVE_WATER_M = 1.7, 3.1
# Two points of the quay's edge on the quay's plane, metres right of and ahead of the eye; read off the view.
EDGE_NEAR, EDGE_FAR = (1.494, 2.326), (-7.52, 12.39)
POST_HEIGHT_M, POST_FROM_EDGE_M = 4.1, 2.3
POSTS_AHEAD_M = (7.4, 15.0, 24.0, 35.0, 49.0, 68.0, 95.0)
FERRY_AHEAD_M, FERRY_STERN_RIGHT_M = 62.0, -4.0
NIGHT_SKY_STOPS = -4.9


@dataclass(frozen=True)
class Lamp:
    """A point light: place in metres from the eye, light (3,), intensity (irradiance 1 at 1 m), shown level."""

    place_m: tuple
    rgb: np.ndarray
    intensity: float
    shown_stops: float
    radius_px: float
    shown_px: tuple | None = None  # column and row, where a drawing has put it; else from the place


def _level_rays(view: View) -> np.ndarray:
    """Unit rays with the yaw taken out: x right, y up, z ahead and level."""
    x, y = np.meshgrid(
        np.arange(view.width_px) + 0.5 - view.width_px / 2, view.height_px / 2 - np.arange(view.height_px) - 0.5
    )
    z = np.full_like(x, view.focal_px)
    p = np.radians(view.pitch_deg)
    ray = np.stack([x, y * np.cos(p) + z * np.sin(p), z * np.cos(p) - y * np.sin(p)], axis=-1)
    return ray / np.linalg.norm(ray, axis=-1, keepdims=True)


def _to_px(view: View, place_m) -> tuple[float, float]:
    x, y, z = place_m
    p = np.radians(view.pitch_deg)
    up, ahead = y * np.cos(p) - z * np.sin(p), z * np.cos(p) + y * np.sin(p)
    return view.width_px / 2 + view.focal_px * x / ahead - 0.5, view.height_px / 2 - view.focal_px * up / ahead - 0.5


def _on_plane(rays: np.ndarray, below_m: float) -> np.ndarray:
    """Where rays meet a level plane; rays near or above the horizon are held 4 km away."""
    return rays * np.minimum(below_m / np.maximum(-rays[..., 1:2], 1e-9), 4000.0)


def _edge_x(z_m):
    slope = (EDGE_FAR[0] - EDGE_NEAR[0]) / (EDGE_FAR[1] - EDGE_NEAR[1])
    return EDGE_NEAR[0] + slope * (z_m - EDGE_NEAR[1])


def quay_lamps(gamut: str, focal_px: float) -> list[Lamp]:
    """The row of sodium lamps on the quay, the nearest brightest in the picture."""
    sodium, slant = lamp_rgb("sodium", gamut), np.hypot(EDGE_FAR[0] - EDGE_NEAR[0], EDGE_FAR[1] - EDGE_NEAR[1])
    inward = POST_FROM_EDGE_M * slant / (EDGE_FAR[1] - EDGE_NEAR[1])
    lamps = []
    for i, z in enumerate(POSTS_AHEAD_M):
        place = (_edge_x(z) - inward, POST_HEIGHT_M - EYE_ABOVE_QUAY_M, z)
        lamps.append(Lamp(place, sodium, 20.0, 8.0 - 0.25 * i, max(0.085 / z * focal_px, 1.25)))
    return lamps


def unseen_lamp(gamut: str) -> Lamp:
    """One more lamp of the row, behind the camera: it lights the stones in front."""
    return Lamp((-1.2, POST_HEIGHT_M - EYE_ABOVE_QUAY_M, -6.5), lamp_rgb("sodium", gamut), 15.0, 0.0, 0.0)


def shore_lamps(gamut: str) -> list[Lamp]:
    """Lights of the far shore: mostly sodium, some mercury and two harbour lights."""
    random, lamps = np.random.default_rng(5), []
    sodium, mercury = lamp_rgb("sodium", gamut), lamp_rgb("mercury", gamut)
    for _ in range(34):
        z = random.uniform(700.0, 1500.0)
        right = z * (random.normal(0.62, 0.17) if random.random() < 0.6 else random.uniform(-0.42, 0.98))
        colour = sodium if random.random() < 0.8 else mercury
        level = random.uniform(2.2, 5.6)
        place = (right, random.uniform(2.0, 14.0) - EYE_ABOVE_WATER_M, z)
        lamps.append(Lamp(place, colour, 900.0 * 2.0 ** (level - 4.0), level, random.uniform(0.7, 1.15)))
    red = lamp_rgb("incandescent", gamut) * np.array([1.6, 0.12, 0.05])
    lamps.append(Lamp((-95.0, 3.0, 420.0), red, 420.0, 5.2, 1.2))
    lamps.append(Lamp((330.0, 3.0, 420.0), ferry.lamp_colour("green", gamut), 420.0, 5.0, 1.2))
    return lamps


def ferry_lamps(gamut: str, left_px: int, water_row: int, px_per_m: float) -> list[Lamp]:
    """The ferry's own lamps as point lights for the water, shown where the drawing has them."""
    out = []
    for x, y, kind, level, radius in ferry.LAMPS:
        place = (FERRY_STERN_RIGHT_M + x, y - EYE_ABOVE_WATER_M, FERRY_AHEAD_M)
        radius_px = max(radius * px_per_m, 1.25)
        out.append(Lamp(place, ferry.lamp_colour(kind, gamut), 14.0 * 2.0 ** (level - 7.5), level, radius_px,
                        (left_px + x * px_per_m, water_row - y * px_per_m)))
    return out


def _received(place: np.ndarray, lamps: list[Lamp]) -> np.ndarray:
    """Light that level ground receives from lamps, (h, w, 3); 1 is what makes white paper record as 1."""
    total = np.zeros(place.shape)
    for lamp in lamps:
        to = np.array(lamp.place_m) - place
        squared = (to**2).sum(axis=-1)
        cosine = np.maximum(to[..., 1], 0.0) / np.sqrt(squared)
        total += (lamp.intensity * cosine / squared)[..., None] * lamp.rgb
    return total


def _glitter(place, slope_x, slope_z, spread, lamps) -> np.ndarray:
    """Light mirrored to the eye by a rough level surface (Cox & Munk's geometry, isotropic slopes), (h, w, 3)."""
    to_eye = -place / np.linalg.norm(place, axis=-1, keepdims=True)
    total = np.zeros(place.shape)
    for lamp in lamps:
        to = np.array(lamp.place_m) - place
        distance = np.linalg.norm(to, axis=-1, keepdims=True)
        to = to / distance
        half = to + to_eye
        half /= np.linalg.norm(half, axis=-1, keepdims=True)
        up = np.maximum(half[..., 1], 1e-3)
        dx, dz = -half[..., 0] / up - slope_x, -half[..., 2] / up - slope_z
        chance = np.exp(-(dx**2 + dz**2) / (2 * spread**2)) / (2 * np.pi * spread**2)
        fresnel = 0.02 + 0.98 * (1.0 - np.clip((half * to_eye).sum(axis=-1), 0.0, 1.0)) ** 5
        grazing = np.maximum(to_eye[..., 1], 0.02)
        mirrored = fresnel * np.pi * chance / (4.0 * grazing * up**4) / distance[..., 0] ** 2
        total += (lamp.intensity * mirrored)[..., None] * lamp.rgb
    return total


def _discs(picture: np.ndarray, view: View, lamps: list[Lamp]) -> np.ndarray:
    """Lamps as small bright discs with a one-pixel edge, laid over the picture."""
    rows, columns = np.mgrid[0 : view.height_px, 0 : view.width_px]
    out = picture.copy()
    for lamp in lamps:
        cx, cy = lamp.shown_px or _to_px(view, lamp.place_m)
        share = np.clip(lamp.radius_px + 0.5 - np.hypot(columns - cx, rows - cy), 0.0, 1.0)[..., None]
        out = out * (1 - share) + share * lamp.rgb * stops(lamp.shown_stops)
    return out


def _posts(view: View, lamps: list[Lamp]) -> np.ndarray:
    """Cover 0..1 of the lamp posts and their brackets, (h, w, 1)."""
    rows, columns = np.mgrid[0 : view.height_px, 0 : view.width_px]
    cover = np.zeros(rows.shape)
    for lamp in lamps:
        x, y, z = lamp.place_m
        cx, top = _to_px(view, (x, y + 0.16, z))
        _, foot = _to_px(view, (x, -EYE_ABOVE_QUAY_M, z))
        thick = max(0.036 / z * view.focal_px, 0.35)
        base = np.clip((rows - (foot - 0.16 * (foot - top))) / 6.0, 0.0, 1.0) * thick * 0.9
        side = np.clip(thick + base + 0.5 - np.abs(columns - cx), 0.0, 1.0)
        cover = np.maximum(cover, side * ((rows > top) & (rows < foot)) * min(1.0, thick / 0.5))
    return cover[..., None]


def _over(picture: np.ndarray, drawing: ferry.Drawing, left: int, water_row: int) -> tuple[np.ndarray, np.ndarray]:
    """The drawing laid on the picture with its waterline on a row; also its cover over the whole picture."""
    light, cover = ferry.lower(drawing.light * drawing.cover), ferry.lower(drawing.cover)
    out, whole = picture.copy(), np.zeros(picture.shape[:2] + (1,))
    h, w = cover.shape[:2]
    box = (slice(water_row - h, water_row), slice(left, left + w))
    out[box] = out[box] * (1 - cover) + light
    whole[box] = cover
    return out, whole


def compose(evening_lin: np.ndarray, view: View, gamut: str) -> np.ndarray:
    """Evening photograph (h, w, 3) in a camera gamut, grey at 0.18 -> the night frame, same shape."""
    rays = _level_rays(view)
    ground, sea = _on_plane(rays, EYE_ABOVE_QUAY_M), _on_plane(rays, EYE_ABOVE_WATER_M)
    grey = evening_lin.mean(axis=-1)
    below = rays[..., 1] < -0.0005
    inland = _edge_x(ground[..., 2]) - ground[..., 0]
    per_px = np.maximum(np.abs(np.gradient(inland, axis=1)), 1e-4)
    quay = (np.clip(inland / per_px + 0.5, 0, 1) * below)[..., None]
    water = (1.0 - quay) * below[..., None]
    # Things that stand on land against sky or sea: darker than the evening's smooth sky above the horizon.
    elevation = np.degrees(np.arcsin(rays[..., 1]))
    smooth_sky = np.median(grey[elevation > 4.0])
    standing = np.clip((0.62 * smooth_sky - grey) / (0.2 * smooth_sky), 0, 1) * ~below * (elevation < 9)
    standing = gaussian_filter(standing, 0.6)[..., None]

    px_per_m = view.focal_px / FERRY_AHEAD_M
    left_px, water_row = (round(v) for v in _to_px(view, (FERRY_STERN_RIGHT_M, -EYE_ABOVE_WATER_M, FERRY_AHEAD_M)))
    lamps, far = quay_lamps(gamut, view.focal_px), shore_lamps(gamut)
    afloat = ferry_lamps(gamut, left_px, water_row, px_per_m)
    night_blue = np.array([0.62, 0.92, 1.45])
    ambient = 2.0**-4.1 * night_blue
    reflectance = evening_lin * 1.15
    on_quay = reflectance * (ambient + _received(ground, lamps + [unseen_lamp(gamut)]))
    # Trees and people far along the quay: lit as upright things near the row of lamps.
    upright_at = np.stack([rays[..., 0] / rays[..., 2] * 40.0, rays[..., 1] * 40.0, np.full(grey.shape, 40.0)], -1)
    glow = sum(
        (1.6 / (1.0 + ((upright_at[..., :2] - np.array(l.place_m)[:2] * 40.0 / l.place_m[2]) ** 2).sum(-1) / 6.0))[
            ..., None
        ]
        * l.rgb
        for l in lamps[2:]
    )
    on_upright = np.minimum(reflectance, 0.07) * (ambient + 0.5 * glow)

    up = np.clip(elevation, 0.0, 30.0)[..., None] / 30.0
    across = (np.arange(view.width_px) / view.width_px)[None, :, None]
    town_glow = (np.exp(-up * 9.0) * (0.5 + 0.8 * (1 - across))) * 0.9
    sky = stops(NIGHT_SKY_STOPS) * ((1.25 - 0.75 * up) * night_blue + town_glow * lamp_rgb("sodium", gamut))
    texture = np.exp2(np.clip(np.log2(grey + 1e-3) - gaussian_filter(np.log2(grey + 1e-3), 25), -0.3, 0.3))[..., None]
    # A low far shore: dark land a fraction of a degree high, uneven.
    bearing = np.degrees(np.arctan2(rays[..., 0], rays[..., 2]))
    hills = 0.55 + 0.28 * np.sin(bearing * 0.31 + 1.0) + 0.16 * np.sin(bearing * 0.83) + 0.07 * np.sin(bearing * 2.9)
    land = np.clip((hills - elevation) * 12.0 + 0.5, 0, 1)[..., None]
    sky = sky * texture * (1 - 0.72 * land)
    picture = np.where(below[..., None], 0.0, sky * (1 - standing) + on_upright * standing)
    picture = picture + quay * on_quay

    drawing = ferry.draw(px_per_m, ambient * 1.2, gamut)
    picture = _discs(picture, view, far)
    picture, boat = _over(picture, drawing, left_px, water_row)

    detail = np.log2(grey + 1e-3) - gaussian_filter(np.log2(grey + 1e-3), (9, 14))
    detail = gaussian_filter(detail, 0.7) / max(detail[water[..., 0] > 0.9].std(), 1e-6)
    sky_mirror = stops(NIGHT_SKY_STOPS) * 0.4 * np.exp2(np.clip(0.8 * detail, -2, 2))[..., None] * night_blue
    mirrored = _mirror(picture * boat, water_row, detail)
    sparkle = _glitter(sea, 0.012 * detail, 0.05 * detail, 0.055, far + afloat)
    fresnel = 0.02 + 0.98 * (1.0 + rays[..., 1:2]) ** 5
    picture = picture + water * (1 - boat) * (sky_mirror * fresnel + mirrored * fresnel + 0.5 * sparkle)

    stone = np.log2(grey + 1e-3) - gaussian_filter(np.log2(grey + 1e-3), 5)
    stone = np.clip(stone, -0.5, 0.5)
    wet = _glitter(ground, 0.06 * stone, 0.10 * stone, 0.14, lamps)
    pale = np.clip(grey / 0.15, 0.0, 1.0)[..., None] ** 2
    picture = picture + quay * pale * 0.10 * wet
    posts = _posts(view, lamps)
    picture = picture * (1 - posts) + posts * 0.05 * (ambient + 0.25 * lamps[0].rgb)
    picture = np.stack([gaussian_filter(picture[..., c], 0.55) for c in range(3)], axis=-1)
    return _discs(_discs(picture, view, afloat), view, lamps)


def _mirror(picture: np.ndarray, water_row: int, detail: np.ndarray) -> np.ndarray:
    """What stands above a row, mirrored below it, broken by waves and drawn out more the nearer it comes."""
    height = picture.shape[0]
    rows, columns = np.mgrid[0:height, 0 : picture.shape[1]]
    depth = np.maximum(rows - water_row, 0)
    total = np.zeros(picture.shape)
    for stretch, share in ((1.0, 0.4), (1.8, 0.3), (3.2, 0.3)):
        blurred = gaussian_filter(picture, (3.0 * stretch, 1.2 * stretch, 0))
        source = np.clip(water_row - 1 - (depth / stretch + detail * (0.6 + 0.11 * depth)), 0, height - 1).astype(int)
        total += share * blurred[source, columns]
    return total * (depth > 0)[..., None]
