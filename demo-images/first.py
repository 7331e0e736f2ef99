"""Makes `first.jpg`: what a first visit shows until the page has a picture of its own."""

import subprocess
import tempfile
from pathlib import Path

from PIL import Image

HERE = Path(__file__).parent
LOOK = HERE.parent / "web/looks/kitchen-window.json"
PROGRAM = HERE.parent / "target/release/lookwright"

with tempfile.TemporaryDirectory() as folder:
    rendered = Path(folder) / "first.png"
    subprocess.run([PROGRAM, "render", LOOK, HERE / "window-box.jpg", "-o", rendered], check=True)
    small = Image.open(rendered).convert("RGB").resize((960, 640), Image.Resampling.LANCZOS)
    small.save(HERE / "first.jpg", quality=72, optimize=True, progressive=True)
