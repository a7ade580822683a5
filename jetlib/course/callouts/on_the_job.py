"""What can be done on the job itself: the rig, the hose in the pipe, the tank, and what is seen of them."""

from dataclasses import dataclass, replace
from functools import cache

from jetlib.course.callouts.kinds import FIRST_MARK, Act, keyed
from jetlib.course.classroom.hidden_fault.deal import stop_readings
from jetlib.course.store.checked_row import among
from jetlib.errors import JetlibError
from jetlib.rig.change.factors import changed
from jetlib.rig.diagnosis.readings import EngineSound
from jetlib.rig.job.reach import reach
from jetlib.rig.point.operating_point import operating_point
from jetlib.units import both, one, si
from jetlib.units.refusal import cut

AT_THE_OPENING = 1.0  # m of hose in the pipe; common practice, no source
_STEP_BACK = 1.0  # m back before a stop is tried again
_STRONG = 0.6  # of the planned power of the jets: below that they do not clear what they were chosen for
_LEFT = 0.1  # of the tank: below that the pump draws air
#: Parts that can be put right on the job: how, minutes, and the faults that are gone then.
FIXES = {
    "jets": ("Clean the jets, fit the right set", 8, ("jet plugged", "jets worn", "smaller set", "larger set")),
    "hose": ("Straighten or replace the hose", 12, ("hose narrow",)),
    "suction": ("Clean the strainer, tighten the suction", 5, ("suction starved",)),
    "gauge": ("Fit a gauge that is known to be right", 6, ("gauge low", "gauge high")),
}
FIX_WORDS = {part: words for part, (words, *_) in FIXES.items()}
#: Causes beside those of the rig that may be named at the end.
CAUSES = {"pipe": "something in the pipe stopped the hose", "fill": "the filling hose gave less than was said"}
_TAKE_OUT = "The nozzle is in the pipe: take it out first."
_NEEDS_NOZZLE = ("jets", "swap jets", "opening set", "open hose")


@dataclass(frozen=True)
class Seen:
    """What somebody at the job sees: throttle (None: stopped), gauge (Pa), whether water returns to the tank (None
    where nobody can say), the engine, m of hose in the pipe, share of the tank, and what comes back at the opening."""

    throttle: float | None
    gauge: float
    returns: bool | None
    sound: str
    mark: float
    level: float
    back: str


@dataclass(frozen=True)
class Moment:
    """One step: the action, what was noticed, the minute after it, what is Seen; true: gauge (Pa) as it was, and the
    name of the rig's fault, as a tuple. readings: of a check."""

    action: tuple
    notes: tuple
    minute: float
    seen: Seen
    true: tuple
    readings: tuple = ()


@dataclass(frozen=True)
class End:
    """How a play ended: safe or not; act: the Act that ended it, or None; words."""

    safe: bool
    words: str
    act: Act = None


class ActionOver(Exception):
    """An action went no further: what stood in its way is noted, or has ended the play."""


class OnTheJob:
    """The job of a Play: its actions, as methods with a line before their names."""

    def _begin(self, plan):
        self.plan, surprise, run = plan, self.dealt.surprise, float(plan.job.drain.length)
        self.level = 1.0
        self._fault_at = surprise.at * run if surprise.fault and self.can_have_it else None
        self._block = self.dealt.drawn["block"] * run
        self._cells = [False] * max(int(self._block) + 1 - int(FIRST_MARK), 1)
        self._stops = [{"at": self._block, "left": 1, "strong": True, "open": self.dealt.kind.right == "needless"}]
        if surprise.stop:
            at = min(surprise.stop * run, self._block - 0.5)
            self._stops.insert(0, {"at": at, "left": surprise.tries or 10**6, "strong": False, "open": False})
        self._start_hidden(there=self._fault_at == 0.0)
        idle, full = self._point(0.0), self._point(self.setup.throttle)
        self.truths = {
            "idle": float(idle.gauge),
            "gauge": float(full.gauge),
            "flow": float(full.nozzle_flow),
            "reach": float(self._reach(full).distance),
        }

    # --- the job ---

    def _throttle(self, share):
        share = one(share, "fraction", field="throttle")
        self._or_it_ends(self.inside, "open")
        if self.throttle is None:
            self._pass(1.0)
        self.throttle, self.relieved = share, False
        self._pass(0.5)
        self._or_it_ends(not any(self._point(self.throttle).over_pressure), "rating")

    def _stop(self):
        if self.throttle is not None and self.throttle > 0.3:
            words = "You stopped from high throttle at once: throttle down slowly first, or the line gets a surge."
            self._risk(words, "07")
        self.throttle = None
        self._pass(1.0)

    def _relieve(self):
        self._only_if(self.throttle is None, "The pump runs: stop it first.")
        self.relieved = True
        self._note("You relieve the pressure at the outlet and check that the gauge reads zero.")
        self._pass(1.0)

    def _put_in(self):
        self._only_if(not self.inside, "The nozzle is in the pipe.")
        self.inside, self.mark = True, AT_THE_OPENING
        self._note(f"The nozzle and {both(AT_THE_OPENING, 'length', 1)} of hose are in the pipe.")
        self._pass(2.0)

    def _take_out(self):
        self._or_it_ends(self.throttle is None, "out")
        self._or_it_ends(self.relieved, "coupling")
        self._only_if(self.mark <= AT_THE_OPENING + 0.01, "There is hose in the pipe: pull it back first.")
        self.inside, self.mark = False, 0.0
        self._pass(1.0)

    def _feed(self, distance):
        distance = self._length(distance)
        wanted, end = self.mark + distance, float(self.plan.job.drain.length)
        if self.throttle is None:
            limit, words = min(FIRST_MARK, end), "Without the jets the hose goes no farther, and you do not push it."
        else:
            far = self._reach(self._point(self.throttle))
            limit = min(float(far.distance), end)
            words = {
                "run": "The mark says that this is the end of the run.",
                "hose": "There is no more hose on the reel.",
                "pull": "The hose goes no farther: the jets pull no harder than the hose drags.",
            }[far.limited_by]
        stop = next((each for each in self._stops if not each["open"] and each["at"] >= self.mark - 0.01), None)
        if stop is not None and stop["at"] < min(wanted, limit):
            if self.stopped_by is stop:
                self._risk("You pushed on against something that had stopped the hose: it can double up.", "09")
            self.stopped_by, limit = stop, stop["at"]
            words = f"The hose stops at {both(limit, 'length', 2)}. Dirty water stands in the opening."
        reached = max(self.mark, min(wanted, limit))
        if self._fault_at is not None and self.mark < self._fault_at <= reached:
            self._start_hidden(there=True)
        if reached < wanted - 0.01:
            self._note(words)
        moved, self.mark = reached - self.mark, reached
        self._pass(max(moved / self.plan.job.run_in_speed / 60.0, 0.5))

    def _back(self, distance):
        distance = self._length(distance)
        to = max(self.mark - distance, 0.0)
        self._or_it_ends(to >= AT_THE_OPENING or self.throttle is None, "out")
        if to < FIRST_MARK - 0.01 and self.throttle:
            self._risk("You pulled back past the first mark above idle: the nozzle was a step from the opening.", "11")
        to = max(to, AT_THE_OPENING)
        strong = self._strong()
        for at in range(max(int(to), int(FIRST_MARK)), int(self.mark) + 1):
            if strong and at - int(FIRST_MARK) < len(self._cells):
                self._cells[at - int(FIRST_MARK)] = True
        stop = self.stopped_by
        if stop is not None and stop["at"] - to >= _STEP_BACK - 0.01:
            if strong or not stop["strong"]:
                stop["left"] -= 1
                stop["open"] = stop["left"] <= 0
            elif self.throttle is not None:
                self._note("The jets are weak: nothing is cut.")
            self.stopped_by = None
        moved, self.mark = self.mark - to, to
        self._pass(max(moved / self.plan.job.pull_back_speed / 60.0, 0.5))

    def _wait(self):
        self._pass(1.0)

    def _fill(self):
        rate = self.dealt.fill * self.dealt.surprise.fill
        missing = (1.0 - self.level) * float(self.plan.job.tank.volume)
        minutes = min(missing / rate / 60.0, 25.0) if rate > 0.0 else 25.0
        self._only_if(self.throttle is None, "The pump runs: stop it before you leave it to fill the tank.")
        self._note(
            "You fill the tank, through an air gap."
            if minutes < 25.0
            else "The hose gives too little: you fetch water at the hydrant, with a meter and a backflow preventer."
        )
        self._pass(max(minutes, 0.5))
        self.level = 1.0

    def _check(self, key):
        check = keyed(self.checks(), key, "check")
        stopped = self.throttle is None
        self._or_it_ends(stopped or key != "suction", "coupling")
        self._or_it_ends(not check.opens or (stopped and self.relieved), "coupling")
        self._only_if(key not in _NEEDS_NOZZLE or not self.inside, _TAKE_OUT)
        still = stopped and not check.opens and key != "suction"
        self._only_if(not still, "The pump stands still: this is read while it runs.")
        self._readings = self._hidden.read_all(check.asked(self.plan.rig))
        self._pass(float(check.minutes))

    def _fix(self, part):
        _, minutes, faults = FIXES[among(part, FIXES, "part is")]
        self._or_it_ends(self.throttle is None and (part == "suction" or self.relieved), "coupling")
        self._only_if(part != "jets" or not self.inside, _TAKE_OUT)
        if self._hidden.fault.name in faults:
            self._cure()
        self._note("Done. Start at idle and look at the gauge.")
        self._pass(float(minutes))

    def _call(self, who):
        if who not in ("yard", "owner"):
            raise JetlibError(f"who is {cut(who)}; write yard or owner")
        if who == "owner":
            surprise = self.dealt.surprise
            self.handed_over = bool(surprise.stop) and not surprise.tries and self.stopped_by is not None
            self._note("The owner agrees: no force. A camera first, then a repair." if self.handed_over
                       else "The owner says: go on as agreed.")  # fmt: skip
            self._pass(5.0)
            return
        self._only_if(
            self.throttle is None and self.relieved and not self.inside,
            "The yard says: stop, relieve the pressure and take the nozzle out; then another machine is sent.",
        )
        self._cure()
        self._note("The yard brings another machine of the same kind, in good order.")
        self._pass(40.0)

    def _act(self, key):
        act = self.dealt.kind.act(key)
        if act.when == "by itself":
            raise JetlibError(f"{act.key} is nothing to choose: it follows from what is done; write another act")
        running = self.throttle is not None
        harms = {"always": True, "running": running, "pressure": running or not self.relieved}[act.when]
        self._or_it_ends(not harms, key)
        self._note(act.else_words or "Nothing happens: the pump is stopped and the pressure relieved.")
        self._pass(1.0)

    def _finish(self, cause):
        among(cause, self.causes(), "cause is")
        self._or_it_ends(self.throttle is None, "out")
        self._or_it_ends(self.relieved, "coupling")
        self._only_if(not self.inside, "The nozzle is still in the pipe: take it out first.")
        self.named = cause
        self._pass(10.0)
        words = "The drain runs." if self.drained else "The drain does not run freely yet."
        if self.handed_over and not self.drained:
            words = "Handed over to the owner, with what you found."
        self.end = End(True, f"The hose is on the reel. {words}")

    # --- inside ---

    def _start_hidden(self, *, there):
        """Another hidden fault, or none; with it the true OperatingPoint at a throttle and what is in sight there."""
        rig, hidden = self.plan.rig, self.dealt.hidden(self.plan.rig, there=there)
        self._hidden = hidden
        self._point = cache(lambda throttle: operating_point(changed(rig, hidden.changes, throttle), throttle))
        self._in_sight = cache(lambda at: hidden.read_all((*stop_readings(rig, at), EngineSound(True, at))))

    def _cure(self):
        self._fault_at = None
        self._start_hidden(there=False)

    def _reach(self, point):
        job = self.plan.job
        return reach(replace(point, rig=self.plan.rig), job.drain, hose_outside=job.hose_outside)

    def _strong(self):
        if self.throttle is None:
            return False
        now, planned = self._point(self.throttle), self.plan.point
        power, least = (each.nozzle_pressure * each.nozzle_flow for each in (now, planned))
        enough = si(self.dealt.kind.drain.get("least_flow", "0 gpm"), "flow")
        return float(now.nozzle_flow) >= enough and power >= _STRONG * least

    def _length(self, distance):
        self._only_if(self.inside, "The nozzle is not in the pipe.")
        return one(distance, "length", field="distance")

    def _pass(self, minutes):
        """Let time go by: the tank gets emptier, or fuller."""
        tank, surprise = self.plan.job.tank, self.dealt.surprise
        used = float(self._point(self.throttle).nozzle_flow) if self.throttle is not None else 0.0
        flow = min(self.dealt.fill * surprise.fill, used) - used
        level = self.level + flow * 60.0 * minutes / float(tank.volume)
        self.minutes += minutes
        self.gallons += used * 60.0 * minutes
        if level < _LEFT:
            self._note("The tank is empty: the pump draws air, the needle drops and the hose jumps. You stop the pump.")
            self._risk("The tank ran empty: watch its level, and stop in time.", "10")
            self.throttle = None
        self.level = max(level, _LEFT)

    def _note(self, words):
        self._notes.append(words)

    def _risk(self, words, lesson):
        self._note(words)
        self.risks.append((words, lesson))

    def _only_if(self, holds, words):
        """Go on if it holds; else say the words, and the action is over."""
        if not holds:
            self._note(words)
            raise ActionOver

    def _or_it_ends(self, safe, key):
        """Go on if it is safe; else the act of that key has ended the play."""
        if not safe:
            act = self.dealt.kind.act(key)
            self.end = End(False, act.happens, act)
            raise ActionOver

    def _look(self):
        kind, rig, throttle = self.dealt.kind, self.plan.rig, self.throttle
        clear = self._stops[-1]["open"] and self.washed > 0.5
        at = self.dealt.surprise
        signs = at.signs and (not at.fault or self._hidden.fault.name == at.fault) and (
            not at.stop or self.stopped_by is self._stops[0])  # fmt: skip
        back = "nothing" if throttle is None or self.mark < FIRST_MARK else kind.clean if clear else kind.dirty
        back = f"{back}; {at.signs}" if signs and throttle is not None else back
        gauge, returns, sound = 0.0, False if rig.valves else None, "off"
        if throttle is not None:
            needle, *water, engine = self._in_sight(throttle)
            gauge, returns, sound = float(needle.value), water[0].yes if water else None, engine.shown
        return Seen(throttle, gauge, returns, sound, self.mark, self.level, back)
