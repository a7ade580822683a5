"""Four factors of a rig fitted to its readings, those it can be told by, with one wild reading found out.

Weighted nonlinear least squares by Levenberg's and Marquardt's method (Marquardt, J. Soc. Ind. Appl. Math. 11, 1963,
431) in the logarithms of the factors. A factor that the readings cannot tell better than is known without them is
held at the rig's own value, and what is not known about it goes into the errors of the others (consider parameters:
Schmidt, in Adv. Control Syst. 3, 1966). The gauge's own error is common to all its readings and counted as such.
"""

from dataclasses import dataclass

import numpy as np

from jetlib.rig.change.factors import CALIBRATED, RigFactors
from jetlib.rig.diagnosis.readings import chi_squared_limit, predictions

_STEP = 1e-4  # of a logarithm, for slopes; the solver is good to 1e-10
_MOST_STEPS, _FAR = 25, 1.2  # of a logarithm: factors from 0.3 to 3.3
_WILD = 3.5  # deviations from what the others say: one clean set of ten readings in two hundred has such a one
_SUSPECT, _ACCEPTED = 1.645, 2.326  # deviations: one chance in twenty, one in a hundred
_SUSPECTS = 4  # readings left out in turn when they do not agree
_SHOWN = 6.63  # gain of the sum of squares that comes by chance once in a hundred (chi-squared, one more factor)
_NOT_THE_VALVE = np.arange(4) != 3
_FREE = 4.0  # how much wider than is known beforehand the first search may go


@dataclass
class Fit:
    """The four logarithms fitted (or held, where not `active`), and all that is known of how good they are."""

    logs: np.ndarray
    active: np.ndarray  # bool
    covariance: np.ndarray  # (4, 4), of the logs, those held with what was known of them beforehand
    squares: float  # sum of the squares of the whitened residuals
    spare: int  # readings beyond the number fitted
    needle_off: float  # Pa, by how much the gauge itself seems to read high


@dataclass
class Search:
    """Where the starts of a search ended, one a row: logs, whitened residuals, their slopes, sums of squares."""

    logs: np.ndarray
    residuals: np.ndarray
    slopes: np.ndarray
    squares: np.ndarray


class Problem:
    """Numbers read on a rig, and what they would be for any logarithms of the four factors."""

    def __init__(self, rig, readings, before, needle):
        self.rig, self.readings, self.before, self.needle = rig, list(readings), before, needle
        self.values = np.array([each.value for each in readings])
        self.errors = np.array([each.error for each in readings])
        self.widths = np.array([getattr(before, name) for name in CALIBRATED])
        self.gauges = [at for at, each in enumerate(readings) if each.kind == "pressure" and not each.nozzle_off]
        longest = max((hose.length for hose in rig.hoses), default=1.0)
        self.most = np.array([_FAR, min(_FAR, np.log(4999.0 / max(longest, 1e-9))), _FAR, _FAR])
        # The needle is off by one and the same pressure in all its readings: the errors are whitened for that.
        self.shared = np.array([needle if each.needle else 0.0 for each in readings]) / self.errors
        size = self.shared @ self.shared
        self.whiten = np.eye(len(self.shared))
        if size > 0:
            self.whiten -= (1.0 - 1.0 / np.sqrt(1.0 + size)) / size * np.outer(self.shared, self.shared)

    def without(self, place):
        kept = self.readings[:place] + self.readings[place + 1 :]
        return Problem(self.rig, kept, self.before, self.needle)

    def predict(self, logs, readings=None):
        """SI readings, (rows of logs, readings)."""
        logs = np.atleast_2d(logs)
        factors = dict(zip(CALIBRATED, np.exp(logs).T, strict=True))
        readings = self.readings if readings is None else readings
        if not readings:
            return np.zeros((len(logs), 0))
        found = predictions(readings, self.rig, RigFactors(**factors))
        return np.stack([np.broadcast_to(each, len(logs)) for each in found], axis=1)

    def values_and_slopes(self, logs, readings=None):
        """SI readings (starts, readings) and their slopes (starts, factors, readings) with the logs (starts, 4)."""
        steps = np.concatenate([np.zeros((1, 4)), _STEP * np.eye(4), -_STEP * np.eye(4)])
        found = self.predict((logs[:, np.newaxis] + steps).reshape(-1, 4), readings).reshape(len(logs), 9, -1)
        return found[:, 0], (found[:, 1:5] - found[:, 5:]) / (2.0 * _STEP)

    def residuals_and_slopes(self, logs):
        """Whitened residuals (starts, readings) and slopes (starts, readings, factors)."""
        values, slopes = self.values_and_slopes(logs)
        residuals = (self.values - values) / self.errors
        return residuals @ self.whiten, np.moveaxis(slopes / self.errors @ self.whiten, 1, 2)

    def starts(self):
        """A few places to start from: the rig as written, the jets or the valve as the gauge alone would have them."""
        jets, valve = 0.0, 0.0
        if self.gauges:
            lowest = min(self.gauges, key=lambda at: self.readings[at].throttle)
            usual = self.predict(np.zeros(4))[0, lowest]
            jets = -0.5 * np.log(np.clip(self.values[lowest], 1e4, None) / max(usual, 1e4))
            if self.rig.unloader is not None:
                valve = np.log(max(self.values[self.gauges].max(), 1e4) / self.rig.unloader.setting) - 0.03
        found = [(j, 0.0, 0.0, v) for j in {0.0, jets} for v in {0.0, valve}]
        return np.clip(found, -self.most, self.most)

    def search(self, logs, active, pull, enough):
        """The Search from each of the starts `logs` (starts, 4), all at once; where not `active` (starts, 4) it stays.

        pull (4,): weight that draws each back to 0. enough: gain of the sum of squares below which a start is done.
        """
        logs, count = np.array(logs, dtype=float), len(logs)
        held = np.where(active, 0.0, 1.0)
        residuals, slopes = self.residuals_and_slopes(logs)
        squares = np.square(residuals).sum(axis=1) + np.square(logs) @ pull
        damping = np.full(count, 1e-3)
        for _ in range(_MOST_STEPS):
            own = slopes * active[:, np.newaxis]
            normal = np.einsum("bni,bnj->bij", own, own)
            diagonal = np.einsum("bii->bi", normal)
            diagonal += active * pull
            gradient = np.einsum("bni,bn->bi", own, residuals) - active * pull * logs
            diagonal += damping[:, np.newaxis] * diagonal + 1e-9 + held
            step = np.clip(np.linalg.solve(normal, gradient[..., np.newaxis])[..., 0], -0.5, 0.5)
            trial = np.clip(logs + step, -self.most, self.most)
            step = trial - logs
            if np.all(((gradient * step).sum(axis=1) < enough) & (damping <= 1e-3)):
                # So near that the step may go along straight lines, without another look at the rig.
                residuals = residuals - np.einsum("bni,bi->bn", slopes, step)
                return Search(trial, residuals, slopes, np.square(residuals).sum(axis=1) + np.square(trial) @ pull)
            moved = np.abs(step).max(axis=1)
            new_residuals, new_slopes = self.residuals_and_slopes(trial)
            new_squares = np.square(new_residuals).sum(axis=1) + np.square(trial) @ pull
            better = new_squares <= squares
            gain = np.where(better, squares - new_squares, 0.0)
            logs = np.where(better[:, np.newaxis], trial, logs)
            residuals = np.where(better[:, np.newaxis], new_residuals, residuals)
            slopes = np.where(better[:, np.newaxis, np.newaxis], new_slopes, slopes)
            squares = np.where(better, new_squares, squares)
            damping = np.clip(np.where(better, damping * 0.1, damping * 10.0), 1e-9, 1e9)
            if np.all((moved < 1e-6) | (better & (gain < enough)) | (damping >= 1e9)):
                break
        return Search(logs, residuals, slopes, squares)

    def fit(self):
        """The Fit: what the readings can tell, fitted, and the rest held."""
        pull = 1.0 / np.square(_FREE * self.widths)
        starts = self.starts()
        found = self.search(starts, np.ones(starts.shape, dtype=bool), pull, enough=1e-2)
        best = int(np.argmin(found.squares))
        for _ in range(3):
            # Beside what is told, the same with a valve that never opens: asked for below, and cheaper in one go.
            active = _told(found.slopes[best] * self.widths)
            tried = np.stack([active, active & _NOT_THE_VALVE])[: 1 + int(active[3])]
            starts = np.where(active, found.logs[best], 0.0) + np.zeros((len(tried), 4))
            starts[1:, 3] = _FAR
            found, best = self.search(starts, tried, np.zeros(4), enough=1e-5), 0
            told = _told(found.slopes[0] * self.widths)
            if np.array_equal(told, active):
                break
        # A valve may be open as written down and shut when fitted: it then stays where it was found to be shut.
        row, active = 0, active & told
        # A valve that opens a little explains any low reading at full throttle, so it must explain a good deal.
        if active[3] and found.residuals[1] @ found.residuals[1] <= found.residuals[0] @ found.residuals[0] + _SHOWN:
            row, active = 1, active & _NOT_THE_VALVE
            found.logs[1, 3] = self.least_valve(found.residuals[1])
        residuals = found.residuals[row]
        return Fit(
            logs=found.logs[row],
            active=active,
            covariance=self.covariance(found.slopes[row], active),
            squares=float(residuals @ residuals),
            spare=len(self.values) - int(active.sum()),
            needle_off=self.needle * float(self.shared @ self.whiten @ residuals),
        )

    def least_valve(self, residuals):
        """Logarithm of the least setting at which the valve stays shut with these residuals; 0 at least."""
        # The residuals are whitened; undone, they say what each gauge would have read.
        read = self.values - np.linalg.solve(self.whiten, residuals) * self.errors
        highest = read[self.gauges].max() / self.rig.unloader.setting if self.gauges else 1.0
        return np.log(max(highest, 1.0))

    def most_suspect(self, fit):
        """Places of the few readings without which the sum of squares would fall most, by the slopes at the fit."""
        (values,), (slopes,) = self.values_and_slopes(fit.logs[np.newaxis])
        off = (self.values - values - self.shared * self.errors * (fit.needle_off / (self.needle or 1.0))) / self.errors
        columns = np.column_stack([(slopes[fit.active] / self.errors).T, self.shared])
        whole = np.vstack([columns, np.eye(columns.shape[1])[-1]])  # last: the needle itself, known to be near 0
        pulled = np.einsum("ij,ji->i", columns, np.linalg.pinv(whole)[:, :-1])
        gain = np.square(off) / np.maximum(1.0 - pulled, 1e-9)
        return np.argsort(-gain)[:_SUSPECTS].tolist()

    def covariance(self, slopes, active):
        """Covariance (4, 4) of the logs, those held with what was known of them beforehand."""
        held = ~active
        known = np.diag(np.square(self.widths[held]))
        whole = np.zeros((4, 4))
        whole[np.ix_(held, held)] = known
        if active.any():
            mine = slopes[:, active]
            own = np.linalg.inv(mine.T @ mine)
            lean = -own @ mine.T @ slopes[:, held]
            whole[np.ix_(active, active)] = own + lean @ known @ lean.T
            whole[np.ix_(active, held)] = lean @ known
            whole[np.ix_(held, active)] = (lean @ known).T
        return whole


def _told(scaled):
    """Which factors (4 bools) the readings tell at least as well as is known beforehand, from slopes so scaled.

    While some direction is told worse, the factor that has most part in it is held.
    """
    active = np.ones(4, dtype=bool)
    while active.any():
        here = np.flatnonzero(active)
        _, values, directions = np.linalg.svd(scaled[:, here], full_matrices=True)
        if len(values) == len(here) and values[-1] >= 1.0:
            break
        active[here[np.argmax(np.abs(directions[-1]))]] = False
    return active


def robust_fit(problem):
    """The Fit, whether what it keeps agrees, and the places of the suspects: one that it leaves out, or several of
    which any alone could be the wrong one and none is left out."""
    fit = problem.fit()
    if fit.spare < 1 or fit.squares <= chi_squared_limit(fit.spare, _SUSPECT):
        return fit, True, ()
    tried = []
    for place in problem.most_suspect(fit):
        other = problem.without(place).fit()
        ((value,),), (slope,) = problem.values_and_slopes(other.logs[np.newaxis], [problem.readings[place]])
        error = problem.readings[place].error ** 2 + slope[:, 0] @ other.covariance @ slope[:, 0]
        error += problem.needle**2 if problem.readings[place].needle else 0.0
        off = abs(problem.values[place] - value) / np.sqrt(error)
        if off > _WILD and other.spare >= 1 and other.squares <= chi_squared_limit(other.spare, _ACCEPTED):
            tried.append((place, other))
    if len(tried) == 1:
        return tried[0][1], True, (tried[0][0],)
    if fit.squares <= chi_squared_limit(fit.spare, _ACCEPTED):
        return fit, True, ()
    fit.covariance = fit.covariance * fit.squares / fit.spare  # the Birge ratio (Phys. Rev. 40, 1932, 207)
    return fit, False, tuple(sorted(place for place, _ in tried))
