"""Predictions, exercises, feedback and progress: plain Python, no widgets."""

from jetlib.course.exercises.choosing import MultipleChoice, Ordering, SingleChoice
from jetlib.course.exercises.exercise import Mistake, Verdict, check
from jetlib.course.exercises.numeric import FillTable, Numeric
from jetlib.course.exercises.prediction import PredictedChoice, PredictedCurve, PredictedNumber, predicted

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
    "predicted",
]
