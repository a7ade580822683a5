"""A plan as a job card on the screen: verdict, what to settle, steps, and every number with its band and source."""

from html import escape

from jetlib.rig.job.plan import Plan
from jetlib.screen.controls.pieces import folded

_SECTIONS = {
    "drain": "Drain",
    "machine": "Machine",
    "nozzle": "Nozzle",
    "reach": "Reach",
    "supply": "Water, heat, power",
    "debris": "Down the drain",
}


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
        data = self.data
        parts = [
            f"<b>{escape(data['title'])}</b>: {escape(data['rig'])}, {escape(data['drain'])}",
            f"<p><b>{escape(data['verdict_text'])}</b></p>",
        ]
        for title, name in (
            ("No go", "no_go"),
            ("Cautions", "cautions"),
            ("Hoses in stock", "options"),
            ("Hazards", "hazards"),
        ):
            if data[name]:
                parts.append(f"<p><b>{title}</b></p>{_list('ul', data[name])}")
        parts.append(f"<p><b>Steps</b></p>{_list('ol', data['steps'])}")
        parts.append(folded("Every number, with its band and its source", _numbers(data["rows"])))
        parts.append(f"<p>{escape(data['authority'])}</p>")
        return f'<div style="border:1px solid #9e9e9e;padding:8px;max-width:960px">{"".join(parts)}</div>'


def job_card(plan: Plan) -> JobCard:
    """The JobCard of a Plan."""
    return JobCard(plan)


def _list(tag, sentences):
    return f"<{tag}>{''.join(f'<li>{escape(each)}</li>' for each in sentences)}</{tag}>"


def _numbers(rows):
    left = 'style="text-align:left"'
    lines = [f"<tr>{''.join(f'<th {left}>{head}</th>' for head in ('number', 'US', 'metric', 'source'))}</tr>"]
    section = ""
    for row in rows:
        if row["section"] != section:
            section = row["section"]
            lines.append(f'<tr><th colspan="4" {left}>{escape(_SECTIONS[section])}</th></tr>')
        cells = "".join(f"<td {left}>{escape(row[name])}</td>" for name in ("label", "US", "metric", "source"))
        lines.append(f"<tr>{cells}</tr>")
    return f"<table>{''.join(lines)}</table>"
