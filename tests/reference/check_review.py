"""Reviews and answers, read by others' implementations of the standards that they are made of.

The files in tests/data/review are those of the first version. Checked is that

- an answer's message is base32 and its link base64url (RFC 4648, Python's base64), both deflated
  (RFC 1951, zlib), and both begin with the first 6 bytes of the SHA-256 (hashlib) of what they hold;
- what they hold is RFC 8785 JSON (the rfc8785 package), the same in both, and that of the file;
- the file's digest is the SHA-256 of its RFC 8785 JSON without the digest;
- the signature is ECDSA over P-256 with SHA-256 (FIPS 186-5, the cryptography package), and is none of
  an answer in which one letter differs;
- each look's fingerprint is the SHA-256 of the RFC 8785 JSON of the look, without name and note, and
  the model's version; and the answer names one that is in the review;
- the review's policy names its script and style by their SHA-256 (CSP level 3) and allows no request;
- the QR code of a review's link is read by ZXing as that link;
- the moving wipe is an animated WebP of so many pictures, for Pillow.
"""

import base64
import hashlib
import json
import pathlib
import re
import zlib

import rfc8785
import zxingcpp
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec, utils
from PIL import Image

DATA = pathlib.Path(__file__).parent.parent / "data/review"
CHECK = 6


def sha256(data: bytes) -> bytes:
    return hashlib.sha256(data).digest()


def unpacked(packed: bytes) -> bytes:
    text = zlib.decompress(packed[CHECK:], wbits=-15)
    assert packed[:CHECK] == sha256(text)[:CHECK], "the checksum"
    return text


def base64url(text: str) -> bytes:
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))


def letters(message: str) -> bytes:
    found = re.search(r"LOOKWRIGHT-ANSWER:([^.]*)\.", message).group(1)
    plain = re.sub(r"\s", "", found)
    return base64.b32decode(plain + "=" * (-len(plain) % 8))


def answers() -> dict:
    file = json.loads((DATA / "answer-1.answer.json").read_text())
    digest = file.pop("digest")
    assert digest == sha256(rfc8785.dumps(file)).hex(), "the file's digest"
    signature = file.pop("signature")
    canonical = rfc8785.dumps(file)
    message = unpacked(letters((DATA / "answer-1.message.txt").read_text()))
    link = (DATA / "answer-1.link.txt").read_text().strip().split("#answer=")[1]
    assert message == unpacked(base64url(link)) == canonical, "message, link and file"
    signed(signature, canonical)
    return file


def signed(signature: dict, text: bytes) -> None:
    assert signature["kind"] == "ES256"
    x, y = (int.from_bytes(base64url(signature[part])) for part in "xy")
    key = ec.EllipticCurvePublicNumbers(x, y, ec.SECP256R1()).public_key()
    value = base64url(signature["value"])
    r, s = int.from_bytes(value[:32]), int.from_bytes(value[32:])
    proof = utils.encode_dss_signature(r, s)
    key.verify(proof, text, ec.ECDSA(hashes.SHA256()))
    try:
        key.verify(proof, text.replace(b"B", b"A", 1), ec.ECDSA(hashes.SHA256()))
    except InvalidSignature:
        return
    raise AssertionError("a changed answer passes")


def review(answer: dict) -> None:
    page = (DATA / "review-1.html").read_text()
    data = json.loads(re.search(r'<script type="application/json" id="data">(.*?)</script>', page, re.S).group(1))
    assert answer["review"] == sha256(rfc8785.dumps(data)).hex(), "the review's id"
    for version in data["versions"]:
        pixels = {key: value for key, value in version["look"].items() if key not in ("name", "note")}
        text = rfc8785.dumps({"look": pixels, "model": data["model"]})
        assert version["fingerprint"] == sha256(text).hex(), version["letter"]
    named = {(it["letter"], it["fingerprint"]) for it in answer["versions"]}
    assert named <= {(it["letter"], it["fingerprint"]) for it in data["versions"]}, "the answer's looks"

    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', page).group(1)
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules["default-src"] == "'none'" and rules["img-src"] == "data: blob:", policy
    assert "connect-src" not in rules, policy
    for tag in ("script", "style"):
        text = re.search(rf"<{tag}>(.*?)</{tag}>", page, re.S).group(1)
        assert rules[f"{tag}-src"] == f"'sha256-{base64.b64encode(sha256(text.encode())).decode()}'", tag


def pictures() -> None:
    link = (DATA / "review-1.link.txt").read_text().strip()
    found = zxingcpp.read_barcodes(Image.open(DATA / "qr-1.png"))
    assert [it.text for it in found] == [link], found
    wipe = Image.open(DATA / "wipe-1.webp")
    assert (wipe.format, wipe.n_frames, wipe.info["loop"]) == ("WEBP", 6, 0)
    first = wipe.convert("RGB").resize((8, 8)).tobytes()
    wipe.seek(3)
    assert wipe.convert("RGB").resize((8, 8)).tobytes() != first, "nothing moves"


review(answers())
pictures()
print("answers, review, QR code and wipe are as their standards say")
