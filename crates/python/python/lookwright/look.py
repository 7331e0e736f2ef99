"""Looks: read, written, and set place by place."""

from __future__ import annotations

import json
import os
import secrets
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from . import _core

STAGES = ("lens", "negative", "scan", "print")


def catalogue() -> dict[str, Any]:
    """Every stage, step and control with its words, limits and default, as nested dicts and lists."""
    return json.loads(_core.catalogue())


def _steps() -> dict[tuple[str, str], dict[str, Any]]:
    return {
        (stage["id"], step["id"]): step
        for stage in catalogue()["stages"]
        if stage["id"] in STAGES
        for step in stage["steps"]
    }


STEPS = _steps()
CONTROLS = {
    (stage, name, control["id"]): control
    for (stage, name), step in STEPS.items()
    for control in step["controls"]
}


class Look:
    """A look. Its settings are read and set by place: `look["scan.contrast.slope"]`.

    A place is stage, step and control as in look files; besides its controls a step has `on` (a bool)
    and `amount` (0 to 2). What is set is checked at once: a ValueError says what is allowed, and the
    look stays as it was. A place that there is not is a KeyError.
    """

    def __init__(self, text: str) -> None:
        """Reads a look from its JSON. `notes` says what of an older version could not be kept.

        Raises ValueError for what is no look, or one with a setting outside its limits.
        """
        self._json, self.notes = _core.read_look(text)

    @classmethod
    def new(cls, stock: str = "evening") -> Look:
        """A starting look on a stock: such as evening, overcast, noon, or a balance and a speed ("day-64").

        Raises ValueError, which names the stocks and balances that there are.
        """
        return cls(_core.starting_look(stock))

    @classmethod
    def load(cls, path: str | os.PathLike[str]) -> Look:
        """Reads a look file. Raises OSError where there is none, ValueError for what is no look."""
        try:
            return cls(Path(path).read_text(encoding="utf-8"))
        except ValueError as error:
            raise ValueError(f"{os.fspath(path)}: {error}") from None

    def save(self, path: str | os.PathLike[str]) -> None:
        """Writes a look file, whole or not at all; one of that name is replaced."""
        path = Path(path)
        unfinished = path.with_name(f".{path.name}.{secrets.token_hex(8)}")
        try:
            unfinished.write_text(_core.pretty(self._json), encoding="utf-8", newline="\n")
            os.replace(unfinished, path)
        finally:
            unfinished.unlink(missing_ok=True)

    @property
    def name(self) -> str:
        """Its name, which is no part of its fingerprint."""
        return json.loads(self._json).get("name", "")

    @name.setter
    def name(self, name: str) -> None:
        self._change(lambda look: look.update(name=str(name)))

    @property
    def fingerprint(self) -> str:
        """64 hexadecimal digits that stand for its pixels."""
        return _core.fingerprint(self._json)

    def json(self) -> str:
        """Its canonical JSON."""
        return self._json

    def copy(self) -> Look:
        """Another look with the same settings."""
        return Look(self._json)

    def __getitem__(self, place: str) -> Any:
        stage, step, control = _parts(place)
        there = json.loads(self._json).get(stage, {}).get(step, {})
        if control in there:
            return there[control]
        if control == "on":
            return STEPS[stage, step]["on"]
        return 1.0 if control == "amount" else CONTROLS[stage, step, control]["default"]

    def __setitem__(self, place: str, value: Any) -> None:
        stage, step, control = _parts(place)
        value = value.tolist() if isinstance(value, np.generic | np.ndarray) else value

        def change(look: dict[str, Any]) -> None:
            look.setdefault(stage, {}).setdefault(step, {})[control] = value

        self._change(change)

    def _change(self, change: Callable[[dict[str, Any]], None]) -> None:
        look = json.loads(self._json)
        change(look)
        self._json, _ = _core.read_look(json.dumps(look))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Look) and self._json == other._json

    # It can be changed, so it stands in no set.
    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        return f"<Look {self.name!r} {self.fingerprint[:12]}>"


def _parts(place: str) -> tuple[str, str, str]:
    stage, step, control = [*str(place).split("."), "", ""][:3]
    known = (stage, step, control) in CONTROLS or (
        (stage, step) in STEPS and control in ("on", "amount")
    )
    if not known or str(place).count(".") != 2:
        raise KeyError(f'{place}: there is no such setting; a place is such as "scan.contrast.slope"')
    return stage, step, control
