"""Enlarging four times with a trained network, held to the measured light of the source.

The panoramas have under three pixels to a degree, so an ordinary view of one is soft. The network adds likely
detail; what it makes is then corrected by the smoothed difference to the source. So the light of every small
area is the photograph's, and only the detail inside it is invented.
"""

from pathlib import Path

import ncnn
import numpy as np
from PIL import Image
from scipy.ndimage import gaussian_filter

FACTOR = 4
# Range of log2 light that is laid on the network's 0..1; light outside it is enlarged plainly and added.
LOW_LOG2, HIGH_LOG2 = -8.5, 3.0
TILE_PX, OVERLAP_PX = 160, 12
# Blur, in source pixels, of the correction towards the source: finer than this the network decides.
KEPT_SCALE_PX = 1.5


class Enlarger:
    """A network read once. The shares, 0..1, mix its detail into a plain cubic enlargement."""

    def __init__(self, folder: Path, share: float = 0.9, colour_share: float = 0.4):
        self.net = ncnn.Net()
        self.net.opt.use_vulkan_compute = False
        self.net.opt.use_fp16_packed = False
        self.net.opt.use_fp16_storage = False
        self.net.opt.use_fp16_arithmetic = False
        self.net.load_param(str(folder / "realesrgan-x4plus.param"))
        self.net.load_model(str(folder / "realesrgan-x4plus.bin"))
        self.share, self.colour_share = share, colour_share

    def _run(self, code: np.ndarray) -> np.ndarray:
        """(h, w, 3) in 0..1 -> (4h, 4w, 3)."""
        # The network's matrix borrows the array's memory: the name keeps it alive while the network runs.
        planes = np.ascontiguousarray(code.transpose(2, 0, 1), dtype=np.float32)
        extractor = self.net.create_extractor()
        extractor.input("data", ncnn.Mat(planes))
        _, out = extractor.extract("output")
        return np.array(out).transpose(1, 2, 0).astype(np.float64)

    def _run_tiled(self, code: np.ndarray) -> np.ndarray:
        height, width = code.shape[:2]
        out = np.zeros((height * FACTOR, width * FACTOR, 3))
        padded = np.pad(code, ((OVERLAP_PX, OVERLAP_PX), (OVERLAP_PX, OVERLAP_PX), (0, 0)), mode="reflect")
        inner = OVERLAP_PX * FACTOR
        for y in range(0, height, TILE_PX):
            for x in range(0, width, TILE_PX):
                h, w = min(TILE_PX, height - y), min(TILE_PX, width - x)
                tile = self._run(padded[y : y + h + 2 * OVERLAP_PX, x : x + w + 2 * OVERLAP_PX])
                tile = tile[inner : inner + h * FACTOR, inner : inner + w * FACTOR]
                out[y * FACTOR : (y + h) * FACTOR, x * FACTOR : (x + w) * FACTOR] = tile
        return out

    def enlarge(self, light_log2: np.ndarray) -> np.ndarray:
        """log2 light (h, w, 3) -> (4h, 4w, 3) that keeps the source's light at a scale of a few source pixels."""
        inside = np.clip(light_log2, LOW_LOG2, HIGH_LOG2)
        code = (inside - LOW_LOG2) / (HIGH_LOG2 - LOW_LOG2)
        guess = self._run_tiled(code) * (HIGH_LOG2 - LOW_LOG2) + LOW_LOG2
        plain = _resize(inside)
        detail = guess - plain
        grey_detail = detail.mean(axis=-1, keepdims=True)
        out = plain + self.share * grey_detail + self.colour_share * (detail - grey_detail)
        drift = gaussian_filter(inside - _box_average(out), (KEPT_SCALE_PX, KEPT_SCALE_PX, 0.0), mode="nearest")
        glare = gaussian_filter(_resize(light_log2 - inside, Image.Resampling.BILINEAR), (2.0, 2.0, 0.0))
        return out + _resize(drift) + glare


def _resize(picture: np.ndarray, filter_kind=Image.Resampling.BICUBIC) -> np.ndarray:
    size = (picture.shape[1] * FACTOR, picture.shape[0] * FACTOR)
    planes = [Image.fromarray(picture[..., c].astype(np.float32)).resize(size, filter_kind) for c in range(3)]
    return np.stack([np.asarray(p, dtype=np.float64) for p in planes], axis=-1)


def _box_average(picture: np.ndarray) -> np.ndarray:
    h, w = picture.shape[0] // FACTOR, picture.shape[1] // FACTOR
    return picture.reshape(h, FACTOR, w, FACTOR, 3).mean(axis=(1, 3))
