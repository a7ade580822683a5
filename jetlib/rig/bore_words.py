"""A bore the way the trade says it."""

from fractions import Fraction

from jetlib.units import text

_CLOSE = 1e-4  # of the bore: closer than any hose is made


def bore_words(bore, system):
    """The bore (m) as text: "3/8 in" where it is a whole number of 32nds of an inch and inches are asked for."""
    inches = bore / 0.0254
    near = Fraction(round(32 * inches), 32)
    if system != "US" or not near or abs(float(near) - inches) > _CLOSE * inches:
        return text(bore, "bore", system)
    whole, part = divmod(near, 1)
    return " ".join([*([str(whole)] if whole else []), *([str(part)] if part else [])]) + " in"
