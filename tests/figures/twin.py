"""The invented twin's numbers as values, and the results that another program worked out for them."""

from __future__ import annotations

from dossier.model.forms.measurements import Role
from dossier.model.results import Value
from tests.figures.bench import value

GEARS = ((15, 29), (18, 28), (20, 27), (22, 26), (23, 25), (24, 24))
CURVES = {
    "DY-1": ((6000, 24.1), (7000, 28.0), (8000, 30.6), (8600, 31.2), (9000, 30.9), (9400, 30.2), (9800, 29.1), (10200, 26.4)),
    "DY-2": ((6000, 25.0), (7000, 29.1), (8000, 32.2), (8600, 33.0), (9000, 32.9), (9400, 32.5), (9800, 31.8), (10200, 28.9)),
}
PLAIN = """
bore 62.013 mm; stroke 57.79 mm; cylinders 2; strokes 4; rpm_max_torque 8600 rpm; rpm_max_power 9800 rpm; rpm_limit 10200 rpm
primary_driver_teeth 24; primary_driven_teeth 60; chain_pitch 15.875 mm; chain_centre 605.0 mm; chain_links_fitted 106
chain_twenty_links 318.1 mm; rear_rolling_circumference 1905 mm; clutch_faces 14; clutch_mean_radius 56 mm; clutch_friction 0.14
clutch_springs 6; drive_efficiency 0.90; wheelbase 1312 mm; rake 27.2°; fork_offset 47 mm; front_wheel_radius 298.6 mm
rear_wheel_radius 304.6 mm; front_wheel_radius_as_measured 298.6 mm; rear_wheel_radius_as_measured 304.6 mm; mass 119.4 ± 0.3 kg
axle_load_front 56.3 ± 0.3 kg; axle_load_rear 63.1 ± 0.3 kg; rider_mass 73.0 kg; lift_rear 250 mm; lift_front_load_change 3.4 kg
fork_spring_rate 6.2 N/mm; fork_springs 2; fork_travel 105 mm; fork_rider_sag 34 mm; rear_spring_rate 15.0 N/mm; rear_springs 2
rear_motion_ratio 0.88; rear_travel 82 mm; rear_rider_sag 24 mm; unsprung_mass_front 12 kg; unsprung_mass_rear 14 kg
leakdown_supply 5.5 bar; sound_test_piston_speed 11 m/s
"""


def twin() -> list[Value]:
    """All values of the twin that its drive line, power and chassis need."""
    pairs = [one.strip().partition(" ") for line in PLAIN.strip().splitlines() for one in line.split(";")]
    out = [value(name, text) for name, _, text in pairs]
    for n, (driver, driven) in enumerate(GEARS, start=1):
        out += [value("gear_driver_teeth", str(driver), gear=str(n)), value("gear_driven_teeth", str(driven), gear=str(n))]
    for name, driver, driven in (("short", 17, 40), ("long", 18, 38)):
        out += [value("final_driver_teeth", str(driver), final=name), value("final_driven_teeth", str(driven), final=name)]
    for state, force in (("found", 150), ("fixed", 205)):
        out.append(value("clutch_spring_force", f"{force} N", state=state))
    for run, curve in CURVES.items():
        for n, (rpm, torque) in enumerate(curve):
            out += [value("dyno_speed", f"{rpm} rpm", run=run, point=str(n)), value("dyno_torque", f"{torque} N·m", run=run, point=str(n))]
    for run, air, pressure, vapour in (("DY-1", 14.0, 100.8, 1.0), ("DY-2", 18.0, 101.2, 1.3)):
        out += [value("air_temperature", f"{air} °C", run=run), value("air_pressure", f"{pressure} kPa", run=run)]
        out.append(value("vapour_pressure", f"{vapour} kPa", run=run))
    for session, speed, rpm in (("TS-1", 158.0, 8640), ("TS-3", 171.0, 8860)):
        at = {"gear": "6", "final": "short", "session": session}
        out += [value("logged_speed", f"{speed} km/h", **at), value("logged_rpm", f"{rpm} rpm", **at)]
    for side, pressure in (("left", 5.28), ("right", 5.20)):
        out.append(value("leakdown_cylinder", f"{pressure} bar", cylinder=side))
    out += [value("axle_load_front", "89.2 kg", state="with rider"), value("axle_load_rear", "103.2 kg", state="with rider")]
    for n, (force, length) in enumerate(((300, 20.3), (600, 40.3)), start=1):
        out += [value("spring_test_force", f"{force} N", wheel="rear", state=str(n))]
        out += [value("spring_test_length", f"{length} mm", wheel="rear", state=str(n))]
    return out


def with_other(values: list[Value], **instead: str) -> list[Value]:
    """The same with some untagged values replaced."""
    return [one for one in values if one.name not in instead or one.tags] + [value(name, text) for name, text in instead.items()]


NOTED = Role.NOTED
EXPECTED = {
    "primary_ratio": 2.5, "final_ratio.short": 2.35294, "final_ratio.long": 2.11111, "road_speed.6.short": 190.4238,
    "road_speed.6.long": 212.23705, "speed_per_1000.6.short": 19.431, "slip.TS-1.6.short": 5.88731, "slip.TS-3.6.short": 0.67302,
    "chain_links.short": 105.07208, "chain_centre_distance.short": 612.39911, "chain_wear": 0.18898, "clutch_torque": 91.66667,
    "clutch_capacity.found": 98.784, "clutch_capacity.fixed": 135.0048, "clutch_reserve.found": 1.07764, "clutch_reserve.fixed": 1.47278,
    "peak_power.DY-1": 29.86398, "peak_power.DY-2": 32.63486, "brake_mean_effective_pressure.DY-2": 11.87916,
    "weather_factor.DY-1": 0.96829, "weather_factor.DY-2": 0.97519, "corrected_peak_power.DY-2": 31.82523, "specific_power.DY-2": 91.16611,
    "trail": 100.61591, "front_weight_share": 47.15243, "front_weight_share.with-rider": 46.36175,
    "centre_of_gravity_behind_front": 693.36013, "centre_of_gravity_height": 494.07361, "front_wheel_rate": 15.67514,
    "rear_wheel_rate": 23.232, "front_rider_sag": 32.38095, "rear_rider_sag_share": 29.26829, "front_bounce_frequency": 2.26787,
    "rear_bounce_frequency": 2.56851, "leak_down.left": 4.0, "leak_down.right": 5.45455, "tested_spring_rate.rear": 15.0,
}  # fmt: skip
"""By id, in the unit of the figure, with all the digits that were printed."""
EXPECTED_WITH_OTHER_WHEEL = {"trail": 110.70443, "rake_in_use": 27.75460, "wheelbase_in_use": 1311.99661}
