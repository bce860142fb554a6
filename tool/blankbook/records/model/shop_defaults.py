"""What holds where shop.yaml says nothing. Lengths are millimetres.

Working assumptions of ours (common practice, no source), to be replaced by the shop's own numbers.
"""

from blankbook.records.model import Inspection, Prior
from blankbook.words.points import INCH, POINTS

TOLERANCE = {key: float(point.tolerance) for key, point in POINTS.items()}
STEP = {key: float(point.step) for key, point in POINTS.items()}
STEP_TOLERANCE = {key: float(point.step_tolerance) for key, point in POINTS.items()}
SPREAD = {key: Prior(float(point.spread), 6) for key, point in POINTS.items()}
REPEATABILITY = Prior(float(INCH) / 16, 10)
LOT_SPREAD = 0.5
WASH_LIMIT = {"along": 7.0, "across": 5.0}
WASH_SPREAD = Prior(0.8, 6)
MASS_TOLERANCE = 5.0
MASS_SPREAD = Prior(2.0, 4)
MIX_UP_LIMIT = 0.05
LEAST_GRADE = {
    "colour": 4.0,
    "staining": 3.5,
    "pilling": 3.5,
    "workmanship": 4.0,
    "wear": 3.5,
    "decoration": 4.0,
}
GRADE_SPREAD = Prior(0.25, 4)
SKEW_LIMIT = 5.0
SKEW_SPREAD = Prior(1.0, 4)
RISK = 0.05
EASE = 4 * float(INCH)
DECIDING_POINTS = ("half_chest", "body_length")
INSPECTION = Inspection(level="II", aql=2.5, reduced="never")
REQUIRED = ("size_against_chart", "grade_steps", "washing")
