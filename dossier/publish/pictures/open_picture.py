"""Bytes of a picture file in, plain pixels out: decoded no larger than needed, in one of three modes, not yet
turned."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from threading import Lock

from PIL import Image, JpegImagePlugin, PngImagePlugin, TiffImagePlugin, WebPImagePlugin

from dossier.model.picture import MOST_PIXELS_JPEG, fit, format_of, is_bomb
from dossier.publish.pictures.adobe_rgb import adobe_rgb_profile, says_adobe_rgb

# Named here so that the plugins are in before threads ask for them.
_PLUGINS = (JpegImagePlugin, PngImagePlugin, TiffImagePlugin, WebPImagePlugin)
_PILLOW_NAMES = {"jpeg": "JPEG", "png": "PNG", "tiff": "TIFF", "webp": "WEBP", "heic": "HEIF"}
_ORIENTATION = 0x0112
_PHOTOMETRIC = 262
_heif_lock = Lock()

# The library's own guard warns for every format alike; ours, by format, comes right after the header is read.
Image.MAX_IMAGE_PIXELS = MOST_PIXELS_JPEG


class UnfitPictureError(ValueError):
    """The file cannot be made into pixels; the message says why."""


@dataclass(slots=True)
class Pixels:
    """A decoded picture: mode L, RGB or CMYK, not yet turned; `box` is the part of it, in its own pixels, that is the
    picture.

    `width` and `height` are of the file as stored, `orientation` (1 to 8) is still to be applied, `profile` the ICC
    profile or nothing.
    """

    image: Image.Image
    box: tuple[float, float, float, float]
    width: int
    height: int
    orientation: int
    profile: bytes


def open_pixels(data: bytes, edge: int) -> Pixels:
    """Decode a picture file of which no more than `edge` pixels (long edge) are wanted; UnfitPictureError when it
    cannot be."""
    format = format_of(data[:32])
    if not format:
        raise UnfitPictureError("the file is none of the picture formats that are read")
    if format == "heic":
        _know_heif()
    try:
        with Image.open(BytesIO(data), formats=(_PILLOW_NAMES[format],)) as image:
            image.decodermaxblock = len(data)  # all at one go: between pieces it would wait for whoever else is at work
            if is_bomb(format, image.width, image.height, len(data)):
                raise UnfitPictureError("the picture has too many pixels for its bytes")
            return _decode(image, format, edge)
    except UnfitPictureError:
        raise
    except Exception as error:  # decoders raise nearly anything at a damaged file
        raise UnfitPictureError(f"the picture cannot be decoded ({type(error).__name__}: {error})") from error


def _decode(image: Image.Image, format: str, edge: int) -> Pixels:
    """Load the first picture of an opened file."""
    if format == "jpeg":
        # Orientation is read first: it is lost with the metadata. Drafting takes effect only for a target of the right
        # proportions.
        orientation = _orientation_of(image)
        width, height = image.size
        drafted = image.draft(None, fit(width, height, edge))
        box = drafted[1] if drafted else (0.0, 0.0, float(width), float(height))
        image.load()
    else:
        # Loading comes first: some formats are turned by their own decoder, and then say so.
        image.load()
        orientation = _orientation_of(image)
        width, height = image.size
        box = (0.0, 0.0, float(width), float(height))
    profile = image.info.get("icc_profile") or (adobe_rgb_profile() if says_adobe_rgb(image) else b"")
    plain = _plain(image, format)
    return Pixels(plain, box, width, height, orientation, profile if isinstance(profile, bytes) else b"")


def _orientation_of(image: Image.Image) -> int:
    """The orientation still to be applied, 1 where none or nonsense is written."""
    try:
        written = image.getexif().get(_ORIENTATION, 1)
    except Exception:  # makers' metadata are damaged more often than pictures
        return 1
    return written if isinstance(written, int) and 1 <= written <= 8 else 1


def _plain(image: Image.Image, format: str) -> Image.Image:
    """The picture in mode L, RGB or CMYK: transparency laid on white, sixteen bits brought to eight."""
    mode = image.mode
    if mode.startswith("I;16"):
        return _eight_bits(image, format)
    if mode in ("I", "F"):
        raise UnfitPictureError("the picture has 32 bits a sample, for which no rule says what is black and what is white")
    if mode == "LAB":
        from PIL import ImageCms

        lab, srgb = ImageCms.createProfile("LAB"), ImageCms.createProfile("sRGB")
        changed = ImageCms.profileToProfile(image, lab, srgb, outputMode="RGB")
        assert changed is not None
        return changed
    if "transparency" in image.info or mode in ("RGBA", "LA", "PA", "RGBa", "La"):
        seen = image.convert("RGBA")
        ground = Image.new("RGB", image.size, (255, 255, 255))
        ground.paste(seen, mask=seen.getchannel("A"))
        return ground
    if mode in ("L", "RGB", "CMYK"):
        return image
    return image.convert("L" if mode == "1" else "RGB")


def _eight_bits(image: Image.Image, format: str) -> Image.Image:
    """A grey picture of sixteen bits, the upper eight taken; a plain conversion would turn nearly all of it white."""
    high = slice(0, None, 2) if image.mode == "I;16B" else slice(1, None, 2)
    grey = Image.frombytes("L", image.size, image.tobytes()[high])
    tags = getattr(image, "tag_v2", None)
    # TIFF 6.0 section 8: photometric interpretation 0 means that zero is white; the decoder minds it for eight bits
    # only.
    white_is_zero = format == "tiff" and tags is not None and tags.get(_PHOTOMETRIC) == 0
    if white_is_zero:
        from PIL import ImageOps

        return ImageOps.invert(grey)
    return grey


def _know_heif() -> None:
    """Make HEIC files known to the picture library, once; imported late, since most builds have none."""
    with _heif_lock:
        if "HEIF" not in Image.OPEN:
            import pillow_heif

            pillow_heif.register_heif_opener(thumbnails=False)
