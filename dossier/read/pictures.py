"""One picture file read for its facts (format, size as seen, date, camera, SHA-256) and for all that is wrong with it,
which is never raised."""

from __future__ import annotations

import hashlib
import stat
import warnings
from io import BytesIO
from pathlib import Path

from PIL import Image

from dossier.model.picture import FORMATS, MOST_BYTES, MOST_PIXELS_JPEG, FileMark, PhotoFacts, format_of, is_bomb
from dossier.model.picture_faults import PhotoFault, photo_fault
from dossier.read.exif import camera_notes, orientation_of
from dossier.read.likeness import likeness
from dossier.read.picture_kind import is_cut_short, is_raw, named_raw, other_kind

Probed = tuple[PhotoFacts | None, list[PhotoFault]]

_PILLOW_NAMES = {"jpeg": "JPEG", "png": "PNG", "tiff": "TIFF", "webp": "WEBP", "heic": "HEIF"}
_SPACES = {"RGB": "RGB", "RGBA": "RGB", "P": "RGB", "CMYK": "CMYK", "L": "GRAY", "LA": "GRAY", "I;16": "GRAY"}
_SMALL = 160

# The library's own guards warn on the standard error stream; ours are by format and end as faults.
Image.MAX_IMAGE_PIXELS = MOST_PIXELS_JPEG
warnings.filterwarnings("ignore", module=r"PIL\.|pillow_heif")


def probe(path: Path, likeness: bool = True, decode: bool = True) -> Probed:
    """The facts of one picture file, or None with at least one error; warnings and notices may come with facts.

    Without `likeness` that fact stays empty: the library for it takes longer to import than a picture to read. Without both
    it and `decode` a JPEG is not decoded, and one broken inside passes: for where it is decoded whole in any case.
    """
    try:
        state = path.stat()
        if not stat.S_ISREG(state.st_mode):
            return _refused("photo-unreadable", "it is not a file")
        if state.st_size == 0:
            return _refused("photo-empty")
        if state.st_size > MOST_BYTES:
            return _refused("photo-too-large", f"{state.st_size / 1e6:.0f} MB, at most {MOST_BYTES / 1e6:.0f}")
        data = path.read_bytes()
    except FileNotFoundError:
        return _refused("photo-missing")
    except (OSError, ValueError) as error:
        return _refused("photo-unreadable", getattr(error, "strerror", None) or str(error))
    mark = FileMark(state.st_size, state.st_mtime_ns, state.st_ctime_ns, state.st_ino)
    try:
        return _probe_data(path, data, mark, likeness, decode or likeness)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        return _refused("photo-bomb", f"more pixels than any camera gives, in {len(data)} bytes")
    except Exception as error:  # decoders raise nearly anything at a damaged file
        if is_cut_short(data, format_of(data[:32])) or "truncated" in str(error).lower():
            return _refused("photo-truncated")
        return _refused("photo-unreadable", f"it is damaged or of a rare kind ({type(error).__name__})")


def _probe_data(path: Path, data: bytes, mark: FileMark, alike: bool, decode: bool) -> Probed:
    """The same once the bytes are in hand; raises whatever the decoder raises."""
    format = format_of(data[:32])
    if format in ("", "tiff") and named_raw(path.suffix):
        return _refused("photo-raw")
    if not format:
        kind = other_kind(data)
        if kind:
            return _refused("photo-other-format", kind)
        return _refused("photo-unreadable", "its first bytes are of no known picture format")
    if format == "heic":
        _know_heif()
    with Image.open(BytesIO(data), formats=(_PILLOW_NAMES[format],)) as image:
        if is_bomb(format, image.width, image.height, len(data)):
            return _refused("photo-bomb", f"{image.width} × {image.height} pixels in {len(data)} bytes")
        if format == "tiff" and is_raw(image):
            return _refused("photo-raw")
        image.decodermaxblock = len(data)  # all at one go: between pieces it would wait for whoever else is at work
        placed = _decoded(image, format) if decode or format != "jpeg" else (*image.size, orientation_of(image))
        return _facts(path, image, data, format, mark, alike, placed)


def _facts(path: Path, image: Image.Image, data: bytes, format: str, mark: FileMark, alike: bool, placed: tuple[int, int, int]) -> Probed:
    """Facts and lesser faults of an opened picture, of which width, height and orientation are known."""
    width, height, orientation = placed
    if image.mode in ("I", "F"):
        return _refused("photo-odd-depth")
    faults: list[PhotoFault] = []
    if path.suffix.lower().lstrip(".") not in FORMATS[format]:
        faults.append(photo_fault("photo-wrong-extension", format.upper()))
    notes = camera_notes(image)
    if notes.damaged:
        faults.append(photo_fault("photo-notes-damaged"))
    if trouble := _colour_trouble(image):
        faults.append(photo_fault("photo-colour-profile", trouble))
    frames = _frames(image)
    # The other pictures of a JPEG are previews and depth maps, not worth a word.
    if frames > 1 and format != "jpeg":
        faults.append(photo_fault("photo-many-pages" if format == "tiff" else "photo-animated", str(frames)))
    facts = PhotoFacts(
        sha256=hashlib.sha256(data).hexdigest(),
        mark=mark,
        format=format,
        width=height if orientation >= 5 else width,
        height=width if orientation >= 5 else height,
        orientation=orientation,
        frames=frames,
        colour=image.mode,
        taken=notes.taken,
        taken_offset=notes.taken_offset,
        camera=notes.camera,
        has_position=notes.has_position,
        likeness=_likeness(image, orientation) if alike else "",
        noted=tuple(f"{fault.code}: {fault.message}" for fault in faults),
    )
    return facts, faults


def _decoded(image: Image.Image, format: str) -> tuple[int, int, int]:
    """Load an opened picture whole, for only so a broken one shows, a JPEG at an eighth; width, height and the orientation
    that is still to be applied."""
    if format != "jpeg":
        # Loading comes first: some formats are turned by their own decoder, and then say so.
        image.load()
        return *image.size, orientation_of(image)
    orientation = orientation_of(image)
    width, height = image.size
    longest = max(width, height)
    image.draft(None, (max(1, width * _SMALL // longest), max(1, height * _SMALL // longest)))
    image.load()
    return width, height, orientation


def _colour_trouble(image: Image.Image) -> str:
    """Why the colours cannot be trusted, or nothing."""
    profile = image.info.get("icc_profile")
    if not profile:
        return "has printing colours (CMYK) without a colour profile" if image.mode == "CMYK" else ""
    from PIL import ImageCms

    try:
        space = ImageCms.ImageCmsProfile(BytesIO(profile)).profile.xcolor_space.strip()
    except Exception:  # a damaged profile
        return "has a damaged colour profile"
    return "" if space == _SPACES.get(image.mode, space) else f"has a colour profile for {space}, not for its pixels"


def _frames(image: Image.Image) -> int:
    """How many pictures the file holds; one when the list of the later ones is damaged."""
    try:
        return int(getattr(image, "n_frames", 1))
    except Exception:  # the first picture is sound, and that is the one used
        return 1


def _likeness(image: Image.Image, orientation: int) -> str:
    """The perceptual hash of the picture as seen, or nothing for a colour mode that has no plain grey."""
    try:
        if image.mode.startswith("I;16"):
            grey = Image.frombytes("L", image.size, image.tobytes()[0 if image.mode == "I;16B" else 1 :: 2])
        else:
            grey = image.convert("L")
    except ValueError:
        return ""
    from PIL import ImageOps

    grey.thumbnail((_SMALL, _SMALL), Image.Resampling.BOX)
    bare = Image.frombytes("L", grey.size, grey.tobytes())
    bare.getexif()[0x0112] = orientation
    return likeness(ImageOps.exif_transpose(bare))


def _refused(code: str, detail: str = "") -> Probed:
    return None, [photo_fault(code, detail)]


def _know_heif() -> None:
    """Make HEIC files known to the picture library; imported late, since most builds have none."""
    if "HEIF" not in Image.OPEN:
        import pillow_heif

        pillow_heif.register_heif_opener(thumbnails=False)
