"""A rig in words, as every page about it has it, and its tables to hang up: by throttle, by flow in the hose, by
pressure at the jets.
"""

import unicodedata

import numpy as np

from jetlib.errors import JetlibError
from jetlib.paper.page.document import CAUTIONS, Document, Section
from jetlib.paper.page.style import fill
from jetlib.rig.parts.machine import Rig
from jetlib.rig.point.alone import hose_losses, jet_flows, pull
from jetlib.rig.point.operating_point import throttle_sweep
from jetlib.units import from_si, text, to_si
from jetlib.units.refusal import cut

SOURCE = "calculated by jetlib from the rig's data"
_ROWS = 16
_THROTTLES = (0.0, 0.25, 0.5, 0.75, 1.0)


def require_rig(rig, how):
    """JetlibError unless it is a Rig with jets that are open; `how` is the line that would do."""
    if not isinstance(rig, Rig):
        raise JetlibError(f"rig is {cut(rig)}; write {how}")
    if rig.outlet_shut or not rig.nozzle.effective_area > 0:
        raise JetlibError(f"no water can leave the nozzle of this rig; open a jet, then write {how}")


def file_part(named):
    """The name of a Rig or a Job as part of a file name."""
    usual = type(named).__name__.lower()
    plain = unicodedata.normalize("NFKD", named.name.lower()).encode("ascii", "ignore").decode()  # an accent goes alone
    kept = "".join(each if each.isalnum() else "-" for each in plain)
    return "-".join(part for part in kept.split("-") if part) or usual


def title_of(rig):
    """The rig's name, or what stands for one."""
    return rig.name or "A rig without a name"


def in_words(rig, system):
    """The rig in one line."""
    pump = rig.pump
    told = f"Pump sweeps {text(pump.rated_flow, 'flow', system)} at {text(pump.rated_speed, 'speed', system)}"
    if pump.rating is not None:
        told += f" and delivers {text(pump.delivered_flow, 'flow', system)} at {text(pump.rating, 'pressure', system)}"
    parts = [told]
    if rig.unloader is not None:
        parts.append(f"bypass valve set to {text(rig.unloader.setting, 'pressure', system)}")
    if rig.burst_disc is not None:
        parts.append(f"burst disc {text(rig.burst_disc.rating, 'pressure', system)}")
    parts += [hose_words(hose, system) for hose in rig.hoses]
    parts += [jet_words(jet, system) for jet in rig.nozzle.jets]
    return "; ".join(parts) + "."


def hose_words(hose, system):
    """A hose in a few words."""
    name = f"{hose.name}, " if hose.name else ""
    return f"{name}{text(hose.bore, 'hose_bore', system)} bore, {text(hose.length, 'length', system)} long"


def jet_words(jet, system):
    """A group of jets in a few words."""
    name = f"{jet.name}, " if jet.name else ""
    return f"{name}{jet.count} x {text(jet.bore, 'jet_bore', system)}"


def rig_tables(rig, *, system="US", paper="A4"):
    """The Document with three tables of one Rig: by throttle, by flow in the hose, by pressure at the jets."""
    require_rig(rig, "rig_tables(load_rig(path))")
    body = fill(
        "tables",
        cautions=CAUTIONS,
        by_throttle=_by_throttle(rig, system),
        by_flow=_by_flow(rig, system),
        hoses=[hose_words(hose, system) for hose in rig.hoses],
        by_pressure=_by_pressure(rig, system),
        jets=[jet_words(jet, system) for jet in rig.nozzle.jets],
        rated=_rated(rig, system),
    )
    title = f"Hose and jets of {title_of(rig)}"
    section = Section(title, body, SOURCE, None, in_words(rig, system))
    return Document(f"tables-{file_part(rig)}-{system.lower()}", (section,), system, paper)


def _by_throttle(rig, system):
    point = throttle_sweep(rig, _THROTTLES)
    return [
        (
            "idle" if throttle == 0 else "full" if throttle == 1 else f"{100 * throttle:.0f} %",
            text(point.gauge[at], "pressure", system),
            text(point.nozzle_flow[at], "flow", system),
            text(point.bypass_flow[at] + point.leak_flow[at], "flow", system),
            text(point.hose_loss[at] + point.fitting_loss[at], "pressure", system),
            text(point.nozzle_pressure[at], "pressure", system),
            text(point.reaction[at], "force", system),
        )
        for at, throttle in enumerate(_THROTTLES)
    ]


def round_steps(top, kind, system, most):
    """SI values from 0 to `top` at round numbers of the unit, at most `most` steps, an array."""
    end = from_si(top, kind, system)
    power = 10.0 ** np.floor(np.log10(end / most))
    step = next(factor * power for factor in (1, 2, 2.5, 5, 10) if factor * power >= end / most * 0.999999)
    return to_si(step * np.arange(int(end / step * 1.000001) + 1), kind, system)


def _by_flow(rig, system):
    flows = round_steps(1.1 * rig.pump.rated_flow, "flow", system, _ROWS)[1:]
    losses = hose_losses(rig, flows)
    return [
        (text(flow, "flow", system), *(text(each, "pressure", system) for each in (*here, here.sum())))
        for flow, here in zip(flows, losses.T, strict=True)
    ]


def _by_pressure(rig, system):
    highest = max(float(np.max(throttle_sweep(rig, _THROTTLES).gauge)), 1e6)
    pressures = round_steps(1.1 * highest, "pressure", system, _ROWS)[1:]
    flows, pulls = jet_flows(rig, pressures), np.broadcast_to(pull(rig, pressures), pressures.shape)
    return [
        (
            text(pressure, "pressure", system),
            *(text(each, "flow", system) for each in (*here, here.sum())),
            text(force, "force", system),
        )
        for pressure, here, force in zip(pressures, flows.T, pulls, strict=True)
    ]


def _rated(rig, system):
    """Words for each hose whose working pressure is written down."""
    return [
        f"{hose_words(hose, system)}: {text(hose.working_pressure, 'pressure', system)}"
        for hose in rig.hoses
        if hose.working_pressure is not None
    ]
