"""After a callout: what was true beside what was seen and done, what it cost, and three things to do differently.

Safety comes first, then the diagnosis, then the work done. Time is told, and never scored.
"""

from dataclasses import dataclass

from jetlib.course.callouts.kinds import DECISIONS
from jetlib.course.callouts.play import ESTIMATES
from jetlib.course.exercises.words import picked
from jetlib.rig.diagnosis.faults import FAULTS
from jetlib.units import text, to_si

#: An estimate that is off by no more than this share is a good one. Common practice, no source.
CLOSE = 0.1
ESTIMATE_WORDS = {
    "idle": "Gauge at idle",
    "gauge": "Gauge at the working throttle",
    "flow": "Flow at the nozzle",
    "reach": "How far the nozzle gets",
    "minutes": "Minutes in all",
}


@dataclass(frozen=True)
class Review:
    """marks: (what, good, words) of safety, diagnosis and work, in that order. estimates: (words, guess, truth) as
    texts, "–" for none. advice: up to three (words, lesson)."""

    truth: str
    marks: tuple
    estimates: tuple
    advice: tuple


def reviewed(play, system="US"):
    """The Review of a Play that has ended, its figures in a unit system."""
    dealt = play.dealt
    truth = "Nobody found out what else would have come up."
    if play.plan is not None:
        truth = dealt.truth if play.can_have_it else "All was in order: your machine cannot have what was hidden here."
    if play.decision != "go" or dealt.kind.right != "go":
        truth = f"The right decision was: {DECISIONS[dealt.kind.right].lower()}."
        if dealt.kind.refusal is not None:
            truth += f" {dealt.kind.refusal.why}"
    advice = tuple((picked(words, system), lesson) for words, lesson in _advice(play))
    return Review(picked(truth, system), _marks(play), _estimates(play, system), advice)


def _marks(play):
    end, kind = play.end, play.dealt.kind
    if not end.safe:
        safety = (False, f"The run ended at once, with: {end.act.label}.")
    elif play.risks:
        count = len(play.risks)
        safety = (True, f"Safe to the end, {count} time{'s' * (count > 1)} with more luck than care.")
    else:
        safety = (True, "Safe to the end.")
    return (("Safety", *safety), ("Diagnosis", *_diagnosis(play)), ("Work", *_work(play, kind)))


def _diagnosis(play):
    kind = play.dealt.kind
    if play.plan is None:
        right = play.decision == kind.right
        return right, "You decided rightly before anything started." if right else "The decision was the wrong one."
    if kind.right == "needless":
        return False, "There was nothing to jet: two questions more would have told you."
    if not play.named:
        return False, "You named no cause."
    right = play.named == play.cause
    named = play.causes()[play.named]
    return right, f"You named: {named}. " + ("Right." if right else f"It was: {play.causes()[play.cause]}.")


def _work(play, kind):
    if play.plan is None:
        return play.decision == kind.right, "No job, no work."
    if play.handed_over and not play.drained:
        return True, "Handed over to the owner: no nozzle could have done more."
    runs = "runs" if play.drained else "does not run freely"
    return play.drained, f"The drain {runs}; {100.0 * play.washed:.0f} % of the way washed."


def _estimates(play, system):
    truths = {**play.truths, "minutes": to_si(play.minutes, "duration", "US")} if play.plan is not None else {}
    rows = []
    for name, of in ESTIMATES.items():
        said = (text(held[name], of, system) if name in held else "–" for held in (play.estimates, truths))
        rows.append((ESTIMATE_WORDS[name], *said))
    return tuple(rows)


def _advice(play):
    """What to do differently, the gravest first: (words, lesson), three at most."""
    kind, found = play.dealt.kind, []
    if not play.end.safe:
        found.append((play.end.act.why, play.end.act.lesson))
    elif play.plan is None and play.decision != kind.right:
        found.append((kind.refusal.why if kind.refusal else "Say what rules a job out before you refuse it.", "11"))
    found += play.risks
    missed = [each for each in kind.questions if each.matters and each.key not in play.asked]
    if missed:
        found.append((f'Ask on the phone: "{missed[0].ask}"', missed[0].lesson))
    if play.named and play.named != play.cause:
        words = FAULTS[play.cause].short if play.cause in FAULTS else play.causes()[play.cause]
        found.append((f"Find the cause before you pack up. Here it was: {words}.", play.dealt.surprise.lesson))
    if play.plan is not None and play.named and not play.drained and not play.handed_over:
        found.append(("Take the nozzle past the stoppage, and wash all the way back to the first mark.", "09"))
    for name, guess in play.estimates.items():
        truth = play.truths.get(name)
        if truth and abs(guess / truth - 1.0) > 2.0 * CLOSE:
            lesson = {"idle": "04", "gauge": "04", "flow": "02", "reach": "09"}[name]
            found.append((f"{ESTIMATE_WORDS[name]}: your estimate was far off. Work it out before you start.", lesson))
    return tuple(dict.fromkeys((*found, *kind.tips)))[:3]
