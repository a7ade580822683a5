"""Whether all can read a page: what axe-core finds in its outputs, what is cut off, how small the words are."""

from axe_playwright_python.sync_playwright import Axe

# The handle of ipywidgets' sliders has no accessible name. The entry beside each has one and does all that it does.
UPSTREAM = {"aria-input-field-name": ".noUi-handle"}


def serious_findings(book, where=None):
    """What axe finds serious or critical in the outputs, or in `where` (a selector), as readable lines."""
    if where is None and not book.panel.locator(".jp-OutputArea-output").count():
        return []  # a page of words only puts nothing out
    context = {"include": [[where or ".jp-NotebookPanel:not(.lm-mod-hidden) .jp-OutputArea-output"]]}
    found = Axe().run(book.page, context=context, options={"resultTypes": ["violations"]}).response["violations"]
    lines = []
    for rule in found:
        if rule["impact"] not in ("serious", "critical"):
            continue
        for node in rule["nodes"]:
            if UPSTREAM.get(rule["id"], "none") not in node["html"].replace(
                'class="noUi-handle', 'class=".noUi-handle'
            ):
                lines.append(f"{rule['id']}: {node['html'][:160]} ({rule['help']})")
    return lines


def cut_off(console):
    """Controls of a console that stick out of it at the right, as text, where nothing scrolls them into view."""
    return console.evaluate(
        """box => {
            const edge = box.getBoundingClientRect().right + 2;
            const scrolls = e => {
                for (let at = e.parentElement; at && at !== box; at = at.parentElement)
                    if (['auto', 'scroll'].includes(getComputedStyle(at).overflowX)) return true;
                return false;
            };
            return [...box.querySelectorAll('input, select, button')]
                .filter(e => e.getBoundingClientRect().right > edge && !scrolls(e))
                .map(e => e.outerHTML.slice(0, 120));
        }"""
    )


def smallest_words(console):
    """The size of the smallest words in the pictures of a console, pixels on screen; a large number without any."""
    return console.evaluate(
        """box => Math.min(99, ...[...box.querySelectorAll('svg[role=img]')].flatMap(svg =>
            [...svg.querySelectorAll('text')].map(words => parseFloat(words.getAttribute('font-size'))
                * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width)))"""
    )
