"""The mistakes that people make: an exercise that names one of these needs no words of its own for it."""

IMPERIAL_GALLON_RATIO = 4.54609 / 3.785411784  # litres in the Imperial gallon (UK statute, 1985) over the US one (NIST)

#: name -> what is said to whoever makes that mistake.
WORDS = {
    # laws
    "linear instead of square": (
        "You used the flow ratio once. Pressure is proportional to flow squared: multiply by the ratio twice."
    ),
    "square instead of linear": (
        "You squared the ratio. This is not a square law: double one and you double the other."
    ),
    "square root instead of square": (
        "You took the square root. From flow to pressure you square; from pressure to flow you take the root."
    ),
    "linear instead of square root": (
        "You used the pressure ratio as it is. Flow is proportional to the square root of pressure, so it changes less."
    ),
    "square instead of square root": "You squared the ratio. From pressure to flow you take the square root.",
    "ratio upside down": (
        "You divided the wrong way around. First say which way the answer must go, up or down. Then check that "
        "yours does."
    ),
    "difference added": "You added a difference. What counts here is how many times more, not how much more.",
    # holes
    "count instead of area": (
        "You counted the holes. What counts is their area: number of holes times the area of each."
    ),
    "bore instead of area": (
        "You used the bore in place of the area. A hole of twice the bore has four times the area."
    ),
    "bores added": "You added the bores. Calculate the area of each hole first, then add the areas.",
    "area instead of area squared": (
        "You used the area ratio once. At the same flow, pressure is proportional to 1 / area squared."
    ),
    "one hole only": "That is one hole alone. How many are there?",
    "diameter taken as radius": (
        "You used the bore as the radius. The bore is the whole width; the radius is half of it."
    ),
    "radius taken as diameter": "You used half the bore. The area is π/4 × bore × bore, with the whole bore.",
    "square instead of circle": "That is the area of square holes. A round hole has less: a factor is missing.",
    "discharge coefficient left out": (
        "You left out the discharge coefficient. The jet is thinner than its hole, and Cd allows for that."
    ),
    "discharge coefficient not squared": "You used Cd once. It belongs with the area, inside what is squared.",
    "discharge coefficient upside down": (
        "You divided by Cd where you should multiply, or the other way around. Cd makes a hole act smaller than it is."
    ),
    # hose, pump and valve
    "hose left out": "You left out the hose. The water also loses pressure in the hose on its way to the jets.",
    "only the last hose": (
        "You counted only the last hose. All the water flows through every hose, one after the other."
    ),
    "only the first hose": (
        "You counted only the first hose. All the water flows through every hose, one after the other."
    ),
    "series taken as parallel": (
        "You shared the water between two hoses side by side. Here they are in series: each carries all of it."
    ),
    "bores averaged": (
        "You averaged the bores. The narrow hose loses far more than its share: calculate each, then add."
    ),
    "gauge taken as nozzle pressure": (
        "You took the gauge reading as the nozzle pressure. The gauge is at the pump, and the hose is in between."
    ),
    "fourth power instead of fifth": "You multiplied by the bore ratio four times. The rule has one more factor.",
    "square of bore instead of fifth power": (
        "You squared the bore ratio. That is the law for area. Hose loss depends on the bore much more strongly."
    ),
    "bore ratio once instead of fifth power": (
        "You used the bore ratio once. Hose loss depends on the bore much more strongly."
    ),
    "bypass left out": (
        "You sent all of the pump's flow to the jets. Part of it returns to the tank through the bypass valve."
    ),
    "idle taken as full throttle": "That fits the other throttle. Check which engine speed the question is about.",
    "efficiency left out": "You left out the efficiency. Something is lost on the way.",
    "efficiency upside down": (
        "You used the efficiency the wrong way around. Is more power put in than comes out, or less?"
    ),
    # units
    "Imperial gallon for US gallon": (
        "You used the Imperial gallon of 4.55 L. This course's gpm is in US gallons of 3.79 L."
    ),
    "US gallon for Imperial gallon": (
        "You used the US gallon of 3.79 L. The Imperial gallon is meant here, which is 4.55 L."
    ),
    "bar written for psi": "You mixed up the units of pressure. 1 bar is 14.5 psi: check the unit that you wrote.",
    "psi written for bar": "You mixed up the units of pressure. 1 bar is 14.5 psi: check the unit that you wrote.",
    "mm taken as inch": "You mixed up the units of length. 1 in is 25.4 mm: check the unit that you wrote.",
    "seconds taken as minutes": "You mixed up seconds and minutes. There are 60 seconds in a minute.",
}
