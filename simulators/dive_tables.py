"""The tables of a scenario file that make the dive: sea, banks, divers, sags."""

from typing import Final

from shared.toml_file import Section
from simulators.truth.air_plant import Bank, Breathing, Leak, Regulator, Sag
from simulators.truth.dive import DiverModel
from simulators.truth.hose import Blow, Hose
from simulators.truth.profile import Profile, Waypoint
from simulators.truth.sea import Heave, Sea

_LEG_KEYS: Final = ("stay_s", "until_s", "to_fsw")

# The ends of each `number` keep a slip of the pen out; they decide nothing in the dive.


def read_sea(top: Section, seed: int) -> Sea:
    """The table [sea]; flat water where it is left out."""
    sea = top.table("sea", required=False)
    return Sea(
        wave_height_ft=sea.number("wave_height_ft", 0.0, 30.0, default=0.0),
        wave_period_s=sea.number("wave_period_s", 1.0, 30.0, default=3.0),
        seed=seed,
    )


def read_banks(top: Section) -> tuple[Bank, ...]:
    """The tables [[bank]]: each feeds one supply."""
    banks: list[Bank] = []
    for table in top.tables("bank"):
        bank = Bank(
            supply=table.text("supply"),
            start_psig=table.number("start_psig", 0.0, 6000.0),
            flasks=table.integer("flasks", 1, 1000),
            floodable_cuft=table.number("floodable_cuft", 0.05, 100.0),
            leaks=tuple(_leak(leak) for leak in table.tables("leak")),
        )
        if bank.supply and bank.supply in [other.supply for other in banks]:
            table.complain("supply", f"{bank.supply!r} has a bank already")
        banks.append(bank)
    return tuple(banks)


def _leak(table: Section) -> Leak:
    leak = Leak(
        from_s=table.number("from_s", 0.0, 43_200.0),
        to_s=table.number("to_s", 0.0, 43_200.0),
        scfm=table.number("scfm", 0.0, 1000.0),
    )
    if leak.to_s <= leak.from_s:
        table.complain("to_s", f"{leak.to_s:g} is not after from_s = {leak.from_s:g}")
    return leak


def read_divers(top: Section, seed: int, end_s: float) -> tuple[DiverModel, ...]:
    """The tables [[diver]], each with its sags from the tables [[sag]]."""
    tables = top.tables("diver", least=1)
    names = [table.text("name") for table in tables]
    for name, table in zip(names, tables, strict=True):
        if names.count(name) > 1:
            table.complain("name", f"{name!r} is named twice")
    sags = _sags(top, names, end_s)
    return tuple(
        _diver(table, seed, end_s, tuple(sag for whose, sag in sags if whose == name))
        for name, table in zip(names, tables, strict=True)
    )


def _sags(top: Section, names: list[str], end_s: float) -> list[tuple[str, Sag]]:
    found = []
    for table in top.tables("sag"):
        sag = Sag(
            from_s=table.number("from_s", 0.0, end_s),
            fall_s=table.number("fall_s", 0.0, 3600.0),
            hold_s=table.number("hold_s", 0.0, 3600.0),
            recover_s=table.number("recover_s", 0.0, 3600.0),
            drop_psi=table.number("drop_psi", 0.0, 1000.0),
        )
        found.append((table.one_of("diver", names), sag))
    return found


def _diver(table: Section, seed: int, end_s: float, sags: tuple[Sag, ...]) -> DiverModel:
    name = table.text("name")
    profile, moments = _legs(table, end_s)
    return DiverModel(
        name=name,
        supply=table.text("supply"),
        profile=profile,
        heave=Heave(
            height_fsw=table.number("heave_fsw", 0.0, 30.0, default=0.0),
            period_s=table.number("heave_period_s", 0.5, 60.0, default=6.0),
            seed=seed,
            name=name,
        ),
        hose=_hose(table, end_s),
        breathing=_breathing(table, end_s),
        regulator=Regulator(
            set_psig=table.number("set_psig", 0.0, 1000.0),
            droop_psi_per_scfm=table.number("droop_psi_per_scfm", 0.0, 100.0, default=0.0),
            sags=sags,
        ),
        moments=moments,
        shifts=_shifts(table, end_s),
    )


def _shifts(table: Section, end_s: float) -> tuple[tuple[float, str], ...]:
    """The shifts of a diver to other supplies, in the order of time."""
    found = [(shift.number("at_s", 0.0, end_s), shift.text("supply")) for shift in table.tables("shift")]
    return tuple(sorted(found))


def _breathing(table: Section, end_s: float) -> Breathing:
    return Breathing(
        acfm=table.number("acfm", 0.0, 20.0),
        breaths_per_min=table.number("breaths_per_min", 1.0, 60.0, default=15.0),
        pulse=table.number("pulse", 0.0, 1.0, default=0.0),
        from_s=table.number("on_air_from_s", 0.0, end_s, default=0.0),
        to_s=table.number("on_air_to_s", 0.0, end_s, default=end_s),
    )


def _hose(table: Section, end_s: float) -> Hose:
    blows = tuple(_blow(blow, end_s) for blow in table.tables("blow"))
    return Hose(
        length_ft=table.number("hose_ft", 0.0, 2000.0),
        blows=tuple(sorted(blows, key=lambda blow: blow.from_s)),
        settle_s=table.number("settle_s", 0.01, 60.0, default=0.8),
    )


def _blow(table: Section, end_s: float) -> Blow:
    blow = Blow(
        from_s=table.number("from_s", 0.0, end_s),
        to_s=table.number("to_s", 0.0, end_s),
        flow_fsw=table.number("flow_fsw", 0.0, 100.0),
    )
    if blow.to_s <= blow.from_s:
        table.complain("to_s", f"{blow.to_s:g} is not after from_s = {blow.from_s:g}")
    return blow


def _legs(diver: Section, end_s: float) -> tuple[Profile, tuple[tuple[str, float], ...]]:
    """The profile from legs, one after the other from the surface at 0, and the moments that they begin."""
    here = Waypoint(0.0, 0.0)
    waypoints, moments = [here], []
    for leg in diver.tables("leg"):
        if leg.has("begins"):
            moments.append((leg.text("begins"), here.at_s))
        here = _leg_end(leg, here)
        waypoints.append(here)
        if here.at_s > end_s:
            leg.complain(_leg_key(leg), f"ends at {here.at_s:g} s, the scenario already at {end_s:g} s")
    return Profile.through(tuple(waypoints)), tuple(moments)


def _leg_end(leg: Section, here: Waypoint) -> Waypoint:
    """Where a leg ends: `stay_s` or `until_s` at this depth, or `to_fsw` at `rate_fsw_min`."""
    kind = _leg_key(leg)
    if sum(leg.has(key) for key in _LEG_KEYS) != 1:
        leg.complain(kind, "a leg has one of stay_s, until_s, or to_fsw with rate_fsw_min")
        return here
    if kind == "stay_s":
        return Waypoint(here.at_s + leg.number("stay_s", 0.0, 43_200.0), here.depth_fsw)
    if kind == "until_s":
        return Waypoint(leg.number("until_s", here.at_s, 43_200.0), here.depth_fsw)
    to_fsw = leg.number("to_fsw", 0.0, 400.0)
    minutes = abs(to_fsw - here.depth_fsw) / leg.number("rate_fsw_min", 1.0, 400.0)
    return Waypoint(here.at_s + minutes * 60.0, to_fsw)


def _leg_key(leg: Section) -> str:
    """The key that says where a leg ends; `to_fsw` when there is none."""
    return next((key for key in _LEG_KEYS if leg.has(key)), "to_fsw")
