"""Predictions, exercises, feedback and progress: plain Python, no widgets."""

from jetlib.course.choosing import MultipleChoice, Ordering, SingleChoice
from jetlib.course.exercise import Mistake, Verdict, check
from jetlib.course.numeric import FillTable, Numeric
from jetlib.course.prediction import PredictedChoice, PredictedCurve, PredictedNumber

__all__ = [
    "FillTable",
    "Mistake",
    "MultipleChoice",
    "Numeric",
    "Ordering",
    "PredictedChoice",
    "PredictedCurve",
    "PredictedNumber",
    "SingleChoice",
    "Verdict",
    "check",
]
