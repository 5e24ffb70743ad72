"""Set-up sheet: the settings of the last good session, large, on one A5; a record, never an instruction."""

from __future__ import annotations

import re

from dossier.model.edition import Edition
from dossier.model.forms.running import Session
from dossier.model.quantity import Quantity
from dossier.pages.page import Page, page
from dossier.pages.parts.due import left_of, part_name, used_shares
from dossier.pages.parts.links import linked
from dossier.pages.parts.numbers import capital, day, esc, number, unit_text, written
from dossier.pages.parts.sessions import jets_by_density
from dossier.pages.parts.tables import Sheet

FIRST_RIDE = (
    "spindles", "pinch bolts", "calliper / brake anchor", "throttle snaps shut", "kill switch", "steering stops", "tyres at pressure",
    "fuel and oil leaks", "chain",
)  # fmt: skip
LONG = 16
"""Letters that the large type holds on one line of an A5."""
Line = tuple[str, str, str]
"""What, its value (HTML), and a small remark (HTML)."""


@page("set-up", order=140)
def set_up(edition: Edition) -> Page | None:
    """What the paddock needs in five seconds; none where neither a session nor a setting is recorded."""
    running = edition.build.running
    last = last_good(edition)
    first, second = _main_lines(edition, last), _other_lines(edition)
    if not (first or second):
        return None
    sheet = Sheet()
    if last is not None:
        weather = ", ".join(
            filter(None, [f"{last.air.number} °C" if last.air else "", last.track or "", f"wind {last.wind}" if last.wind else ""])
        )
        sheet.say(
            f"As run at {linked(edition, last.id)}, {esc(last.place)}, {day(last.date)}: {esc(weather)}. A record, not an instruction.",
            "asrun",
        )
    else:
        sheet.say("As recorded; no session on a track is on file. A record, not an instruction.", "asrun")
    sheet.add(_big(first), _big(second))
    sheet.section("Before the first ride")
    sheet.add('<ul class="ticks">' + "".join(f"<li>{line}</li>" for line in FIRST_RIDE) + "</ul>")
    concessions = [one for one in edition.build.specification.concessions if one.safety]
    holds = " ".join(f"{linked(edition, one.id)} holds while: {linked(edition, one.limit)}." for one in concessions)
    drum = "Drum brakes fade and grab when hot. " if any("drum" in f"{b.type}" for b in edition.build.life.brakes) or concessions else ""
    sheet.say(f"Two gentle laps; stop; look again. {drum}{holds}", "then")
    due = _next_due(edition)
    if due:
        sheet.section("Next due")
        sheet.say(due, "then")
    if running.rev_limit_note:
        sheet.say(linked(edition, running.rev_limit_note), "then")
    return Page("set-up", "Set-up sheet", sheet.html, kind="setup", sections=tuple(sheet.sections))


def last_good(edition: Edition) -> Session | None:
    """The latest session at which no snag was found; failing that the latest."""
    sessions = sorted(edition.build.running.sessions, key=lambda one: one.date)
    bad = {snag.where for snag in edition.build.running.snags}
    good = [one for one in sessions if one.id not in bad]
    return next(reversed(good or sessions), None)


def _big(lines: list[Line]) -> str:
    shown = "".join(
        f"<div><dt>{name}</dt><dd{_long(value)}>{value}{f'<small>{remark}</small>' if remark else ''}</dd></div>"
        for name, value, remark in lines
    )
    return f'<dl class="big">{shown}</dl>' if lines else ""


def _long(value: str) -> str:
    """Words that would not stand on one line in the large letter are set smaller."""
    return ' class="long"' if len(re.sub(r"<[^>]*>", "", value)) > LONG else ""


def _main_lines(edition: Edition, last: Session | None) -> list[Line]:
    lines: list[Line] = []
    tyres = {one.wheel: one for one in edition.build.life.tyres}
    for n, wheel in enumerate(("front", "rear")):
        cold = last.tyres_cold[n] if last and len(last.tyres_cold) > n else None
        hot = last.tyres_hot[n] if last and len(last.tyres_hot) > n else None
        handover = tyres[wheel].pressure_cold if wheel in tyres else None
        shown = cold or handover
        if shown is not None:
            remarks = [
                f"hot {written(hot)}" if hot else "",
                f"handover sheet {written(handover)}" if handover and cold and handover != cold else "",
            ]
            lines.append((f"Tyres, cold, {wheel}", written(shown), "; ".join(filter(None, remarks))))
    if last and last.main_jets:
        lines.append(("Main jets" if len(last.main_jets) > 1 else "Main jet", esc(" / ".join(last.main_jets)), _by_weather(edition, last)))
    if last and (last.needle or last.needle_notch):
        lines.append(
            (
                "Needle",
                f"notch {last.needle_notch}" if last.needle_notch else esc(last.needle or ""),
                esc(last.needle or "") if last.needle_notch else "",
            )
        )
    lines += _ignition(edition)
    lines += _gearing(edition, last)
    limit, power = _noted(edition, "rpm_limit"), _noted(edition, "rpm_max_power")
    if limit is not None:
        lines.append(
            ("Rev limit", number(float(limit.number)), "rev/min" + (f"; greatest power {number(float(power.number))}" if power else ""))
        )
    if last and last.plugs:
        lines.append(("Plug seen", esc(last.plugs), f"after {esc(last.id)}"))
    return lines


def _by_weather(edition: Edition, last: Session) -> str:
    """What jets were run in what air: by its density where the pressure was written down, else by its temperature."""
    by_density = jets_by_density(edition)
    return f"by air density, {by_density}" if by_density else _other_jets(edition, last)


def _other_jets(edition: Edition, last: Session) -> str:
    others = [one for one in edition.build.running.sessions if one.main_jets and one.main_jets != last.main_jets and one.plugs]
    if not others:
        return ""
    one = others[-1]
    air = f" at {one.air.number} °C" if one.air else ""
    return f"{esc(' / '.join(dict.fromkeys(one.main_jets)))}: {esc(one.plugs or '')}{air}"


def _ignition(edition: Edition) -> list[Line]:
    for name, unit in (("ignition_advance", "°"), ("ignition_advance_travel", "mm")):
        found = _built(edition, name) or _noted(edition, name)
        if found is not None:
            return [("Ignition, full", number(float(found.number), found.decimals) + unit_text(unit), "before top dead centre")]
    return []


def _gearing(edition: Edition, last: Session | None) -> list[Line]:
    driver, driven = _by_final(edition, "final_driver_teeth"), _by_final(edition, "final_driven_teeth")
    if not driver or not driven:
        return []
    tag = last.final if last and last.final in driver else next(iter(driver))
    others = [f"{other}: {driver[other]} / {driven[other]}" for other in driver if other != tag and other in driven]
    speed = next(
        (
            one
            for one in edition.figures("speed_per_1000")
            if dict(one.tags).get("final", tag) == tag and dict(one.tags).get("gear", "") in _top(edition)
        ),
        None,
    )
    remark = [f"{number(speed.value, 1)} km/h per 1,000 in top" if speed and speed.value is not None else "", *others]
    return [("Gearing", f"{driver[tag]} / {driven.get(tag, '?')}", esc("; ".join(filter(None, remark))))]


def _top(edition: Edition) -> set[str]:
    gears = [dict(one.tags)["gear"] for one in edition.figures("speed_per_1000") if "gear" in dict(one.tags)]
    return {max(gears, key=int)} if gears and all(gear.isdigit() for gear in gears) else {""}


def _by_final(edition: Edition, name: str) -> dict[str, str]:
    measured = edition.build.measurements
    entries = [
        one
        for group in (measured.declared, measured.noted, measured.as_built)
        for one in group
        if one.what == name and one.value is not None
    ]
    return {one.final or "": str(one.value.number) for one in entries if one.value is not None}


def _other_lines(edition: Edition) -> list[Line]:
    lines: list[Line] = []
    links, pitch = _built(edition, "chain_links_fitted"), _any(edition, "chain_pitch")
    if links is not None:
        lines.append(("Chain", f"{links.number} links", written(pitch) if pitch else ""))
    for name, title in (
        ("tank_volume", "Tank"),
        ("premix_ratio", "Fuel to oil"),
        ("fork_rider_sag", "Fork sag, rider up"),
        ("rear_rider_sag", "Rear sag, rider up"),
    ):
        found = _any(edition, name)
        if found is not None:
            free = _any(edition, name.replace("rider", "free")) if "rider" in name else None
            shown = (
                f"{found.number} : 1"
                if name == "premix_ratio"
                else number(float(found.number), found.decimals) + unit_text(found.unit.sign)
            )
            lines.append((title, shown, f"free {written(free)}" if free else ""))
    lines += [(capital(esc(one.what)), esc(one.value), esc(one.note or "")) for one in edition.build.running.settings]
    lines += [(capital(esc(one.where)), esc(one.what), written(one.amount) if one.amount else "") for one in edition.build.work.fluids]
    return lines


def _find(edition: Edition, name: str, groups: tuple[str, ...]) -> Quantity | None:
    for group in groups:
        for one in getattr(edition.build.measurements, group):
            if one.what == name and one.quantities:
                found: Quantity = one.quantities[0]
                return found
    return None


def _built(edition: Edition, name: str) -> Quantity | None:
    return _find(edition, name, ("as_built",))


def _noted(edition: Edition, name: str) -> Quantity | None:
    return _find(edition, name, ("noted", "declared", "as_built"))


def _any(edition: Edition, name: str) -> Quantity | None:
    return _find(edition, name, ("as_built", "noted", "declared"))


def _next_due(edition: Edition) -> str:
    words = []
    for one in used_shares(edition)[:3]:
        left = left_of(edition, one)
        if left is not None and left.value is not None:
            late = left.value < 0
            words.append(
                f"<b>{esc(part_name(edition, one))}</b> {'past due by' if late else 'in'} {number(abs(left.value), left.decimals)} {esc(left.unit)}"
            )
    codes = ", ".join(f"{esc(one.dot)} {one.wheel}" for one in edition.build.life.tyres if one.dot)
    undated = [one.wheel for one in edition.build.life.tyres if not one.dot]
    words += [f"Tyre codes {codes}"] if codes else []
    words += [f"<b>Undated tyre</b>, {' and '.join(undated)}: display only"] if undated else []
    return ". ".join(words) + "." if words else ""
