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
from jetlib.screen.controls.card import Card
from jetlib.screen.controls.fields import ReadField, choice
from jetlib.screen.controls.pieces import bundle, button, card, framed, heading, link, paragraphs, row
from jetlib.screen.controls.rig_choice import yard_rigs
from jetlib.units.entry import count
from jetlib.units.refusal import cut

_PLAN = "plan"
_TICKS = {_PLAN: "all that the plan needs"} | {name: words for name, (_, words) in SHEETS.items()}
_TICKED_OF = {_PLAN: _PLAN} | {name: kind for name, (kind, _) in SHEETS.items()}  # tick -> the list beside it
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


class PrintPanel(Card):
    """print_set(orders, folder, name, told=, …) writes the sheets, and gives their paths and the number of pages."""

    def __init__(self, print_set, *, system=None):
        super().__init__(system)
        self._print_set, self.counts = print_set, {name: begins for name, (_, begins, _, _) in _COUNTS.items()}
        callouts = [(each.title, name) for name, each in kinds().items()]
        self.lists = {
            _PLAN: choice("Session plan", [(each.title, name) for name, each in plans().items()], "day", width="560px"),
            "lesson": choice("Lesson", bank.lessons(), "02", width="230px"),
            "rig": choice("Rig", yard_rigs(), "yard_trailer", width="330px"),
            "callout": choice("Callout", callouts, "grease", width="420px"),
        }
        self.ticks = {
            name: widgets.Checkbox(description=words, indent=False, layout={"width": "auto", "margin": "0 14px 0 0"})
            for name, words in _TICKS.items()
        }
        self.paper = choice("Paper", ("A4", "Letter", "A5"), "A4", width="230px")
        self.fields = {
            name: ReadField(label, partial(count, low=low, high=high), partial(self.counts.__setitem__, name),
                            value=str(begins), width="300px", label_width="220px")
            for name, (label, begins, low, high) in _COUNTS.items()
        }  # fmt: skip
        self._bar = widgets.IntProgress(min=0, max=1, description="Laying out", layout={"display": "none"})
        self._link = widgets.HTML()
        self.box = card(
            "Print",
            widgets.HTML(paragraphs(_WORDS)),
            *(row(made, *self._ticks_of(kind)) for kind, made in self.lists.items()),
            row(self.fields["seats"].box, *self._ticks_of("")),
            self.fields["copies"].box,
            row(self.fields["seed"].box, self.paper),
            row(button("Lay out as one file", self.print), self._bar),
            self._said,
            self._link,
        )

    def _ticks_of(self, kind):
        return [self.ticks[name] for name, of in _TICKED_OF.items() if of == kind]

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
        with self._refusing("Nothing was laid out: {}"):
            if refused := next((field for field in self.fields.values() if field.refused), None):
                raise JetlibError(f"{refused.entry.description} is {cut(refused.entry.value)}; write another number")
            made = self._print_set(orders, home() / "prints", name, told=self._tell, **given)
            self._say(_done(made, self.counts["copies"]))
            self._link.value = link(made.paths[-1])
        self._bar.layout.display = "none"

    def _tell(self, done, words):
        self._bar.value = done
        self._say(f"{words[0].upper()}{words[1:]} …")

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
