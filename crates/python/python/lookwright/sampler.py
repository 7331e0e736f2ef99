"""Looks drawn at random, for data sets."""

from __future__ import annotations

import json
from collections.abc import Iterator

import numpy as np

from .look import CONTROLS, Look

_BALANCES = ("lamp", "day")
_SPEEDS = (50, 100, 200, 400, 800)


class Sampler(Iterator[Look]):
    """Draws looks at random, without end: the same seed gives the same looks.

    spread: how far from its default a number is drawn at most, 0 to 1 of the way to its limit.
    kept: the chance that a number stays as the look begins with it, 0 to 1.

    The stock's balance and speed and all seeds are drawn as well; steps are on or
    off as a new look has them. Raises ValueError for a spread or a chance outside 0 to 1.
    """

    def __init__(self, seed: int, spread: float = 0.15, kept: float = 0.5) -> None:
        for name, share in (("spread", spread), ("kept", kept)):
            if not 0 <= share <= 1:
                raise ValueError(f"{name} is {share}: it is a share, 0 to 1")
        self._random = np.random.Generator(np.random.PCG64(seed))
        self._spread, self._kept = spread, kept

    def __iter__(self) -> Sampler:
        return self

    def __next__(self) -> Look:
        random = self._random
        stock = f"{random.choice(_BALANCES)}-{random.choice(_SPEEDS)}"
        content = json.loads(Look.new(stock).json())
        for (stage, step, name), control in sorted(CONTROLS.items()):
            if control["kind"] != "number" or (stage, step) == ("negative", "stock"):
                continue
            # Both are drawn for every number, so that a new control changes only what follows it.
            chance, place = random.random(), random.uniform(-1, 1)
            if name == "seed":
                value = round(control["min"] + abs(place) * (control["max"] - control["min"]))
            elif chance < self._kept:
                continue
            else:
                usual = content.get(stage, {}).get(step, {}).get(name, control["default"])
                limit = control["max"] if place > 0 else control["min"]
                value = usual + abs(place) * self._spread * (limit - usual)
                value = round(value) if control["whole"] else float(f"{value:.6g}")
            content.setdefault(stage, {}).setdefault(step, {})[name] = value
        return Look(json.dumps(content))
