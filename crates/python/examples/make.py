"""Makes looks.ipynb from the cells below: a notebook without results, which tests execute.

    python make.py
"""

import json
from pathlib import Path

CELLS = [
    ("markdown", "# Looks in a notebook\n\nA grey ramp and a few colours through a look, at every stage, and "
     "what other looks make of them."),
    ("code", "import matplotlib.pyplot as plt\nimport numpy as np\n\nimport lookwright as lw\n\n"
     "look = lw.Look.new(\"overcast\")\nlook[\"scan.contrast.slope\"] = 1.5\nlook"),
    ("code", "# A ramp of log codes, and three colours under it.\n"
     "ramp = np.linspace(0.1, 0.8, 480, dtype=np.float32)\n"
     "rows = [np.stack([ramp * r, ramp * g, ramp * b], -1) for r, g, b in\n"
     "        [(1, 1, 1), (1, 0.9, 0.8), (0.8, 1, 0.9), (0.85, 0.9, 1)]]\n"
     "code = np.repeat(np.stack(rows), 60, axis=0)\nrender = lw.Renderer(look, source=\"logc3\")\n"
     "picture = render(code, frame=1001)\nassert picture.shape == code.shape"),
    ("code", "figure, axes = plt.subplots(2, 1, figsize=(8, 6))\naxes[0].imshow(picture.clip(0, 1))\n"
     "axes[0].set_axis_off()\n"
     "for stage in [\"negative\", \"scan\", \"screen\"]:\n"
     "    values = render(code[:1], stage=stage, texture=False)[0]\n"
     "    axes[1].plot(ramp, values[:, 1], label=stage)\n"
     "axes[1].set_xlabel(\"LogC3 code\")\naxes[1].set_ylabel(\"green, in the stage's own unit\")\n"
     "axes[1].legend()\nplt.show()"),
    ("code", "# Eight looks that were drawn at random: the same seed draws the same.\n"
     "looks = [drawn for drawn, _ in zip(lw.Sampler(seed=7), range(8))]\n"
     "figure, axes = plt.subplots(2, 4, figsize=(10, 5))\n"
     "for axis, drawn in zip(axes.flat, looks):\n"
     "    axis.imshow(lw.Renderer(drawn, source=\"logc3\")(code, frame=1).clip(0, 1))\n"
     "    axis.set_axis_off()\nplt.show()"),
]

cells = []
for number, (kind, source) in enumerate(CELLS):
    cell = {"cell_type": kind, "id": f"cell-{number}", "metadata": {}, "source": source.splitlines(True)}
    if kind == "code":
        cell |= {"execution_count": None, "outputs": []}
    cells.append(cell)
notebook = {
    "cells": cells,
    "metadata": {"kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"}},
    "nbformat": 4,
    "nbformat_minor": 5,
}
Path(__file__).with_name("looks.ipynb").write_text(json.dumps(notebook, indent=1) + "\n")
