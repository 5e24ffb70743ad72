"""Picture files made for the tests, sound and nasty ones, and a reading of what was published of them."""

from __future__ import annotations

import hashlib
import struct
from io import BytesIO
from pathlib import Path

import numpy as np
import pillow_heif
from PIL import Image, ImageCms, PngImagePlugin, TiffImagePlugin

from dossier.model.picture import Mask, Rendition
from dossier.publish.pictures.make import PictureRun, make_renditions
from dossier.publish.pictures.recipe import PictureRequest

pillow_heif.register_heif_opener()

RED, GREEN, BLUE, WHITE = (230, 20, 20), (20, 200, 20), (20, 20, 220), (245, 245, 245)
CANARY = "CANARY-Quillfeather-7731"
"""A word written into every kind of metadata; it must never be seen again."""


def quadrants(width: int = 640, height: int = 400) -> np.ndarray:
    """Upper left red, upper right green, lower left blue, lower right white, as an array of rows."""
    rows = np.zeros((height, width, 3), np.uint8)
    rows[: height // 2, : width // 2], rows[: height // 2, width // 2 :] = RED, GREEN
    rows[height // 2 :, : width // 2], rows[height // 2 :, width // 2 :] = BLUE, WHITE
    return rows


def detail(width: int, height: int, seed: int = 1) -> np.ndarray:
    """Something like a photograph: smooth shades, edges and some grain."""
    random = np.random.default_rng(seed)
    y, x = np.mgrid[0:height, 0:width].astype(np.float32)
    waves = [np.sin(x / (17 + 9 * k + seed)) * np.cos(y / (23 + 5 * k)) for k in range(3)]
    rows = np.stack(waves, -1) * 80 + 128 + random.normal(0, 6, (height, width, 1))
    return rows.clip(0, 255).astype(np.uint8)


def scene(seed: int, width: int = 900, height: int = 600) -> np.ndarray:
    """Large things of many greys before a shaded ground, as a machine in a workshop is; another seed is another scene."""
    random = np.random.default_rng(seed)
    y, x = np.mgrid[0:height, 0:width]
    grey = 90 + 80 * x / width + 40 * y / height
    for _ in range(14):
        cx, cy, rx, ry = random.uniform((0, 0, 30, 30), (width, height, width / 5, height / 4))
        grey[((x - cx) / rx) ** 2 + ((y - cy) / ry) ** 2 < 1] = random.uniform(10, 245)
    grain = random.normal(0, 3, grey.shape)
    return np.stack([grey + grain] * 3, -1).clip(0, 255).astype(np.uint8)


def exif(orientation: int | None = None, **text: str) -> Image.Exif:
    """EXIF with what a telephone writes: camera, dates, serial number, position, a maker's note, an embedded word."""
    tags = Image.Exif()
    if orientation is not None:
        tags[0x0112] = orientation
    tags[0x010E] = CANARY
    tags[0x010F], tags[0x0110] = "Invented", f"Invented {CANARY}"
    details = tags.get_ifd(0x8769)
    details[0x9003] = text.get("taken", "2024:07:06 15:33:20")
    if "offset" in text:
        details[0x9011] = text["offset"]
    details[0xA431] = CANARY
    details[0x927C] = CANARY.encode() * 4
    position = tags.get_ifd(0x8825)
    position[1], position[2] = "N", (0.0, 12.0, 30.0)
    position[3], position[4] = "E", (0.0, 44.0, 10.0)
    return tags


def xmp() -> bytes:
    """An XMP packet with a word in it."""
    return (
        '<?xpacket begin="" id="W5M0MpCehiHzreSzNTczkc9d"?><x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF '
        'xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="" '
        f'xmlns:dc="http://purl.org/dc/elements/1.1/" dc:format="{CANARY}"/></rdf:RDF></x:xmpmeta><?xpacket end="w"?>'
    ).encode()


def profile(primaries: str = "display p3", name: str = CANARY) -> bytes:
    """An ICC profile (ICC.1:2001-04) of three colorants and one curve: Display P3, or sRGB's own, under any name.

    Colorants adapted to D50 are those of the published profiles: Display P3 (Apple), sRGB (ICC's sRGB2014), from memory.
    """
    columns = {
        "display p3": ((0.51512, 0.24120, -0.00105), (0.29198, 0.69225, 0.04189), (0.15710, 0.06657, 0.78407)),
        "srgb": ((0.43607, 0.22249, 0.01392), (0.38515, 0.71687, 0.09708), (0.14307, 0.06061, 0.71410)),
    }[primaries]
    fixed = lambda value: struct.pack(">i", round(value * 65536))  # noqa: E731
    xyz = lambda three: b"XYZ \0\0\0\0" + b"".join(fixed(v) for v in three)  # noqa: E731
    curve_points = [round(65535 * _to_linear(step / 255)) for step in range(256)]
    curve = b"curv\0\0\0\0" + struct.pack(">I256H", 256, *curve_points)
    text = name.encode() + b"\0"
    described = b"desc\0\0\0\0" + struct.pack(">I", len(text)) + text + b"\0" * 78
    tags = {
        b"desc": described,
        b"cprt": b"text\0\0\0\0" + text,
        b"wtpt": xyz((0.9642, 1.0, 0.8249)),
        b"rXYZ": xyz(columns[0]),
        b"gXYZ": xyz(columns[1]),
        b"bXYZ": xyz(columns[2]),
        b"rTRC": curve,
        b"gTRC": curve,
        b"bTRC": curve,
    }
    at, rows, body = 128 + 4 + 12 * len(tags), b"", b""
    for tag, value in tags.items():
        value += b"\0" * (-len(value) % 4)
        rows += tag + struct.pack(">II", at + len(body), len(value))
        body += value
    head = struct.pack(">I4sI4s4s4s12s4s", at + len(body), b"lcms", 0x02400000, b"mntr", b"RGB ", b"XYZ ", b"\0" * 12, b"acsp")
    head += b"\0" * 28 + fixed(0.9642) + fixed(1.0) + fixed(0.8249)
    return head.ljust(128, b"\0") + struct.pack(">I", len(tags)) + rows + body


def _to_linear(value: float) -> float:
    """The sRGB curve (IEC 61966-2-1)."""
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def coded(rows: np.ndarray, format: str, orientation: int | None = None, mode: str | None = None, **more: object) -> bytes:
    """A picture file of `format` (`jpeg`, `png`, `tiff`, `webp`, `heic`), with EXIF when an orientation is given."""
    image = Image.fromarray(rows)
    if mode:
        image = image.convert(mode)
    best: dict[str, dict[str, object]] = {
        "jpeg": {"quality": 95, "subsampling": 0},
        "webp": {"lossless": True},
        "heic": {"quality": 95},
    }
    options = best.get(format, {})
    if orientation is not None:
        if format == "tiff":
            tags = TiffImagePlugin.ImageFileDirectory_v2()
            tags[0x0112] = orientation
            options = {**options, "tiffinfo": tags}
        else:
            options = {**options, "exif": exif(orientation).tobytes()}
    out = BytesIO()
    image.save(out, {"heic": "HEIF"}.get(format, format.upper()), **{**options, **more})  # type: ignore[arg-type]
    return out.getvalue()


def laden(format: str, primaries: str = "display p3", width: int = 700, height: int = 500) -> bytes:
    """A picture that carries every kind of metadata its format can hold, the canary word in each (also in its profile)."""
    rows = detail(width, height)
    icc = profile(primaries)
    if format == "jpeg":
        # An embedded thumbnail (EXIF second directory) with its own picture, a comment and an IPTC block.
        iptc = b"\x1c\x02\x78" + struct.pack(">H", len(CANARY)) + CANARY.encode()
        block = b"Photoshop 3.0\0" + b"8BIM\x04\x04\0\0" + struct.pack(">I", len(iptc)) + iptc + b"\0" * (len(iptc) % 2)
        data = coded(rows, "jpeg", 6, icc_profile=icc, comment=CANARY.encode(), xmp=xmp(), progressive=True, dpi=(301, 301))
        app13 = b"\xff\xed" + struct.pack(">H", len(block) + 2) + block
        return data[:2] + app13 + data[2:] + b"TRAILER" + CANARY.encode()
    if format == "png":
        info = PngImagePlugin.PngInfo()
        info.add_text("Comment", CANARY)
        info.add_text("Long", CANARY, zip=True)
        info.add_itxt("XML:com.adobe.xmp", xmp().decode())
        return coded(rows, "png", 6, icc_profile=icc, pnginfo=info, dpi=(301, 301))
    if format == "tiff":
        tags = TiffImagePlugin.ImageFileDirectory_v2()
        tags[0x010E], tags[0x0131], tags[0x013B] = CANARY, CANARY, CANARY
        tags[0x0112], tags[700] = 6, xmp()
        tags.tagtype[700] = 1
        return coded(rows, "tiff", icc_profile=icc, tiffinfo=tags)
    return coded(rows, format, 6, icc_profile=icc, xmp=xmp())


def srgb_bytes() -> bytes:
    """The picture library's own sRGB profile."""
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def request(path: Path, key: str | None = None, masks: tuple[Mask, ...] = ()) -> PictureRequest:
    """A request for a file as it is now."""
    return PictureRequest(key or path.name, path, hashlib.sha256(path.read_bytes()).hexdigest(), masks=masks)


def published(data: bytes, folder: Path, masks: tuple[Mask, ...] = (), name: str = "IMG_0001.bin") -> Rendition:
    """What is published of one picture file, into `folder`/out."""
    source = folder / name
    source.write_bytes(data)
    run = run_of([request(source, "it", masks)], folder)
    assert not run.faults, run.faults
    return run.renditions["it"]


def run_of(requests: list[PictureRequest], folder: Path, cache: Path | None = None) -> PictureRun:
    """Make renditions into `folder`/out, checking what is true of every run."""
    run = make_renditions(requests, folder / "out", cache)
    assert set(run.renditions) | set(run.faults) == {one.key for one in requests}
    assert not set(run.renditions) & set(run.faults)
    return run


def pixels(folder: Path, rendition: Rendition, which: int = -1) -> np.ndarray:
    """The rows of one published file, as any reader of pictures would show it without minding metadata."""
    with Image.open(folder / "out" / rendition.files[which].name) as image:
        return np.asarray(image.convert("RGB")).astype(int)
