"""What the pages about a rig have in common: the rig in words, and where its numbers come from."""

import unicodedata

from jetlib.errors import JetlibError
from jetlib.rig.parts.machine import Rig
from jetlib.units import text
from jetlib.units.refusal import cut

SOURCE = "calculated by jetlib from the rig's data"


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
