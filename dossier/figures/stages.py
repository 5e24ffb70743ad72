"""Gear trains asked for on the bench: two stages by way of a jackshaft, a gearbox before a final drive, torque and teeth behind a ratio."""

from __future__ import annotations

from math import pi
from typing import Any

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag

TORQUE = Input("engine_torque", "T", "N·m", "Torque before the gearbox")
_KART = "diygokarts.com, post 122212: 17/10 and 54/9 by way of a jackshaft"
_FORUM = "e90post.com, post 8022880"
_TERRITORY = "fordterritory.info, owners' thread 6: gear 0.76, final drive 4.1"


def _bench(**facts: Any) -> dict[str, Any]:
    common: dict[str, Any] = {"flag": Flag.GEOMETRY, "subject": "drive line", "for_bench": True, "impossible": (0, None)}
    return {**common, **facts}


def _teeth(param: str, symbol: str, title: str) -> Input:
    return Input(param, symbol, "teeth", title, exact=True)


@figure(
    **_bench(
        title="Overall ratio of two stages",
        symbol="i",
        unit="",
        formula="i = z_b / z_a * z_d / z_c",
        source="the stages multiplied",
        inputs=(
            _teeth("engine", "z_a", "Teeth on the engine"),
            _teeth("jackshaft_in", "z_b", "Teeth on the jackshaft, driven"),
            _teeth("jackshaft_out", "z_c", "Teeth on the jackshaft, driving"),
            _teeth("wheel", "z_d", "Teeth on the wheel"),
        ),
        example=Example(
            {"engine": "10 teeth", "jackshaft_in": "17 teeth", "jackshaft_out": "9 teeth", "wheel": "54 teeth"}, "10.20", _KART
        ),
        decimals=3,
        also=("overall_ratio",),
    )
)
def ratio_of_two_stages(engine: Number, jackshaft_in: Number, jackshaft_out: Number, wheel: Number) -> Number:
    """Turns of the engine for one of the wheel."""
    return jackshaft_in / engine * wheel / jackshaft_out


@figure(
    **_bench(
        title="Road speed behind gearbox and final drive",
        symbol="v",
        unit="km/h",
        formula="v = n / 60 * C / (i_k * i_f) * 3.6",
        inputs=(
            Input("rpm", "n", "rpm", "Engine speed", exact=True),
            Input("gear", "i_k", "", "Ratio of the gear", also=("gear_ratio",)),
            Input("final_drive", "i_f", "", "Final drive", also=("final_ratio",)),
            Input("rolling_circumference", "C", "m", "Rolling circumference", also=("circumference",)),
        ),
        source="turns of the wheel times its circumference under load, without slip; no primary ratio between",
        decimals=1,
        also=("road_speed",),
        example=Example(
            {"rpm": "2200 rpm", "gear": "0.76", "final_drive": "4.1", "rolling_circumference": "2.288 m"}, "96.9 km/h", _TERRITORY
        ),
    )
)
def speed_behind_gearbox(rpm: Number, gear: Number, final_drive: Number, rolling_circumference: Number) -> Number:
    """Road speed where the gearbox stands right behind the engine."""
    return rpm / (2 * pi) * rolling_circumference / (gear * final_drive)


def _geared(word: str, symbol: str, ratio: str, gives: str) -> dict[str, Any]:
    return _bench(
        title=f"Torque behind {word} gear",
        symbol=f"T_{symbol}",
        unit="N·m",
        formula=f"T_{symbol} = T * i_{symbol}",
        flag=Flag.GEOMETRY,
        inputs=(TORQUE, Input(word, f"i_{symbol}", "", f"Ratio of {word} gear")),
        source="what is lost in speed is gained in torque, friction apart",
        example=Example({"engine_torque": "327.7 lbf·ft", word: ratio}, gives, _FORUM),
        decimals=1,
        also=(f"{word}_gear_torque",),
    )


@figure(**_geared("first", "1", "4.06", "1330.462 lbf·ft"))
def torque_behind_first(engine_torque: Number, first: Number) -> Number:
    """Torque behind first gear."""
    return engine_torque * first


@figure(**_geared("second", "2", "2.4", "786.48 lbf·ft"))
def torque_behind_second(engine_torque: Number, second: Number) -> Number:
    """Torque behind second gear."""
    return engine_torque * second


@figure(
    **_bench(
        title="Teeth for two speeds",
        symbol="z_2",
        unit="teeth",
        formula="z_2 = z_1 * n_1 / n_2",
        source="each tooth meets one tooth",
        inputs=(
            Input("driver", "z_1", "teeth", "Teeth on the driver", exact=True),
            Input("driver_speed", "n_1", "rpm", "Speed of the driver"),
            Input("driven_speed", "n_2", "rpm", "Speed of the driven"),
        ),
        example=Example(
            {"driver": "12 teeth", "driver_speed": "1800 rpm", "driven_speed": "900 rpm"},
            "24.0 teeth",
            "Wentzell, Machine Design, Ex. 14.4 p. 321 (FOSSEE Python Textbook Companions)",
        ),
        also=("driven_teeth",),
    )
)
def teeth_for_speeds(driver: Number, driver_speed: Number, driven_speed: Number) -> Number:
    """Teeth on the driven wheel for two speeds; whole only by luck."""
    return driver * driver_speed / driven_speed
