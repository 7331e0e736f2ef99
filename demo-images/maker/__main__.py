"""Makes the frames and frames.json, or checks that what lies here is what would be made."""

import argparse
import hashlib
import json
import sys
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image

from .encode import read_png16
from .frames import FIRST, FRAMES, Frame, Kit

# Another processor may round the network's sums, or a power, the other way. In 16-bit codes for the log frames
# (16 is one 12-bit step) and 8-bit codes for the JPEG files: the mean difference that is still the same frame.
SAME_MEAN_16, SAME_MEAN_8 = 8.0, 0.05


def entry(frame: Frame, path: Path) -> dict:
    """What frames.json says of a finished frame."""
    with Image.open(path) as picture:
        width, height = picture.size
    return {
        "id": frame.id,
        "title": frame.title,
        "file": frame.file,
        "encoding": frame.encoding,
        "range": "full",
        "width": width,
        "height": height,
        "depth": 16 if path.suffix == ".png" else 8,
        "trim": {"exposure_stops": frame.exposure_stops},
        "scene_light_k": frame.scene_light_k,
        "good_for": list(frame.good_for),
        "credit": frame.credit,
        "licence": frame.licence,
        "source": {"package": frame.package.label, "file": frame.source_file},
        "changed": frame.changed,
        "bytes": path.stat().st_size,
        "sha256": hashlib.sha256(path.read_bytes()).hexdigest(),
    }


def write_list(folder: Path) -> None:
    frames = [entry(frame, folder / frame.file) for frame in FRAMES]
    text = json.dumps({"town": "Saltmarket", "first": FIRST, "frames": frames}, indent=2, ensure_ascii=False)
    (folder / "frames.json").write_text(text + "\n", encoding="utf-8")


def _pixels(path: Path) -> np.ndarray:
    if path.suffix == ".png":
        return read_png16(path).astype(np.float64)
    with Image.open(path) as picture:
        return np.asarray(picture.convert("RGB"), dtype=np.float64)


def check(frame: Frame, listed: dict, kept: Path, made: Path) -> str | None:
    """Compare a frame made again with the one that lies here; returns what is wrong, in one sentence."""
    if not kept.exists():
        return f"{frame.file} is missing."
    if hashlib.sha256(kept.read_bytes()).hexdigest() != listed.get(frame.id, {}).get("sha256"):
        return f"{frame.file} is not the file that frames.json lists."
    if kept.read_bytes() == made.read_bytes():
        print(f"{frame.file}: the same bytes")
        return None
    a, b = _pixels(kept), _pixels(made)
    if a.shape != b.shape:
        return f"{frame.file} has another size than the one made again."
    mean = np.abs(a - b).mean()
    if mean > (SAME_MEAN_16 if kept.suffix == ".png" else SAME_MEAN_8):
        return f"{frame.file} differs from the one made again by {mean:.3f} codes on average."
    print(f"{frame.file}: other bytes, the same picture (mean difference {mean:.4f} codes)")
    return None


def main() -> None:
    parser = argparse.ArgumentParser(prog="make.py", description=__doc__)
    parser.add_argument("--check", action="store_true", help="make into a temporary folder and compare")
    parser.add_argument("--only", metavar="ID", help="one frame instead of all")
    parser.add_argument("--cache", type=Path, required=True, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    here = Path(__file__).resolve().parents[1]
    frames = [frame for frame in FRAMES if asked.only in (None, frame.id)]
    if not frames:
        sys.exit(f"No frame is called {asked.only}: choose from {', '.join(frame.id for frame in FRAMES)}.")
    kit, wrong = Kit(asked.cache), []
    with tempfile.TemporaryDirectory() as temporary:
        listed = json.loads((here / "frames.json").read_text("utf-8")) if asked.check else {"frames": []}
        by_id = {item["id"]: item for item in listed["frames"]}
        for frame in frames:
            made = Path(temporary) / frame.file
            frame.make(kit, made)
            if asked.check:
                wrong.append(check(frame, by_id, here / frame.file, made))
            else:
                (here / frame.file).write_bytes(made.read_bytes())
                print(f"{frame.file}: {made.stat().st_size / 1e6:.2f} MB", flush=True)
    if not asked.check:
        write_list(here)
    sys.exit("\n".join(filter(None, wrong)) or None)


main()
