"""A look on pictures of one encoding, for one screen."""

from __future__ import annotations

import json
import operator
from collections.abc import Sequence
from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike, DTypeLike, NDArray

from . import _core
from .look import Look

Stage = Literal["intake", "lens", "negative", "scan", "print", "screen"]
CodeRange = Literal["full", "legal"]
SourceRange = Literal["full", "legal", "expanded"]

# What the core writes for a dtype; halves are rounded from floats.
_SORTS = {"uint8": "rgb8", "uint16": "rgb16", "float16": "rgbf32", "float32": "rgbf32"}
_NUMBERS = 2**32


class Renderer:
    """A look on pictures of one encoding, for one screen.

    source: the encoding of the pictures (`lookwright.encodings()`). Film scans ("film-scan", "adx10",
        "adx16") enter at the scan, so the look's lens and texture don't act on them.
    range: of their codes, "full", "legal", or "expanded" for legal codes that a decoder stretched.
    screen: "rec709", "srgb", "display-p3" or "rec2020"; for theatres "p3-d65-theatre",
        "p3-dci-theatre" or "dcdm-xyz"; for high dynamic range "pq-600", "pq-1000", "pq-2000",
        "pq-4000" or "hlg-1000".
    screen_range: of the codes that come out, "full" or "legal".
    exposure: the frame's, in stops, -6 to 6.
    kelvin, tint: the frame's light, as the command line's `--kelvin` and `--tint`.
    shot: a shot's name; its grain and dust are then those that the command line gives to
        "shot.1001.exr" and its other frames. Without it they are the look's own (`--seed look`).

    Later changes of the look don't reach a renderer. One renderer may serve many threads.
    """

    def __init__(
        self,
        look: Look,
        source: str,
        range: SourceRange = "full",
        screen: str = "rec709",
        *,
        screen_range: CodeRange = "full",
        exposure: float = 0.0,
        kelvin: float | None = None,
        tint: float | None = None,
        shot: str | None = None,
    ) -> None:
        trim = {"exposure": exposure, "kelvin": kelvin, "tint": tint}
        trim = {name: float(value) for name, value in trim.items() if value is not None}
        frame = {"source": {"encoding": source, "range": range}, "trim": trim}
        delivery = {"display": {"screen": screen, "range": screen_range}}
        self._settings = _core.Settings(
            look.json(), json.dumps(frame), json.dumps(delivery), shot
        )

    def __call__(
        self,
        image: ArrayLike,
        frame: int = 0,
        seed: int | None = None,
        stage: Stage = "screen",
        texture: bool = True,
        dtype: DTypeLike | None = None,
    ) -> NDArray[Any]:
        """Renders pictures of shape (..., H, W, 3); gives an array of the same shape.

        frame: the number that grain, dust, weave and flicker follow, 0 to 4294967295; several pictures have this and
            the next ones, in the order of the array.
        seed: of grain and dust, 0 to 999999; see `shot` if None.
        stage: whose numbers come out, in that stage's unit (`trace` names it): scene light, density,
            code 0 to 1. All but the screen's need floats.
        texture: False leaves out all that spreads or moves light or lies on the film, grain too.
        dtype: of the result; that of `image` if None. Codes of 8 bits are dithered, of 16 rounded.

        A picture is rendered on one core, without the interpreter's lock: call it from several threads
        to use more. Raises ValueError for any other shape, dtype, number or stage, TypeError for a number
        that is not whole.
        """
        image = np.asarray(image)
        if image.ndim < 3 or image.shape[-1] != 3 or 0 in image.shape:
            raise ValueError(f"an image has the shape (..., height, width, 3), not {image.shape}")
        if image.dtype.name not in _SORTS:
            raise ValueError(f"an image is of uint8, uint16, float16 or float32, not {image.dtype}")
        wanted = np.dtype(image.dtype if dtype is None else dtype)
        sort = _SORTS.get(wanted.name)
        if sort is None:
            raise ValueError(f"a result is of uint8, uint16, float16 or float32, not {wanted}")
        if stage != "screen" and wanted.kind != "f":
            raise ValueError(f'the {stage} stage is no screen code: ask for it with dtype="float32"')
        height, width = image.shape[-3:-1]
        pictures = image.reshape(-1, height, width, 3)
        frame = operator.index(frame)
        seed = None if seed is None else operator.index(seed)
        if not 0 <= frame <= _NUMBERS - len(pictures):
            raise ValueError(f"frame {frame}: a frame's number is 0 to {_NUMBERS - len(pictures)} here")
        if seed is not None and not 0 <= seed < _core.SEEDS:
            raise ValueError(f"seed {seed}: a seed is 0 to {_core.SEEDS - 1}")
        # The core's numbers have their low byte first.
        pictures = pictures.astype(pictures.dtype.newbyteorder("<"), copy=False)
        made = np.dtype("<f4") if wanted.name == "float16" else wanted.newbyteorder("<")
        result = np.empty(pictures.shape, made)
        for place, picture in enumerate(pictures):
            if picture.dtype.name == "float16":
                picture = picture.astype("<f4")
            self._settings.render(
                np.ascontiguousarray(picture).reshape(-1).view(np.uint8),
                result[place].reshape(-1).view(np.uint8),
                (width, height),
                8 * picture.dtype.itemsize,
                sort,
                stage,
                bool(texture),
                frame + place,
                seed,
            )
        return result.reshape(image.shape).astype(wanted, copy=False)

    def table(self, grid: int = 33) -> NDArray[np.float32]:
        """The look's table part on a lattice: an array (B, G, R, 3) of codes, `grid` points a side.

        It is fitted to be read by tetrahedra: exact for greys, and elsewhere near the look. What
        texture and lens do between pixels is not in it. Raises ValueError for a grid that tables
        can't have.
        """
        # What is no size at all is told by the core, too.
        nodes = np.frombuffer(self._settings.table(min(max(operator.index(grid), 0), 2**16)), "<f4")
        return nodes.reshape(grid, grid, grid, 3).copy()

    def trace(self, code: Sequence[float]) -> list[dict[str, Any]]:
        """Three codes at every stage: a list of dicts with `name`, `unit` and `values`."""
        red, green, blue = (float(value) for value in code)
        points = self._settings.trace((red, green, blue))
        return [{"name": name, "unit": unit, "values": tuple(values)} for name, unit, values in points]
