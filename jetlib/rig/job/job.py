"""A job: the drain, what is in it, the way in, the tank, and how it will be worked."""

from dataclasses import dataclass

from jetlib.errors import JetlibError
from jetlib.physics.values import plain
from jetlib.rig.job.flushing import DEBRIS
from jetlib.rig.parts.machine import Hose
from jetlib.rig.parts.part import ABOVE_ZERO, Part, quantity, require_choice, require_kind, several
from jetlib.rig.parts.site import Drain, Tank
from jetlib.units.given import Length, Share, Temperature, Velocity
from jetlib.units.refusal import cut


@dataclass(frozen=True, eq=False)
class Job(Part):
    """One drain to be jetted.

    debris: a key of DEBRIS. access_bore (m): the way in, None where it is as wide as the pipe. hose_outside (m): hose
    between machine and entry. nozzle_length (m): nozzle with the stiff piece behind it; nozzle_diameter (m).
    hose_stock: Hoses on the vehicle that could be added. throttle 0 to 1. altitude (m), air_temperature and
    water_temperature (K): the rig's own unless given. run_in_speed, pull_back_speed (m/s): how fast the hose is let in
    and brought back, *common practice, no source*; passes: how often.

    >>> job = Job(Drain("4 in", "150 ft"), Tank("100 gal"), passes=2)
    >>> both(job.work_time, "duration")
    '22.9 min'
    """

    drain: Drain
    tank: Tank
    debris: str = "paper and sludge"
    access_bore: Length | None = quantity("pipe_bore", None, optional=True)
    hose_outside: Length = quantity("length", 0.0)
    nozzle_length: Length | None = quantity("pipe_bore", None, optional=True)
    nozzle_diameter: Length | None = quantity("pipe_bore", None, optional=True)
    hose_stock: tuple = several(Hose, 'Job(hose_stock=[Hose("1/2 in", "100 ft")], …)')
    throttle: Share = quantity("fraction", 1.0)
    altitude: Length | None = quantity("altitude", None, optional=True)
    air_temperature: Temperature | None = quantity("temperature", None, optional=True)
    water_temperature: Temperature | None = quantity("temperature", None, optional=True)
    run_in_speed: Velocity = quantity("velocity", 0.2, span=ABOVE_ZERO, fix='"0.5 ft/s"')
    pull_back_speed: Velocity = quantity("velocity", 0.1, span=ABOVE_ZERO, fix='"0.5 ft/s"')
    passes: int = 1
    name: str = ""

    def _check(self):
        require_kind(self.drain, Drain, "drain", 'Job(drain=Drain(bore="4 in", length="150 ft"), …)')
        require_kind(self.tank, Tank, "tank", 'Job(tank=Tank("100 gal"), …)')
        require_choice(self.debris, DEBRIS, "debris", 'debris="coarse sand"')
        if isinstance(self.passes, bool) or not isinstance(self.passes, int) or not 1 <= self.passes <= 50:
            raise JetlibError(f"passes is {cut(self.passes)}; allowed: a whole number 1 to 50; write passes=2")
        for part in (self, self.drain, self.tank, *self.drain.bends, *self.hose_stock):
            for name, value in vars(part).items():
                if getattr(value, "ndim", 0):
                    owner = type(part).__name__
                    raise JetlibError(f"{name} of {owner} is an array; a job is planned for one drain at a time")

    @property
    def grain(self) -> float | None:
        """Size of the debris' grains, m; None where it has none."""
        return DEBRIS[self.debris]

    @property
    def opening(self) -> float:
        """The narrowest place on the way in, m."""
        return self.drain.bore if self.access_bore is None else min(self.drain.bore, self.access_bore)

    @property
    def pull_back_time(self) -> float:
        """Time to bring the nozzle back once, s."""
        return plain(self.drain.length / self.pull_back_speed)

    @property
    def work_time(self) -> float:
        """Time with the jets on, all passes in and back, s."""
        return plain(self.passes * (self.drain.length / self.run_in_speed + self.pull_back_time))
