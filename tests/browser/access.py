"""What axe-core finds in the outputs of a page."""

from axe_playwright_python.sync_playwright import Axe

# The handle of ipywidgets' sliders has no accessible name. The entry beside each has one and does all that it does.
UPSTREAM = {"aria-input-field-name": ".noUi-handle"}


def serious_findings(book):
    """What axe finds serious or critical in the outputs, as readable lines."""
    if not book.panel.locator(".jp-OutputArea-output").count():
        return []  # a page of words only puts nothing out
    context = {"include": [[".jp-NotebookPanel:not(.lm-mod-hidden) .jp-OutputArea-output"]]}
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
