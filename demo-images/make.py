#!/usr/bin/env python3
"""Make the Saltmarket demo frames again, or check them: python3 demo-images/make.py [--check] [--only ID]

Sets up its own Python environment in target/demo-images, fetches the source pictures with apt-get and pip, and
writes the frames and frames.json into this folder. Needs Python 3.11 or newer, apt-get and dpkg (Debian 12).
"""

import hashlib
import os
import subprocess
import sys
import venv
from pathlib import Path

HERE = Path(__file__).resolve().parent
CACHE = HERE.parent / "target" / "demo-images"


def environment() -> Path:
    """The Python of an environment that holds exactly requirements.txt; set up when that has changed."""
    wanted = (HERE / "requirements.txt").read_bytes()
    folder = CACHE / f"python-{sys.version_info.major}.{sys.version_info.minor}-{hashlib.sha256(wanted).hexdigest()[:12]}"
    python, ready = folder / "bin" / "python", folder / "ready"
    if not ready.exists():
        venv.create(folder, with_pip=True, clear=True)
        subprocess.run([python, "-m", "pip", "-q", "install", "-r", HERE / "requirements.txt"], check=True)
        ready.touch()
    return python


def main() -> None:
    if sys.version_info < (3, 11):
        sys.exit("The demo frames need Python 3.11 or newer.")
    try:
        python = environment()
    except subprocess.CalledProcessError:
        sys.exit("The Python packages of demo-images/requirements.txt could not be installed: see pip's words above.")
    quiet = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1", "PYTHONWARNINGS": "ignore"}
    command = [python, "-m", "maker", "--cache", CACHE, *sys.argv[1:]]
    sys.exit(subprocess.run(command, cwd=HERE, env=quiet).returncode)


main()
