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


def _named(name, words):
    def mistake(wrong, words=words):
        return Mistake(name, words, wrong)

    mistake.__name__ = name.replace(" ", "_")
    mistake.__doc__ = f"The Mistake {name!r}. wrong(parameters): what it leads to. words: other words, if need be."
    return mistake


# --- laws -------------------------------------------------------------------------------------------

linear_for_square = _named(
    "linear instead of square",
    "It looks as if pressure was taken to grow in step with flow. Pressure grows with flow times itself: "
    "with half as much flow again (1.5 times), pressure is 1.5 × 1.5 times.",
)
square_for_linear = _named(
    "square instead of linear",
    "It looks as if something was squared that only grows in step. Ask: twice of one thing, is that twice of the "
    "other, or four times?",
)
root_for_square = _named(
    "square root instead of square",
    "It looks as if a square root was taken where a square belongs. From flow to pressure you square; from pressure "
    "to flow you take the root.",
)
linear_for_root = _named(
    "linear instead of square root",
    "It looks as if flow was taken to change in step with pressure. Flow goes with the square root of pressure, so it "
    "changes by less.",
)
square_for_root = _named(
    "square instead of square root",
    "It looks as if a square was taken where the square root belongs. From pressure to flow you take the root.",
)
upside_down = _named(
    "ratio upside down",
    "The ratio looks turned over. Ask first which way the answer must go, up or down, then put the larger number where "
    "it makes that so.",
)
difference_added = _named(
    "difference added",
    "It looks as if a difference was added on. These things go by how many times more, not by how much more.",
)

# --- holes ------------------------------------------------------------------------------------------

count_for_area = _named(
    "count instead of area",
    "It looks as if the number of holes was used alone. Water asks for area: the holes count each with its own area.",
)
bore_for_area = _named(
    "bore instead of area",
    "It looks as if the bore was used where the area belongs. Area goes with bore times bore: a hole of twice the bore "
    "has four times the area.",
)
bores_added = _named(
    "bores added",
    "It looks as if the bores were added together first. Work out the area of each hole, then add the areas.",
)
area_for_flow_square = _named(
    "area instead of area squared",
    "It looks as if pressure was taken to fall in step with area. At one flow it falls with area times area.",
)
one_hole_only = _named(
    "one hole only",
    "That is what one hole does alone. How many are there?",
)
diameter_as_radius = _named(
    "diameter taken as radius",
    "It looks as if the bore was put in as the radius. The bore is the whole width; the radius is half of it.",
)
radius_as_diameter = _named(
    "radius taken as diameter",
    "It looks as if half the bore was put in as the bore. Area is π/4 × bore × bore; with the radius it is "
    "π × radius × radius.",
)
pi_over_four_left_out = _named(
    "square instead of circle",
    "That is the area of square holes. A round hole has a little less: there is a factor to put in.",
)
coefficient_left_out = _named(
    "discharge coefficient left out",
    "It looks as if the discharge coefficient was left out. The jet is thinner than its hole: Cd allows for that.",
)
coefficient_for_square = _named(
    "discharge coefficient not squared",
    "Cd belongs with the area, inside what is squared. It looks as if it was used once only.",
)
coefficient_upside_down = _named(
    "discharge coefficient upside down",
    "It looks as if Cd was divided by where one multiplies, or the other way about. The coefficient makes a hole act "
    "smaller than it is.",
)

# --- hose, pump and valve ---------------------------------------------------------------------------

hose_left_out = _named(
    "hose left out",
    "It looks as if the hose was left out. On its way to the jets the water loses pressure in the hose too.",
)
last_hose_only = _named(
    "only the last hose",
    "It looks as if only the last hose was counted. All the water goes through every hose, one after the other.",
)
first_hose_only = _named(
    "only the first hose",
    "It looks as if only the first hose was counted. All the water goes through every hose, one after the other.",
)
series_as_parallel = _named(
    "series taken as parallel",
    "It looks as if the water was shared out between hoses side by side. Here they are one after the other: each "
    "carries all of it, and the losses add.",
)
mean_bore = _named(
    "bores averaged",
    "It looks as if the bores were averaged. The narrow part costs far more than its share: work out each, then add.",
)
gauge_at_nozzle = _named(
    "gauge taken as nozzle pressure",
    "It looks as if the gauge was taken as the pressure at the nozzle. The gauge is at the pump, a hose away.",
)
fourth_for_fifth = _named(
    "fourth power instead of fifth",
    "Close to the idea, but hose loss falls faster with bore than that: speed counts twice, and the wall once more.",
)
square_of_bore = _named(
    "square of bore instead of fifth power",
    "It looks as if only the area of the bore was used. In a wider hose the water also goes more slowly, and loss goes "
    "with speed times speed.",
)
linear_bore = _named(
    "bore in step instead of fifth power",
    "It looks as if loss was taken to fall in step with bore. It falls far faster than that.",
)
bypass_left_out = _named(
    "bypass left out",
    "It looks as if all the pump's water was sent to the jets. Part of it goes back through the valve here.",
)
idle_as_full = _named(
    "idle taken as full throttle",
    "That fits the other throttle. Look again at which engine speed is asked about.",
)
efficiency_left_out = _named(
    "efficiency left out",
    "It looks as if nothing was lost on the way. Some is: look for the efficiency.",
)
efficiency_upside_down = _named(
    "efficiency upside down",
    "It looks as if the efficiency was used the wrong way round. Should what goes in be more than what comes out, or "
    "less?",
)

# --- units ------------------------------------------------------------------------------------------

imperial_gallon = _named(
    "Imperial gallon for US gallon",
    "It looks as if the gallon was the Imperial one of 4.55 L. This course's gpm has the US gallon of 3.79 L.",
)
us_gallon = _named(
    "US gallon for Imperial gallon",
    "It looks as if the gallon was the US one of 3.79 L. Here the Imperial gallon of 4.55 L is meant.",
)
bar_for_psi = _named(
    "bar written for psi",
    "The figures fit another unit of pressure. 1 bar is 14.5 psi: look again at the unit you wrote.",
)
psi_for_bar = _named(
    "psi written for bar",
    "The figures fit another unit of pressure. 1 bar is 14.5 psi: look again at the unit you wrote.",
)
mm_for_inch = _named(
    "mm taken as inch",
    "The figures fit another unit of length. 1 in is 25.4 mm: look again at the units.",
)
seconds_for_minutes = _named(
    "seconds taken as minutes",
    "Look at the time: is it in seconds or in minutes? There are 60 seconds in a minute.",
)
