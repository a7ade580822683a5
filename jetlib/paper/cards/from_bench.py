"""What the bench prints: the gauge card of a rig, the job card of a plan."""

from os import PathLike

from jetlib.errors import JetlibError
from jetlib.paper.cards.gauge import gauge_card
from jetlib.paper.cards.job import job_card
from jetlib.paper.page.document import write
from jetlib.rig.job.plan import Plan


def print_card(of: object, folder: str | PathLike, *, system: str = "US", paper: str = "A4") -> list:
    """Paths (a list) of the card of a Plan or a Rig, written in `folder`: HTML, and PDF where a browser makes one.

    A browser that fails takes no HTML away. Raises JetlibError for what has no card and a folder that can't be written.

    >>> print_card(demo_rig("yard_trailer"), "cards")[0].parent.name
    'cards'
    """
    made = job_card if isinstance(of, Plan) else gauge_card
    document = made(of, system=system, paper=paper)
    try:
        return write(document, folder)
    except JetlibError:
        return write(document, folder, pdf=False)
