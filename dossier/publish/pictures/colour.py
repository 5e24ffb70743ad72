"""Colours brought to sRGB (IEC 61966-2-1), so that no profile need travel with a published picture."""

from __future__ import annotations

from functools import lru_cache
from io import BytesIO

from PIL import Image, ImageCms

_SPACES = {"RGB": "RGB", "CMYK": "CMYK", "L": "GRAY"}
_SAME = 1
"""Steps of 255 within which a profile counts as sRGB."""


def to_srgb(image: Image.Image, profile: bytes) -> Image.Image:
    """A picture of mode L, RGB or CMYK as RGB in sRGB; a profile that is broken or of another kind than the picture is
    passed over."""
    if profile and not (image.mode == "RGB" and is_srgb(profile)):
        try:
            opened = ImageCms.ImageCmsProfile(BytesIO(profile))
            if opened.profile.xcolor_space.strip() == _SPACES[image.mode]:
                return _transformed(image, opened)
        except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
            pass
    return image if image.mode == "RGB" else image.convert("RGB")


@lru_cache(maxsize=32)
def is_srgb(profile: bytes) -> bool:
    """Whether a profile leaves a cube of 9³ RGB colours as it is: by its effect, since names of profiles say little."""
    levels = [min(255, 32 * step) for step in range(9)]
    cube = bytes(part for r in levels for g in levels for b in levels for part in (r, g, b))
    patch = Image.frombytes("RGB", (27, 27), cube)
    try:
        changed = _transformed(patch, ImageCms.ImageCmsProfile(BytesIO(profile))).tobytes()
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
        return False
    return all(abs(was - now) <= _SAME for was, now in zip(cube, changed, strict=True))


def _transformed(image: Image.Image, profile: ImageCms.ImageCmsProfile) -> Image.Image:
    """The picture through its profile to sRGB, relative colorimetric with black point compensation (ISO 18619)."""
    changed = ImageCms.profileToProfile(
        image,
        profile,
        ImageCms.createProfile("sRGB"),
        renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
        outputMode="RGB",
        flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
    )
    assert changed is not None
    return changed
