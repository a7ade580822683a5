"""Friction formulas from the literature, for setting beside the engine's own and for coiled hose.

Every factor is the Darcy factor f in dp = f (L/D) rho V^2/2. Some books use the Fanning factor, a quarter
of it. Reynolds numbers, roughness ratios and bore ratios are plain numbers or arrays that broadcast; a
Reynolds number must be above zero. The formulas are defined outside the range their author gave; the
range is in each docstring.
"""

import numpy as np

from jetlib.physics.constants import INCH, PSI, US_GALLON
from jetlib.physics.values import finite, not_negative, plain, positive

_LEAST_REYNOLDS = 1e-12


@finite
def haaland_factor(reynolds, relative_roughness):
    """Darcy friction factor of turbulent flow in a straight pipe, explicit; broadcasts.

    1/sqrt(f) = -1.8 log10[(e/3.7)^1.11 + 6.9/Re], Re 4e3 to 1e8, e 1e-6 to 0.05; within 2 % of Colebrook.
    S. E. Haaland, J. Fluids Eng. 105 (1983) 89.
    """
    reynolds, roughness = _flow(reynolds, relative_roughness)
    return plain((-1.8 * np.log10(6.9 / reynolds + (roughness / 3.7) ** 1.11)) ** -2)


@finite
def swamee_jain_factor(reynolds, relative_roughness):
    """Darcy friction factor of turbulent flow in a straight pipe, explicit; broadcasts.

    f = 0.25 / [log10(e/3.7 + (6.97/Re)^0.9)]^2, Re 5e3 to 1e8, e 1e-6 to 0.05; within 3.4 % of Colebrook.
    P. K. Swamee and A. K. Jain, J. Hydraulics Div. ASCE 102 (1976) 657. Often printed with 5.74/Re^0.9,
    which is the same to four figures.
    """
    reynolds, roughness = _flow(reynolds, relative_roughness)
    return plain(0.25 / np.log10(roughness / 3.7 + (6.97 / reynolds) ** 0.9) ** 2)


@finite
def churchill_factor(reynolds, relative_roughness):
    """Darcy friction factor of any flow in a straight pipe, laminar to rough, in one curve; broadcasts.

    f = 8 [(8/Re)^12 + (A + B)^-1.5]^(1/12), A = {2.457 ln[1/((7/Re)^0.9 + 0.27 e)]}^16, B =
    (37530/Re)^16. All Re above about 1; its bridge between Re 2100 and 4000 is one guess among many,
    since pipes there do not agree with themselves. S. W. Churchill, Chem. Eng. 84 no. 24 (1977) 91.
    """
    reynolds, roughness = _flow(reynolds, relative_roughness)
    turbulent = (2.457 * np.log((7.0 / reynolds) ** 0.9 + 0.27 * roughness)) ** 16
    bridge = (37530.0 / reynolds) ** 16
    return plain(8.0 * ((8.0 / reynolds) ** 12 + (turbulent + bridge) ** -1.5) ** (1.0 / 12.0))


@finite
def white_laminar_coil_factor(reynolds, bore_ratio):
    """Darcy friction factor of laminar flow in a coiled pipe; broadcasts.

    `bore_ratio` is bore over coil diameter, centre line to centre line; 0 is straight. Arguments are
    not refused but held at what has a meaning: the engine calls this while it solves.

    f = (64/Re) / {1 - [1 - (11.6/De)^0.45]^(1/0.45)}, De = Re sqrt(bore_ratio); straight pipe's 64/Re at
    De below 11.6. De up to 2000, bore ratio 0.0004 to 0.066. C. M. White, Proc. R. Soc. A 123 (1929) 645.
    """
    reynolds = np.maximum(reynolds, _LEAST_REYNOLDS)
    dean = np.maximum(np.multiply(reynolds, np.sqrt(np.maximum(bore_ratio, 0.0))), 11.6)
    straight = np.divide(64.0, reynolds)
    return plain(straight / (1.0 - (1.0 - (11.6 / dean) ** 0.45) ** (1.0 / 0.45)))


@finite
def ito_coil_factor(reynolds, bore_ratio):
    """Darcy friction factor of turbulent flow in a smooth coiled pipe; broadcasts.

    `bore_ratio` is bore over coil diameter, centre line to centre line. Arguments are held, as
    above.

    f = 0.304 Re^-0.25 + 0.029 sqrt(bore_ratio), for Re bore_ratio^2 from 0.034 to 300 and Re above
    `ito_critical_reynolds`. H. Ito, J. Basic Eng. 81 (1959) 123. The first term is 4 % below the smooth
    straight pipe of Blasius, so the formula does not join the straight pipe as the coil opens out.
    """
    return plain(
        0.304 * np.power(np.maximum(reynolds, _LEAST_REYNOLDS), -0.25) + 0.029 * np.sqrt(np.maximum(bore_ratio, 0.0))
    )


@finite
def mishra_gupta_coil_factor(reynolds, bore_ratio):
    """Darcy friction factor of turbulent flow in a smooth coiled pipe; broadcasts.

    f = 4 (0.079 Re^-0.25 + 0.0075 sqrt(bore_ratio)), Re 4500 to 1e5, bore ratio 0.003 to 0.15: Blasius
    and a coil term. P. Mishra and S. N. Gupta, Ind. Eng. Chem. Process Des. Dev. 18 (1979) 130, which
    prints the Fanning factor.
    """
    reynolds, ratio = _coil(reynolds, bore_ratio)
    return plain(0.316 * reynolds**-0.25 + 0.03 * np.sqrt(ratio))


@finite
def schmidt_coil_factor(reynolds, bore_ratio, *, straight_factor):
    """Darcy friction factor of turbulent flow in a coiled pipe, from that of the pipe straight; broadcasts.

    With r = bore_ratio: f/f_straight = 1 + 28800 r^0.62/Re below Re 22000, else 1 + 0.0823 (1 + r) r^0.53
    Re^0.25, up to Re 1.5e5. The two do not quite meet: at r = 0.03 there is a step of 1 %. E. F.
    Schmidt, Chem. Ing. Tech. 39 (1967) 781.
    """
    reynolds, ratio = _coil(reynolds, bore_ratio)
    straight = positive(straight_factor, "straight_factor", "(Darcy)")
    low = 1.0 + 2.88e4 * ratio**0.62 / reynolds
    high = 1.0 + 0.0823 * (1.0 + ratio) * ratio**0.53 * reynolds**0.25
    return plain(straight * np.where(reynolds < 2.2e4, low, high))


@finite
def vdi_coil_factor(reynolds, bore_ratio):
    """Darcy friction factor of turbulent flow in a smooth coiled pipe; broadcasts.

    f = 0.3164 Re^-0.25 + 0.03 sqrt(bore_ratio), for Re above `schmidt_critical_reynolds` and below 1e5.
    VDI Heat Atlas, section on helically coiled tubes (Gnielinski), which credits Mishra and Gupta.
    """
    reynolds, ratio = _coil(reynolds, bore_ratio)
    return plain(0.3164 * reynolds**-0.25 + 0.03 * np.sqrt(ratio))


@finite
def ito_critical_reynolds(bore_ratio):
    """Reynolds number at which flow in a coil turns turbulent: 20000 bore_ratio^0.32; any shape.

    Bore ratio 0.00116 to 0.067; on a wider coil it falls below the straight pipe's 2100 and means
    nothing. H. Ito, as `ito_coil_factor`.
    """
    return plain(2.0e4 * not_negative(bore_ratio, "bore_ratio", "(bore over coil diameter)") ** 0.32)


@finite
def schmidt_critical_reynolds(bore_ratio):
    """Reynolds number at which flow in a coil turns turbulent: 2300 (1 + 8.6 bore_ratio^0.45); any shape.

    Bore ratio up to 0.14; joins the straight pipe at 0. E. F. Schmidt, as `schmidt_coil_factor`.
    """
    return plain(2300.0 * (1.0 + 8.6 * not_negative(bore_ratio, "bore_ratio", "(bore over coil diameter)") ** 0.45))


@finite
def hazen_williams_loss(flow, *, bore, length, coefficient=140.0):
    """Pressure lost to friction by the trade's rule for water mains and sprinkler pipe, Pa; broadcasts.

    `flow` m3/s of cold water, `bore` and `length` m, `coefficient` the C of the pipe (140 to 150 smooth,
    120 steel, 100 old iron).

    US form as NFPA 13 prints it: p = 4.52 Q^1.85/(C^1.85 d^4.87), psi per foot, gpm, inch; here converted
    by the exact units. Made for water near 15 degC at about 1 m/s in pipes of 50 mm up. It knows neither
    viscosity nor roughness, only C: in a jetting hose (1/4 to 3/4 in, C 150) it is 0 to 20 % below
    Colebrook. For comparison only.
    """
    flow = not_negative(flow, "flow", "m3/s")
    bore = positive(bore, "bore", "m")
    length = not_negative(length, "length", "m")
    coefficient = positive(coefficient, "coefficient", "(Hazen-Williams C)")
    gallons, inches, feet = 60.0 * flow / US_GALLON, bore / INCH, length / 0.3048
    return plain(PSI * 4.52 * (gallons / coefficient) ** 1.85 / inches**4.87 * feet)


def _flow(reynolds, relative_roughness):
    roughness = not_negative(relative_roughness, "relative_roughness", "(roughness over bore)")
    return positive(reynolds, "reynolds", "(no unit)"), roughness


def _coil(reynolds, bore_ratio):
    ratio = not_negative(bore_ratio, "bore_ratio", "(bore over coil diameter)")
    return positive(reynolds, "reynolds", "(no unit)"), ratio
