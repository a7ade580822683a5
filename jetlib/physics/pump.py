"""A positive-displacement pump: speed makes flow, whatever the pressure, but for what slips back inside."""

import numpy as np


def flow_and_slope(pressure, *, ideal_flow, slip, power_limit=np.inf):
    """Flow delivered (m3/s), its slope with pressure (m3/s/Pa) and the flow the plungers sweep (m3/s).

    pressure Pa at the pump outlet, ideal_flow m3/s (displacement x speed asked for by the throttle), slip m3/s per
    Pa that leaks back inside the pump, power_limit W at the plungers (engine power x mechanical efficiency).
    Broadcasts.
    delivered = swept - slip p, swept = min(ideal_flow, power_limit / p): asked for more than its power, the engine
    bogs until pressure x swept flow fits. Source: definition of displacement and volumetric efficiency of a pump.
    """
    head = np.maximum(pressure, 0.0)
    if np.ndim(power_limit) == 0 and power_limit == np.inf:
        return ideal_flow - slip * head, np.where(head > 0.0, -slip, 0.0), ideal_flow
    ceiling = power_limit / np.maximum(head, 1.0)
    bogged = ceiling < ideal_flow
    swept = np.where(bogged, ceiling, ideal_flow)
    slope = np.where(bogged, -ceiling / np.maximum(head, 1.0), 0.0) - np.where(head > 0.0, slip, 0.0)
    return swept - slip * head, slope, swept


def volumetric_efficiency(pressure, *, ideal_flow, slip):
    """Delivered flow over swept flow (dimensionless). Broadcasts.

    pressure Pa, ideal_flow m3/s, slip m3/s per Pa.
    """
    return 1.0 - slip * np.maximum(pressure, 0.0) / ideal_flow
