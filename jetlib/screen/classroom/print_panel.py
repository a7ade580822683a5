"""The Print panel of the classroom page: mark what is wanted, and it comes as one file to print."""

from collections.abc import Callable
from functools import partial

import ipywidgets as widgets

from jetlib.course.banks import registry as bank
from jetlib.course.callouts.kinds import kinds
from jetlib.course.classroom.print_orders import SHEETS, Order
from jetlib.course.classroom.session_plan import plans
from jetlib.course.store.locked_folder import home
from jetlib.errors import JetlibError
from jetlib.rig.parts.rig_file import demo_rig, demo_rigs
from jetlib.screen.controls.fields import ReadField, choice
from jetlib.screen.controls.handed_over import link
from jetlib.screen.controls.pieces import BORDER, WRAPPED, bundle, button, framed, heading, paragraphs, spoken
from jetlib.screen.controls.units_choice import follow
from jetlib.units.refusal import cut, page_words

_PLAN = "plan"
_TICKS = {_PLAN: "all that the plan needs"} | {name: words for name, (_, words) in SHEETS.items()}
_COUNTS = {  # field -> (label, what it begins with, least, most)
    "seats": ("Seats", 12, 1, 60),
    "copies": ("Copies of cards and worksheets", 1, 1, 60),
    "seed": ("Numbers: first seed", 1, 0, 999_999),
}
_WORDS = (
    "Mark what you want, then lay it out. It comes as one file: the learners' sheets first, yours last. Before you "
    "print it, you read here how many pages it has."
)


def print_panel(print_set: Callable, *, system: str | None = None) -> "PrintPanel":
    """The PrintPanel of the page. print_set: what writes it, `jetlib.print_set`."""
    return PrintPanel(print_set, system=system)


class PrintPanel:
    """print_set(orders, folder, name, told=, …) writes the sheets, and gives their paths and the number of pages."""

    def __init__(self, print_set, *, system=None):
        self._print_set, self.system = print_set, follow(self, system)
        self.counts = {name: count for name, (_, count, _, _) in _COUNTS.items()}
        self.lists = lists = {
            _PLAN: choice("Session plan", [(each.title, name) for name, each in plans().items()], "day", width="560px"),
            "lesson": choice("Lesson", bank.lessons(), "02", width="230px"),
            "callout": choice(
                "Callout", [(each.title, name) for name, each in kinds().items()], "grease", width="420px"
            ),
            "rig": choice("Rig", [(demo_rig(name).name, name) for name in demo_rigs()], "yard_trailer", width="330px"),
        }
        self.ticks = {
            name: widgets.Checkbox(description=words, indent=False, layout={"width": "auto", "margin": "0 14px 0 0"})
            for name, words in _TICKS.items()
        }
        self.paper = choice("Paper", ("A4", "Letter", "A5"), "A4", width="230px")
        self.fields = {
            name: ReadField(label, partial(_whole, low=low, high=high), partial(self.counts.__setitem__, name),
                            value=str(count), width="300px", label_width="220px")
            for name, (label, count, low, high) in _COUNTS.items()
        }  # fmt: skip
        self._bar = widgets.IntProgress(min=0, max=1, description="Laying out", layout={"display": "none"})
        self._said, self._link = widgets.HTML(spoken("")), widgets.HTML()
        rows = [
            [lists[_PLAN], self.ticks[_PLAN]],
            [lists["lesson"], *(self.ticks[name] for name, (kind, _) in SHEETS.items() if kind == "lesson")],
            [lists["rig"], *(self.ticks[name] for name, (kind, _) in SHEETS.items() if kind == "rig")],
            [lists["callout"], self.ticks["callout"]],
            [self.fields["seats"].box, *(self.ticks[name] for name, (kind, _) in SHEETS.items() if not kind)],
            [self.fields["copies"].box],
            [self.fields["seed"].box, self.paper],
            [button("Lay out as one file", self.print), self._bar],
        ]
        boxes = [widgets.HBox(row, layout=WRAPPED) for row in rows]
        top = widgets.HTML(heading("Print") + paragraphs(_WORDS))
        self.box = widgets.VBox([top, *boxes, self._said, self._link], layout=BORDER)

    def use_units(self, system):
        """Print in "US" or "metric" from now on."""
        self.system = system

    def orders(self):
        """What is marked, a tuple of Orders, each once."""
        found = list(plans()[self.lists[_PLAN].value].prints) if self.ticks[_PLAN].value else []
        for name, (kind, _) in SHEETS.items():
            if self.ticks[name].value:
                found.append(Order(name, self.lists[kind].value if kind else ""))
        return tuple(dict.fromkeys(found))

    def print(self):
        """Lay out what is marked, and say how many pages it has and where it is."""
        orders, self._link.value = self.orders(), ""
        self._bar.max, self._bar.layout.display = len(orders) + 1, None
        name = self.lists[_PLAN].value if self.ticks[_PLAN].value else "class-set"
        given = {**self.counts, "system": self.system, "paper": self.paper.value}
        try:
            if refused := next((field for field in self.fields.values() if field.refused), None):
                raise JetlibError(f"{refused.entry.description} is {cut(refused.entry.value)}; write another number")
            made = self._print_set(orders, home() / "prints", name, told=self._tell, **given)
        except JetlibError as error:
            self._said.value = spoken(f"Nothing was laid out: {page_words(error, self.system)}")
            return
        finally:
            self._bar.layout.display = "none"
        self._said.value = spoken(_done(made, self.counts["copies"]))
        self._link.value = link(made.paths[-1])

    def _tell(self, done, words):
        self._bar.value = done
        self._said.value = spoken(f"{words[0].upper()}{words[1:]} …")

    def _repr_mimebundle_(self, include=None, exclude=None):
        said = f"{_WORDS} You can print: {'; '.join(_TICKS.values())}."
        return bundle(self.box, f"Print\n\n{said}", framed(heading("Print") + paragraphs(said)))


def _done(made, copies):
    if made.pages is None:
        return (
            f"There is no Chromium on this computer, so no PDF. Open {made.paths[-1]} in your browser and print it "
            "there; its preview says how many pages it has."
        )
    sheets = (made.pages + 1) // 2
    alike = f", {copies} of each card and worksheet in them" if copies > 1 else ""
    return (
        f"{made.pages} pages{alike}, {sheets} sheets of paper if printed on both sides. Nothing is printed yet: open "
        f"{made.paths[-1]}, or get it here, and print it."
    )


def _whole(typed, low, high):
    try:
        value = int(typed)
    except ValueError:
        value = -1
    if not low <= value <= high:
        raise JetlibError(f"{cut(typed)} is no whole number from {low} to {high}; write one")
    return value
