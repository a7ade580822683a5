"""The mistakes that people make, ready to be named in an exercise.

Each function here takes what the mistake leads to, `wrong(parameters)`, and returns a Mistake with its name and the
words for the reader. `altered` and `scaled` make such a `wrong` out of the function for the right answer:

    mistakes.hose_left_out(altered(gauge, length=0.0))
    mistakes.imperial_gallon(altered(gauge, flow=mistakes.IMPERIAL_GALLON))   # a function gets the old value
    mistakes.bar_for_psi(scaled(gauge, mistakes.BAR_FOR_PSI))
"""

from jetlib.course.exercises.exercise import Mistake

IMPERIAL_GALLON_RATIO = 4.54609 / 3.785411784  # litres in the Imperial gallon (UK statute, 1985) over the US one (NIST)
BAR_FOR_PSI = 1e5 / 6894.757293168  # one bar in psi (NIST SP 811)
INCH_FOR_MM = 25.4  # exact since 1959


def altered(answer, **changes):
    """A `wrong`: the function `answer` with some parameters changed.

    A change is a value, or a function of the old value.
    """

    def wrong(parameters):
        new = {name: change(parameters[name]) if callable(change) else change for name, change in changes.items()}
        return answer({**parameters, **new})

    return wrong


def scaled(answer, factor):
    """A `wrong`: the right answer times a factor, which is a number or a function of the parameters."""

    def wrong(parameters):
        return answer(parameters) * (factor(parameters) if callable(factor) else factor)

    return wrong


def imperial_flow(flow):
    """A flow (m3/s) whose gallons were taken for Imperial ones."""
    return flow * IMPERIAL_GALLON_RATIO


def us_flow(flow):
    """A flow (m3/s) whose Imperial gallons were taken for US ones."""
    return flow / IMPERIAL_GALLON_RATIO


#: name -> words of the mistakes below: what an exercise says that names one and writes no words of its own.
WORDS = {}


def _named(name, words):
    WORDS[name] = words

    def mistake(wrong, words=words):
        return Mistake(name, words, wrong)

    mistake.__name__ = name.replace(" ", "_")
    mistake.__doc__ = f"The Mistake {name!r}. wrong(parameters): what it leads to. words: other words, if need be."
    return mistake


# --- laws -------------------------------------------------------------------------------------------

linear_for_square = _named(
    "linear instead of square",
    "You used the flow ratio once. Pressure is proportional to flow squared: multiply by the ratio twice.",
)
square_for_linear = _named(
    "square instead of linear",
    "You squared the ratio. This is not a square law: twice the one gives twice the other.",
)
root_for_square = _named(
    "square root instead of square",
    "You took the square root. From flow to pressure you square; from pressure to flow you take the root.",
)
linear_for_root = _named(
    "linear instead of square root",
    "You used the pressure ratio as it is. Flow is proportional to the square root of pressure, so it changes less.",
)
square_for_root = _named(
    "square instead of square root",
    "You squared the ratio. From pressure to flow you take the square root.",
)
upside_down = _named(
    "ratio upside down",
    "You divided the wrong way round. First say which way the answer must go, up or down. Then check that yours does.",
)
difference_added = _named(
    "difference added",
    "You added a difference. What counts here is how many times more, not how much more.",
)

# --- holes ------------------------------------------------------------------------------------------

count_for_area = _named(
    "count instead of area",
    "You counted the holes. What counts is their area: number of holes times the area of each.",
)
bore_for_area = _named(
    "bore instead of area",
    "You used the bore in place of the area. A hole of twice the bore has four times the area.",
)
bores_added = _named(
    "bores added",
    "You added the bores. Calculate the area of each hole first, then add the areas.",
)
area_for_flow_square = _named(
    "area instead of area squared",
    "You used the area ratio once. At the same flow, pressure is proportional to 1 / area squared.",
)
one_hole_only = _named(
    "one hole only",
    "That is one hole alone. How many are there?",
)
diameter_as_radius = _named(
    "diameter taken as radius",
    "You used the bore as the radius. The bore is the whole width; the radius is half of it.",
)
radius_as_diameter = _named(
    "radius taken as diameter",
    "You used half the bore. The area is π/4 × bore × bore, with the whole bore.",
)
pi_over_four_left_out = _named(
    "square instead of circle",
    "That is the area of square holes. A round hole has less: a factor is missing.",
)
coefficient_left_out = _named(
    "discharge coefficient left out",
    "You left out the discharge coefficient. The jet is thinner than its hole, and Cd allows for that.",
)
coefficient_for_square = _named(
    "discharge coefficient not squared",
    "You used Cd once. It belongs with the area, inside what is squared.",
)
coefficient_upside_down = _named(
    "discharge coefficient upside down",
    "You divided by Cd where you should multiply, or the other way round. Cd makes a hole act smaller than it is.",
)

# --- hose, pump and valve ---------------------------------------------------------------------------

hose_left_out = _named(
    "hose left out",
    "You left out the hose. The water also loses pressure in the hose on its way to the jets.",
)
last_hose_only = _named(
    "only the last hose",
    "You counted only the last hose. All the water flows through every hose, one after the other.",
)
first_hose_only = _named(
    "only the first hose",
    "You counted only the first hose. All the water flows through every hose, one after the other.",
)
series_as_parallel = _named(
    "series taken as parallel",
    "You shared the water between two hoses side by side. Here they are in series: each carries all of it.",
)
mean_bore = _named(
    "bores averaged",
    "You averaged the bores. The narrow hose loses far more than its share: calculate each, then add.",
)
gauge_at_nozzle = _named(
    "gauge taken as nozzle pressure",
    "You took the gauge reading as the nozzle pressure. The gauge is at the pump, and the hose is in between.",
)
fourth_for_fifth = _named(
    "fourth power instead of fifth",
    "You multiplied by the bore ratio four times. The rule has one factor more.",
)
square_of_bore = _named(
    "square of bore instead of fifth power",
    "You squared the bore ratio. That is the law for area. Hose loss depends on the bore much more strongly.",
)
linear_bore = _named(
    "bore in step instead of fifth power",
    "You used the bore ratio once. Hose loss depends on the bore much more strongly.",
)
bypass_left_out = _named(
    "bypass left out",
    "You sent all of the pump's flow to the jets. Part of it returns to the tank through the bypass valve.",
)
idle_as_full = _named(
    "idle taken as full throttle",
    "That fits the other throttle. Check which engine speed the question is about.",
)
efficiency_left_out = _named(
    "efficiency left out",
    "You left out the efficiency. Something is lost on the way.",
)
efficiency_upside_down = _named(
    "efficiency upside down",
    "You used the efficiency the wrong way round. Is more power put in than comes out, or less?",
)

# --- units ------------------------------------------------------------------------------------------

imperial_gallon = _named(
    "Imperial gallon for US gallon",
    "You used the Imperial gallon of 4.55 L. This course's gpm is in US gallons of 3.79 L.",
)
us_gallon = _named(
    "US gallon for Imperial gallon",
    "You used the US gallon of 3.79 L. The Imperial gallon is meant here, which is 4.55 L.",
)
bar_for_psi = _named(
    "bar written for psi",
    "You mixed up the units of pressure. 1 bar is 14.5 psi: check the unit that you wrote.",
)
psi_for_bar = _named(
    "psi written for bar",
    "You mixed up the units of pressure. 1 bar is 14.5 psi: check the unit that you wrote.",
)
mm_for_inch = _named(
    "mm taken as inch",
    "You mixed up the units of length. 1 in is 25.4 mm: check the unit that you wrote.",
)
seconds_for_minutes = _named(
    "seconds taken as minutes",
    "You mixed up seconds and minutes. There are 60 seconds in a minute.",
)
