"""Writes tables.json: what OpenColorIO makes of the table files in ../data/tables.

Those are the legal ones of its own tests (ocio/legal) and those that this project wrote (written).

For each file, the values of its forward transform at a fixed list of inputs inside and outside
0 ... 1, in 32-bit float, without optimisation. A file of several corrections (.ccc, .cdl) stands
for its first. Run:

    python -m venv .venv && .venv/bin/pip install -r requirements.txt
    .venv/bin/python tables.py
"""

import json
import pathlib

import PyOpenColorIO as ocio

HERE = pathlib.Path(__file__).parent
TABLES = HERE.parent / "data" / "tables"
FOLDERS = {"files": TABLES / "ocio" / "legal", "written": TABLES / "written"}

ocio.SetLoggingLevel(ocio.LOGGING_LEVEL_NONE)  # It warns of what the files do on purpose.

INPUTS = [
    [0.0, 0.0, 0.0],
    [1.0, 1.0, 1.0],
    [0.18, 0.18, 0.18],
    [0.2, 0.5, 0.9],
    [0.9, 0.5, 0.2],
    [0.5, 0.0, 0.5],
    [0.003, 0.01, 0.03],
    [0.7, 0.7, 0.1],
    [0.999, 0.25, 0.6],
    [1.5, 0.4, -0.1],
    [-0.5, 2.0, 8.0],
    [-0.02, -0.001, 9.0],
]


def values(path):
    ocio.ClearAllCaches()
    config = ocio.Config.CreateRaw()
    transform = ocio.FileTransform(src=str(path))
    # These do not say how they are read between nodes; tetrahedra are this project's choice.
    if path.suffix in {".cube", ".csp", ".spi3d"}:
        transform.setInterpolation(ocio.INTERP_TETRAHEDRAL)
    # A CDL file does not say whether it clamps; the ASC's own formula does.
    transform.setCDLStyle(ocio.CDL_ASC)
    processor = config.getProcessor(transform)
    cpu = processor.getOptimizedCPUProcessor(ocio.OPTIMIZATION_NONE)
    return [[float(v) for v in cpu.applyRGB(rgb)] for rgb in INPUTS]


def document():
    made = {"opencolorio": ocio.__version__, "inputs": INPUTS}
    for key, folder in FOLDERS.items():
        made[key] = {path.name: values(path) for path in sorted(folder.iterdir())}
    return made


if __name__ == "__main__":
    target = HERE / "tables.json"
    target.write_text(json.dumps(document(), indent=1) + "\n", encoding="utf-8")
    print(f"wrote {target}")
