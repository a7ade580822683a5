"""Numbers that several formulas take, in SI: exact by definition."""

#: Standard acceleration of free fall, m/s2 (ISO 80000-3).
GRAVITY = 9.80665
#: Standard atmosphere, Pa.
ATMOSPHERE = 101325.0
#: 0 degrees C, in K.
ICE_POINT = 273.15
#: 15 degrees C, in K: air of the standard atmosphere at sea level, and water where nobody says how warm it is.
USUAL_TEMPERATURE = 288.15
#: International inch, m; pound-force per square inch, Pa; US gallon, m3 (NIST SP 811).
INCH = 0.0254
PSI = 4.4482216152605 / INCH**2
US_GALLON = 231.0 * INCH**3
