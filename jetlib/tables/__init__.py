"""Sizes and coefficients from published tables: the rows of the CSV files in data/.

Every row says where its numbers come from (`source`) and how sure that is (`confidence`). Attributes are SI.
A table is read once, when it is first asked for. A row that cannot be used raises JetlibError.
"""

# ruff: noqa: F401 - what this room offers
from jetlib.tables.coefficients import (
    CoefficientRange,
    discharge_coefficient,
    discharge_coefficients,
    fitting,
    fittings,
    roughness,
    roughnesses,
)
from jetlib.tables.csv_table import CONFIDENCES, DATA
from jetlib.tables.drill_sizes import SERIES, Drill, drill, drills, next_drill
from jetlib.tables.hose_sizes import USUAL_HOSE, HoseSize, drain_hoses, hose, hose_of_bore, hoses, nominal_hoses
from jetlib.tables.pipe_sizes import PipeLimit, PipeSize, pipe, pipe_limit, pipe_limits, pipes
