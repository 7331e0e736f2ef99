"""What is asked of tables and encodings."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from . import _core
from .renderer import CodeRange


def check(
    table: str | os.PathLike[str] | ArrayLike,
    screen: str | None = None,
    screen_range: CodeRange | None = None,
    encoding: str | None = None,
) -> dict[str, Any]:
    """Where a table will hurt: a file's path, or an array (B, G, R, 3) of codes with equal sides.

    `encoding` is what goes in, `screen` what the table is for; what is left out is taken from the file's
    header, else the screen is Rec.709 in full range. Gives what `lookwright check --json` prints. Raises ValueError for what is no table.
    """
    if screen_range not in ("full", "legal", None):
        raise ValueError(f'screen_range is "{screen_range}": it is "full" or "legal"')
    if isinstance(table, str | os.PathLike):
        path = Path(table)
        content, name = path.read_bytes(), path.name
    else:
        nodes = np.asarray(table, np.float32)
        grid = nodes.shape[0] if nodes.ndim else 0
        if nodes.shape != (grid, grid, grid, 3):
            raise ValueError(f"a table has the shape (B, G, R, 3) with equal sides, not {nodes.shape}")
        lines = "\n".join(" ".join(f"{value:.9g}" for value in node) for node in nodes.reshape(-1, 3))
        content, name = f"LUT_3D_SIZE {grid}\n{lines}\n".encode(), "table.cube"
    return json.loads(_core.check(content, name, encoding, screen, screen_range))


def decode(code: ArrayLike, encoding: str) -> NDArray[np.float32]:
    """Codes of an encoding, (..., 3) and full range, to linear light in AP1 (ACEScg), float32."""
    code = np.asarray(code, np.float32)
    if code.ndim < 1 or code.shape[-1] != 3:
        raise ValueError(f"codes have the shape (..., 3), not {code.shape}")
    light = np.empty(code.shape, np.float32)
    given = np.ascontiguousarray(code).reshape(-1).view(np.uint8)
    _core.decode(given, light.reshape(-1).view(np.uint8), encoding)
    return light


def encodings() -> list[str]:
    """The names of all encodings that pictures may have."""
    return _core.encodings()
