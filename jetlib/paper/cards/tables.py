"""Tables of a rig to hang up: what its hose takes at each flow, what its jets pass at each pressure, its throttle."""

import numpy as np

from jetlib.paper.cards.rig_words import SOURCE, file_part, hose_words, in_words, jet_words, require_rig, title_of
from jetlib.paper.page.axes import round_steps
from jetlib.paper.page.document import CAUTIONS, Document, Section, require
from jetlib.paper.page.style import caution, table
from jetlib.rig.point.alone import hose_losses, jet_flows, pull
from jetlib.rig.point.operating_point import throttle_sweep
from jetlib.units import text

_ROWS = 16
_THROTTLES = (0.0, 0.25, 0.5, 0.75, 1.0)


def rig_tables(rig, *, system="US", paper="A4"):
    """The Document with three tables of one Rig: by throttle, by flow in the hose, by pressure at the jets."""
    require(system, paper)
    require_rig(rig, "rig_tables(load_rig(path))")
    parts = [
        caution(*CAUTIONS),
        "<h2>The rig by throttle</h2>",
        _by_throttle(rig, system),
        "<h2>What the hose loses</h2>",
        "<p>Pressure lost at each flow through the hose. Fittings: end fittings, swivels and the nozzle's body.</p>",
        _by_flow(rig, system),
        "<h2>What the jets pass</h2>",
        "<p>Flow out of each group of jets, and the pull of all along the hose, by the nozzle pressure.</p>",
        _by_pressure(rig, system),
        _held_to(rig, system),
    ]
    title = f"Hose and jets of {title_of(rig)}"
    section = Section(title, "\n".join(parts), SOURCE, None, in_words(rig, system))
    return Document(f"tables-{file_part(rig)}-{system.lower()}", (section,), system, paper)


def _by_throttle(rig, system):
    point = throttle_sweep(rig, _THROTTLES)
    heads = (
        "Throttle",
        "Gauge",
        "At the nozzle",
        "Back to the tank",
        "Hose and fittings lose",
        "Nozzle pressure",
        "Pull",
    )
    rows = [
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
    return table(heads, rows, numbers=range(1, 7), style="wide close")


def _by_flow(rig, system):
    flows = np.array(round_steps(1.1 * rig.pump.rated_flow, "flow", system, most=_ROWS)[1:])
    losses = hose_losses(rig, flows)
    heads = ("Flow", *(hose_words(hose, system) for hose in rig.hoses), "fittings", "all")
    rows = [
        (text(flow, "flow", system), *(text(each, "pressure", system) for each in (*here, here.sum())))
        for flow, here in zip(flows, losses.T, strict=True)
    ]
    return table(heads, rows, numbers=range(len(heads)), style="close")


def _by_pressure(rig, system):
    highest = max(float(np.max(throttle_sweep(rig, _THROTTLES).gauge)), 1e6)
    pressures = np.array(round_steps(1.1 * highest, "pressure", system, most=_ROWS)[1:])
    flows, pulls = jet_flows(rig, pressures), np.broadcast_to(pull(rig, pressures), pressures.shape)
    heads = ("Pressure", *(jet_words(jet, system) for jet in rig.nozzle.jets), "all", "pull")
    rows = [
        (
            text(pressure, "pressure", system),
            *(text(each, "flow", system) for each in (*here, here.sum())),
            text(force, "force", system),
        )
        for pressure, here, force in zip(pressures, flows.T, pulls, strict=True)
    ]
    return table(heads, rows, numbers=range(len(heads)), style="close")


def _held_to(rig, system):
    rated = [
        f"{hose_words(hose, system)}: {text(hose.working_pressure, 'pressure', system)}"
        for hose in rig.hoses
        if hose.working_pressure is not None
    ]
    told = "Working pressure of the hose as written down: " + "; ".join(rated) + ". " if rated else ""
    limits = (
        "A number in these tables does not authorize you to run there. "
        + told
        + "The lowest rating in the line is the limit."
    )
    return caution(
        limits, "With drilled jets or unmeasured hose, trust the flows to about 10 % until the rig is measured."
    )
