"""A folder of any number of builds, made from the demo with other numbers and small photographs: the same for the same count, always."""

from __future__ import annotations

import io
import random
import re
import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path

from PIL import Image

DEMO = Path(__file__).resolve().parents[2] / "builds"
TURNS = (("talvera-350-gp", "HFW-07"), ("kestrane-125-r", "HFW-05"))
"""The demo builds in turn, and the build number of each."""
WIDEST = 400
"""Pixels of the longer side of a photograph."""
_READING = re.compile(r"(?P<before>value: |[\[ ])(?P<number>\d+\.\d{2,3})(?P<after> mm|[,\]])")
_MASS = re.compile(r"(?P<before>after: )(?P<number>\d{3,5})(?P<after> g)")


def slug_of(number: int) -> str:
    """Name of the folder of a build, counted from one."""
    return f"machine-{number:04d}"


def make_builds(into: Path, count: int) -> list[Path]:
    """Builds 1 to `count` below `into`, with the workshop file above them; those already there are left alone."""
    into.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(DEMO / "workshop.yaml", into / "workshop.yaml")
    return [make_build(into, number) for number in range(1, count + 1)]


def make_build(into: Path, number: int) -> Path:
    """One build: its readings, weights, build number and photographs are its own, all else is the demo's."""
    path = into / slug_of(number)
    if path.exists():
        return path
    chance = random.Random(number)
    slug, build_no = TURNS[(number - 1) % len(TURNS)]
    aside = path.with_name(f".{path.name}")
    shutil.copytree(DEMO / slug, aside, ignore=shutil.ignore_patterns("photos"))
    ours = f"HFW-{number + 100}"
    for file in sorted(aside.glob("*.yaml")):
        text = file.read_text(encoding="utf-8")
        for old, new in ((build_no, ours), (build_no.replace("-", " "), ours.replace("-", " ")), (build_no.replace("-", ""), ours.replace("-", ""))):
            text = text.replace(old, new)
        if file.stem == "measurements":
            text = _READING.sub(_other(chance, 0.00008), text)
        if file.stem == "parts":
            text = _MASS.sub(_other(chance, 0.004), text)
        file.write_text(text, encoding="utf-8")
    (aside / "photos").mkdir()
    shade = tuple(chance.randrange(40, 216) for _ in range(3))
    for photo in sorted((DEMO / slug / "photos").iterdir()):
        (aside / "photos" / photo.name).write_bytes(_small(photo, shade))
    return aside.rename(path)


def _other(chance: random.Random, share: float) -> Callable[[re.Match[str]], str]:
    """A number near the one found, by at most that share of it, with as many decimals."""

    def other(found: re.Match[str]) -> str:
        decimals = len(found["number"].partition(".")[2])
        near = float(found["number"]) * (1 + chance.uniform(-share, share))
        return f"{found['before']}{near:.{decimals}f}{found['after']}"

    return other


@cache
def _shrunk(photo: Path) -> tuple[Image.Image, bytes]:
    with Image.open(photo) as image:
        exif = image.getexif()
        small = image.convert("RGB")
    small.thumbnail((WIDEST, WIDEST))
    for tag in (0x0112, 0xA002, 0xA003, 0x0100, 0x0101):  # orientation and sizes, which the small one has of its own
        exif.pop(tag, None)
    return small, exif.tobytes()


def _small(photo: Path, shade: tuple[int, ...]) -> bytes:
    """A small picture of a shade of its own, so that no two builds share one."""
    image, exif = _shrunk(photo)
    tinted = Image.blend(image, Image.new("RGB", image.size, shade), 0.12)
    data = io.BytesIO()
    tinted.save(data, "JPEG", quality=85, exif=exif)
    return data.getvalue()
