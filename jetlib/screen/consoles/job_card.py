"""A plan as a job card on the screen: verdict, what to settle, steps, and every number with its band and source."""

from jetlib.rig.job.plan import Plan
from jetlib.screen.drawing.filled import filled

_fill = filled(__file__)


class JobCard:
    """The card of a Plan; shows itself in a notebook. data: what `Plan.card()` gives, and nothing else."""

    def __init__(self, plan):
        self.data = plan.card()

    def __repr__(self):
        data = self.data
        lines = [f"{data['title']}: {data['rig']}, {data['drain']}", data["verdict_text"]]
        lines += [f"NO GO  {each}" for each in data["no_go"]] + [f"CAUTION  {each}" for each in data["cautions"]]
        lines += [f"STOCK  {each}" for each in data["options"]]
        lines += [f"{number:>2}. {each}" for number, each in enumerate(data["steps"], start=1)]
        lines += [
            f"{row['section']}, {row['label']}: {row['US']} | {row['metric']} | {row['source']}" for row in data["rows"]
        ]
        lines += [f"HAZARD  {each}" for each in data["hazards"]]
        return "\n".join([*lines, data["authority"]])

    def _repr_html_(self):
        return _fill("job_card", card=self.data)


def job_card(plan: Plan) -> JobCard:
    """The JobCard of a Plan."""
    return JobCard(plan)
