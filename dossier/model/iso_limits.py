"""Limits from a tolerance zone of ISO 286 (`62 H7`), a fit (`25 H7/g6`), or a class of ISO 2768-1 (`120 ISO 2768-m`).

The tables are those of ISO 286-1:2010 and ISO 2768-1:1989, written down from memory. Checked: holes N to Z to 225 mm against the table
printed at usefastener.com (EN ISO 286-1), shafts m to z to 160 mm against a textbook (Machine Drawing, table 15.2), sizes 3 to 400 mm
against two open packages, general tolerances against a stored page of DIN ISO 2768-1 (which prints 0.15 and 0.2 for class c up to 6 mm,
as the older DIN 7168 has it; other pages print 0.2 and 0.3, as here). Outside the tables there is no answer.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from dossier.model.quantity import Declared, Limits, Quantity
from dossier.model.units import UNITS


class NoZone(ValueError):
    """Raised where the standard's tables have no answer; the text says why."""


_IT_STEPS = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500)
"""Upper end (mm) of each band of sizes for the width of the zone; a band begins above the end of the one before."""

_IT = {
    1: "0.8 1 1 1.2 1.5 1.5 2 2.5 3.5 4.5 6 7 8",
    2: "1.2 1.5 1.5 2 2.5 2.5 3 4 5 7 8 9 10",
    3: "2 2.5 2.5 3 4 4 5 6 8 10 12 13 15",
    4: "3 4 4 5 6 7 8 10 12 14 16 18 20",
    5: "4 5 6 8 9 11 13 15 18 20 23 25 27",
    6: "6 8 9 11 13 16 19 22 25 29 32 36 40",
    7: "10 12 15 18 21 25 30 35 40 46 52 57 63",
    8: "14 18 22 27 33 39 46 54 63 72 81 89 97",
    9: "25 30 36 43 52 62 74 87 100 115 130 140 155",
    10: "40 48 58 70 84 100 120 140 160 185 210 230 250",
    11: "60 75 90 110 130 160 190 220 250 290 320 360 400",
    12: "100 120 150 180 210 250 300 350 400 460 520 570 630",
    13: "140 180 220 270 330 390 460 540 630 720 810 890 970",
    14: "250 300 360 430 520 620 740 870 1000 1150 1300 1400 1550",
    15: "400 480 580 700 840 1000 1200 1400 1600 1850 2100 2300 2500",
    16: "600 750 900 1100 1300 1600 1900 2200 2500 2900 3200 3600 4000",
    17: "1000 1200 1500 1800 2100 2500 3000 3500 4000 4600 5200 5700 6300",
    18: "1400 1800 2200 2700 3300 3900 4600 5400 6300 7200 8100 8900 9700",
}
"""Width of the zone (µm) for each grade, ISO 286-1:2010 Table 1."""

_STEPS = (
    3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315, 355, 400, 450, 500,
)  # fmt: skip
"""Upper end (mm) of each band of sizes for the fundamental deviation."""

_ABOVE = {
    "a": "270 270 280 290 290 300 300 310 320 340 360 380 410 460 520 580 660 740 820 920 1050 1200 1350 1500 1650",
    "b": "140 140 150 150 150 160 160 170 180 190 200 220 240 260 280 310 340 380 420 480 540 600 680 760 840",
    "c": "60 70 80 95 95 110 110 120 130 140 150 170 180 200 210 230 240 260 280 300 330 360 400 440 480",
    "d": "20 30 40 50 50 65 65 80 80 100 100 120 120 145 145 145 170 170 170 190 190 210 210 230 230",
    "e": "14 20 25 32 32 40 40 50 50 60 60 72 72 85 85 85 100 100 100 110 110 125 125 135 135",
    "f": "6 10 13 16 16 20 20 25 25 30 30 36 36 43 43 43 50 50 50 56 56 62 62 68 68",
    "g": "2 4 5 6 6 7 7 9 9 10 10 12 12 14 14 14 15 15 15 17 17 18 18 20 20",
    "h": "0 " * 25,
}
"""How far (µm) the upper deviation of a shaft lies below the nominal size, ISO 286-1:2010 Table 4; a hole mirrors it."""

_BELOW = {
    "k": "0 1 1 1 1 2 2 2 2 2 2 3 3 3 3 3 4 4 4 4 4 4 4 5 5",
    "m": "2 4 6 7 7 8 8 9 9 11 11 13 13 15 15 15 17 17 17 20 20 21 21 23 23",
    "n": "4 8 10 12 12 15 15 17 17 20 20 23 23 27 27 27 31 31 31 34 34 37 37 40 40",
    "p": "6 12 15 18 18 22 22 26 26 32 32 37 37 43 43 43 50 50 50 56 56 62 62 68 68",
    "r": "10 15 19 23 23 28 28 34 34 41 43 51 54 63 65 68 77 80 84 94 98 108 114 126 132",
    "s": "14 19 23 28 28 35 35 43 43 53 59 71 79 92 100 108 122 130 140 158 170 190 208 232 252",
    "t": "- - - - - - 41 48 54 66 75 91 104 122 134 146 166 180 196 218 240 268 294 330 360",
    "u": "18 23 28 33 33 41 48 60 70 87 102 124 144 170 190 210 236 258 284 315 350 390 435 490 540",
    "v": "- - - - 39 47 55 68 81 102 120 146 172 202 228 252 284 310 340 385 425 475 530 595 660",
    "x": "20 28 34 40 45 54 64 80 97 122 146 178 210 248 280 310 350 385 425 475 525 590 660 740 820",
    "y": "- - - - - 63 75 94 114 144 174 214 254 300 340 380 425 470 520 580 650 730 820 920 1000",
    "z": "26 35 42 50 60 73 88 112 136 172 210 258 310 365 415 465 520 575 640 710 790 900 1000 1100 1250",
}
"""How far (µm) the lower deviation of a shaft lies above the nominal size, ISO 286-1:2010 Table 5; a hole mirrors it, with Delta."""

_J = {
    "j5": "-2 -2 -2 -3 -3 -4 -4 -5 -5 -7 -7 -9 -9 -11 -11 -11 -13 -13 -13 -16 -16 -18 -18 -20 -20",
    "j6": "-2 -2 -2 -3 -3 -4 -4 -5 -5 -7 -7 -9 -9 -11 -11 -11 -13 -13 -13 -16 -16 -18 -18 -20 -20",
    "j7": "-4 -4 -5 -6 -6 -8 -8 -10 -10 -12 -12 -15 -15 -18 -18 -18 -21 -21 -21 -26 -26 -28 -28 -32 -32",
    "J6": "2 5 5 6 6 8 8 10 10 13 13 16 16 18 18 18 22 22 22 25 25 29 29 33 33",
    "J7": "4 6 8 10 10 12 12 14 14 18 18 22 22 26 26 26 30 30 30 36 36 39 39 43 43",
    "J8": "6 10 12 15 15 20 20 24 24 28 28 34 34 41 41 41 47 47 47 55 55 60 60 66 66",
}
"""Lower deviation of a shaft j, upper deviation of a hole J (µm)."""

_ZONE = re.compile(r"(js|JS|[a-hj-km-npr-vx-z]|[A-HJ-KM-NPR-VX-Z])([1-9]|1[0-8])")


@dataclass(frozen=True)
class Deviations:
    """Lower and upper deviation from the nominal size, in mm."""

    lower: Decimal
    upper: Decimal


def _band(size: Decimal, ends: tuple[int, ...]) -> int:
    if not 0 < size <= 500:
        raise NoZone(f"the tables of ISO 286-1 used here run from above 0 to 500 mm; {size} mm lies outside them")
    return next(i for i, end in enumerate(ends) if size <= end)


def width(size: Decimal, grade: int) -> Decimal:
    """Width of a standard tolerance grade (µm) for a size in mm, ISO 286-1:2010 Table 1. NoZone outside the table."""
    if grade not in _IT:
        raise NoZone(f"there is no grade IT{grade} in the table used here (IT1 to IT18)")
    if grade >= 14 and size <= 1:
        raise NoZone("grades from IT14 on are not used for sizes up to 1 mm")
    return Decimal(_IT[grade].split()[_band(size, _IT_STEPS)])


def _listed(row: str, size: Decimal, zone: str) -> Decimal:
    said = row.split()[_band(size, _STEPS)]
    if said == "-":
        raise NoZone(f"ISO 286-1 has no zone {zone} for {size} mm")
    return Decimal(said)


def zone_of(size: Decimal, zone: str) -> Deviations:
    """Deviations of a tolerance zone such as `H7` or `g6` at a nominal size in mm, after ISO 286-1:2010. NoZone outside its tables."""
    found = _ZONE.fullmatch(zone)
    if not found:
        raise NoZone(f"{zone!r} is not a tolerance zone known here: write a letter and a grade, as in H7 or g6")
    letter, grade = found[1], int(found[2])
    it = width(size, grade)
    if letter in ("js", "JS"):
        low, high = -it / 2, it / 2
    elif letter.islower():
        low, high = _shaft(size, letter, grade, it)
    else:
        low, high = _hole(size, letter, grade, it)
    return Deviations(low / 1000, high / 1000)


def _shaft(size: Decimal, letter: str, grade: int, it: Decimal) -> tuple[Decimal, Decimal]:
    zone = f"{letter}{grade}"
    if letter in _ABOVE:
        _refuse_tiny(size, letter)
        high = -_listed(_ABOVE[letter], size, zone)
        return high - it, high
    if letter == "j":
        if zone not in _J:
            raise NoZone(f"the zone {zone} is not in the table used here (j5, j6, j7)")
        low = _listed(_J[zone], size, zone)
    elif letter == "k" and not 4 <= grade <= 7:
        low = Decimal(0)
    else:
        low = _listed(_BELOW[letter], size, zone)
    return low, low + it


def _hole(size: Decimal, letter: str, grade: int, it: Decimal) -> tuple[Decimal, Decimal]:
    zone, small = f"{letter}{grade}", letter.lower()
    if small in _ABOVE:
        _refuse_tiny(size, letter)
        low = _listed(_ABOVE[small], size, zone)
        return low, low + it
    if letter == "J":
        if zone not in _J:
            raise NoZone(f"the zone {zone} is not in the table used here (J6, J7, J8)")
        high = _listed(_J[zone], size, zone)
        return high - it, high
    high = _upper_of_tight_hole(size, letter, grade, -_listed(_BELOW[small], size, zone))
    return high - it, high


def _upper_of_tight_hole(size: Decimal, letter: str, grade: int, mirrored: Decimal) -> Decimal:
    """Upper deviation (µm) of holes K to Z: the shaft's mirrored, and in the finer grades raised by Delta, the step to the next finer grade."""
    last = 8 if letter in "KMN" else 7
    if grade <= last:
        if letter == "M" and grade == 6 and 250 < size <= 315:
            return Decimal(-9)  # the one value that the standard lists against its own rule
        delta = width(size, grade) - width(size, grade - 1) if size > 3 and grade >= 3 else Decimal(0)
        return mirrored + delta
    if letter == "N":
        if size <= 1:
            raise NoZone("holes N above grade 8 are not used for sizes up to 1 mm")
        return mirrored if size <= 3 else Decimal(0)
    if letter == "K" and size > 3:
        raise NoZone(f"ISO 286-1 has no hole K{grade} above 3 mm")
    return mirrored


def _refuse_tiny(size: Decimal, letter: str) -> None:
    if letter.lower() in "ab" and size <= 1:
        raise NoZone(f"zones {letter} are not used for sizes up to 1 mm")


_GENERAL_STEPS = (3, 6, 30, 120, 400, 1000, 2000, 4000)
_GENERAL = {
    "f": "0.05 0.05 0.1 0.15 0.2 0.3 0.5 -",
    "m": "0.1 0.1 0.2 0.3 0.5 0.8 1.2 2",
    "c": "0.2 0.3 0.5 0.8 1.2 2 3 4",
    "v": "- 0.5 1 1.5 2.5 4 6 8",
}
"""Deviation (mm) either way for lengths, ISO 2768-1:1989 Table 1: fine, medium, coarse, very coarse."""
_EDGES = {"f": "0.2 0.5 1", "m": "0.2 0.5 1", "c": "0.4 1 2", "v": "0.4 1 2"}
"""The same for radii and chamfers up to 3, up to 6 and above 6 mm, Table 2."""
_ANGLE_STEPS = (10, 50, 120, 400)
_ANGLES = {"f": "60 30 20 10 5", "m": "60 30 20 10 5", "c": "90 60 30 15 10", "v": "180 120 60 30 20"}
"""Deviation in minutes either way for angles, by the shorter side: up to 10, 50, 120, 400 mm and above, Table 3."""


def general(size: Decimal, grade: str, edge: bool = False) -> Deviations:
    """Deviations of a general tolerance (mm) for a length, or for a radius or chamfer, after ISO 2768-1:1989. NoZone outside the table."""
    if grade not in _GENERAL:
        raise NoZone(f"ISO 2768-1 has the classes f, m, c and v, not {grade!r}")
    if size < Decimal("0.5"):
        raise NoZone("below 0.5 mm ISO 2768-1 wants the tolerance written beside the size")
    if not edge and size > 4000:
        raise NoZone("the table of ISO 2768-1 ends at 4000 mm")
    if edge:
        said = _EDGES[grade].split()[0 if size <= 3 else 1 if size <= 6 else 2]
    else:
        said = _GENERAL[grade].split()[next(i for i, end in enumerate(_GENERAL_STEPS) if size <= end)]
    if said == "-":
        raise NoZone(f"ISO 2768-1 has no class {grade} for {size} mm")
    return Deviations(-Decimal(said), Decimal(said))


def general_angle(shorter_side: Decimal, grade: str) -> Decimal:
    """Deviation either way (minutes of arc) of a general tolerance for an angle whose shorter side is given in mm, ISO 2768-1:1989."""
    if grade not in _ANGLES:
        raise NoZone(f"ISO 2768-1 has the classes f, m, c and v, not {grade!r}")
    if shorter_side <= 0:
        raise NoZone("the shorter side of the angle must have a length")
    return Decimal(_ANGLES[grade].split()[sum(shorter_side > end for end in _ANGLE_STEPS)])


_SIZE = r"([0-9]{1,4}(?:\.[0-9]{1,4})?)(?: *mm)?"
_WRITTEN_ZONE = re.compile(rf"{_SIZE} +([A-Za-z]{{1,2}}[0-9]{{1,2}})")
_WRITTEN_FIT = re.compile(rf"{_SIZE} +([A-Z]{{1,2}}[0-9]{{1,2}}) */ *([a-z]{{1,2}}[0-9]{{1,2}})")
_WRITTEN_GENERAL = re.compile(rf"{_SIZE},? +ISO ?2768(?:-1)?[- ]([fmcv])[A-Z]?")


@dataclass(frozen=True)
class Fit:
    """A hole and a shaft of one nominal size (mm), each with its deviations."""

    nominal: Decimal
    hole: Deviations
    shaft: Deviations

    @property
    def smallest_clearance(self) -> Decimal:
        """Smallest hole less largest shaft (mm); negative is interference."""
        return self.hole.lower - self.shaft.upper

    @property
    def largest_clearance(self) -> Decimal:
        """Largest hole less smallest shaft (mm); negative is interference."""
        return self.hole.upper - self.shaft.lower

    @property
    def kind(self) -> str:
        """Clearance, interference or transition fit, as the standard calls them."""
        if self.smallest_clearance >= 0:
            return "clearance fit"
        return "interference fit" if self.largest_clearance <= 0 else "transition fit"


def fit(text: str) -> Fit | None:
    """A fit as written, `25 H7/g6`; None when the text is not one. NoZone outside the standard's tables."""
    found = _WRITTEN_FIT.fullmatch(text.strip())
    if not found:
        return None
    nominal = Decimal(found[1])
    return Fit(nominal, zone_of(nominal, found[2]), zone_of(nominal, found[3]))


def declared(text: str) -> Declared | None:
    """A declared size in mm with a zone, `62 H7`, a fit, `25 H7/g6`, or a class, `120 ISO 2768-m`; None when the text is none of them.

    What a fit allows is its clearance, from the smallest to the largest, negative for interference; it has no nominal. NoZone outside the
    tables.
    """
    raw, unit = text.strip(), UNITS["mm"]
    if found := _WRITTEN_ZONE.fullmatch(raw):
        allowed = zone_of(nominal := Decimal(found[1]), found[2])
    elif found := _WRITTEN_GENERAL.fullmatch(raw):
        allowed = general(nominal := Decimal(found[1]), found[2])
    elif together := fit(raw):
        return Declared(raw, None, Limits(together.smallest_clearance, together.largest_clearance, unit, raw))
    else:
        return None
    limits = Limits(nominal + allowed.lower, nominal + allowed.upper, unit, raw)
    return Declared(raw, Quantity(nominal, unit, None, f"{nominal} mm"), limits)
