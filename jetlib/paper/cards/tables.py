"""Tables of a rig to hang up: what its hose takes at each flow, what its jets pass at each pressure, its throttle."""

import numpy as np

from jetlib.paper.cards.rig_words import SOURCE, file_part, hose_words, in_words, jet_words, require_rig, title_of
from jetlib.paper.page.axes import round_steps
from jetlib.paper.page.document import CAUTIONS, Document, Section, require
from jetlib.paper.page.style import fill
from jetlib.rig.point.alone import hose_losses, jet_flows, pull
from jetlib.rig.point.operating_point import throttle_sweep
from jetlib.units import text

_ROWS = 16
_THROTTLES = (0.0, 0.25, 0.5, 0.75, 1.0)


def rig_tables(rig, *, system="US", paper="A4"):
    """The Document with three tables of one Rig: by throttle, by flow in the hose, by pressure at the jets."""
    require(system, paper)
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


def _by_flow(rig, system):
    flows = np.array(round_steps(1.1 * rig.pump.rated_flow, "flow", system, most=_ROWS)[1:])
    losses = hose_losses(rig, flows)
    return [
        (text(flow, "flow", system), *(text(each, "pressure", system) for each in (*here, here.sum())))
        for flow, here in zip(flows, losses.T, strict=True)
    ]


def _by_pressure(rig, system):
    highest = max(float(np.max(throttle_sweep(rig, _THROTTLES).gauge)), 1e6)
    pressures = np.array(round_steps(1.1 * highest, "pressure", system, most=_ROWS)[1:])
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
