"""Whether all can read a page: what axe-core finds in its outputs, what is cut off, how small things are."""

from axe_playwright_python.sync_playwright import Axe

# The handle of ipywidgets' sliders has no accessible name. The entry beside each has one and does all that it does.
UPSTREAM = {"aria-input-field-name": ".noUi-handle"}


#: What axe finds, JavaScript. A rule's own impact is that of all it finds: rules that are never serious are left out.
#: Style sheets are loaded for none of the rules that are on, and JupyterLab's are long.
FIND = """async ([where, named]) => {
    const serious = rule => rule.enabled && !['minor', 'moderate'].includes(rule.impact);
    const values = named ?? axe._audit.rules.filter(serious).map(rule => rule.id);
    const options = {resultTypes: ['violations'], iframes: false, preload: false, runOnly: {type: 'rule', values}};
    return (await axe.run({include: [[where]]}, options)).violations;
}"""


def serious_findings(book, where=None, rules=None):
    """What axe finds serious or critical in the outputs, or in `where` (a selector), as readable lines.

    rules: the only ones to be asked, by axe's names; all of them if None.
    """
    if where is None and not book.panel.locator(".jp-OutputArea-output").count():
        return []  # a page of words only puts nothing out
    if not book.page.evaluate("() => !!window.axe"):
        book.page.evaluate(Axe().axe_script)
    where = where or ".jp-NotebookPanel:not(.lm-mod-hidden) .jp-OutputArea-output"
    lines = []
    for rule in book.page.evaluate(FIND, [where, rules]):
        if rule["impact"] not in ("serious", "critical"):
            continue
        for node in rule["nodes"]:
            if UPSTREAM.get(rule["id"], "none") not in node["html"].replace(
                'class="noUi-handle', 'class=".noUi-handle'
            ):
                lines.append(f"{rule['id']}: {node['html'][:160]} ({rule['help']})")
    return lines


#: Controls that stick out of their console at the right where nothing scrolls them into view: a list of HTML.
CUT_OFF = """boxes => boxes.flatMap(box => {
    const edge = box.getBoundingClientRect().right + 2;
    const scrolls = e => {
        for (let at = e.parentElement; at && at !== box; at = at.parentElement)
            if (['auto', 'scroll'].includes(getComputedStyle(at).overflowX)) return true;
        return false;
    };
    return [...box.querySelectorAll('input, select, button')]
        .filter(e => e.checkVisibility() && e.getBoundingClientRect().right > edge && !scrolls(e))
        .map(e => e.outerHTML.slice(0, 120));
})"""
#: Labels, lists and fields that do not show all their words, a folder's name apart: a list of what they say.
CUT_SHORT = """boxes => {
    const pen = document.createElement('canvas').getContext('2d');
    const room = (e, words) => {
        const style = getComputedStyle(e);
        pen.font = style.font;
        const inside = e.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
        return inside - pen.measureText(words).width;
    };
    const short = e => e.matches('.widget-label') ? e.scrollWidth > e.clientWidth + 1 && e.textContent
        : e.matches('select') ? room(e, e.selectedOptions[0]?.text || '') < -1 && e.selectedOptions[0].text
        : !e.value.includes('/') && room(e, e.value || e.placeholder) < -1 && (e.value || e.placeholder);
    return boxes.flatMap(box => [...box.querySelectorAll('.widget-label, select, input[type=text]')])
        .filter(e => e.checkVisibility() && e.clientWidth).map(short).filter(Boolean);
}"""
#: Words in pictures that are smaller on screen than so many pixels: a list of sizes and words.
TINY = """(boxes, least) => boxes.flatMap(box => [...box.querySelectorAll('.jl-wide, .jl-tile')]).flatMap(svg => {
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    return [...svg.querySelectorAll('text')].map(t => [parseFloat(getComputedStyle(t).fontSize) * scale, t])
        .filter(([size]) => size && size < least).map(([size, t]) => `${size.toFixed(1)}: ${t.textContent}`);
})"""
#: What scrolls sideways, tables and formulas apart: a list of HTML.
SIDEWAYS = """() => {
    const page = document.querySelector('#course-page');
    const may = 'table, .MathJax, pre, .jp-Editor';
    return [...page.querySelectorAll('*')].filter(e => e.clientWidth && e.scrollWidth > e.clientWidth + 1
            && ['auto', 'scroll'].includes(getComputedStyle(e).overflowX)
            && e.checkVisibility() && !e.closest(may) && !e.querySelector(':scope > table'))
        .map(e => `${e.scrollWidth} in ${e.clientWidth}: ${e.outerHTML.slice(0, 100)}`);
}"""
#: What is pressed and smaller than a finger, of so many CSS pixels: a list of sizes and HTML.
SMALL = """least => [...document.querySelectorAll('#course-bar *, #course-page .jp-OutputArea *')]
    .filter(e => e.matches('button, summary, select, a.course-go, input[type=text], .noUi-handle'))
    .filter(e => e.checkVisibility())
    .map(e => [e, e.getBoundingClientRect()])
    .filter(([e, box]) => box.height && (box.height < least - 0.5 || box.width < least - 0.5))
    .map(([e, box]) => `${box.width.toFixed(0)} x ${box.height.toFixed(0)}: ${e.outerHTML.slice(0, 100)}`)"""
#: Words of a picture that lie over one another: a list of pairs.
TOUCHING = """boxes => boxes.flatMap(box => [...box.querySelectorAll('.jl-wide, .jl-tile')]).flatMap(svg => {
    const words = [...svg.querySelectorAll('text')].filter(t => t.textContent.trim() && t.checkVisibility())
        .map(t => [t.textContent, t.getBoundingClientRect()]);
    return words.flatMap(([one, a], at) => words.slice(at + 1).filter(([, b]) =>
        Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 &&
        Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 4).map(([other]) => `${one} | ${other}`));
})"""
#: Controls that cannot be seen together with the picture of their console, once it is scrolled to: names.
APART = """() => [...document.querySelectorAll('#course-page .course-console:has(.jl-picture)')].flatMap(box => {
    const bar = document.querySelector('#course-bar').getBoundingClientRect().bottom;
    return [...box.querySelectorAll('input, select, .noUi-handle')].filter(e => e.checkVisibility()).filter(e => {
        scrollTo(0, scrollY + box.getBoundingClientRect().top - bar);
        e.scrollIntoView({block: 'nearest'});
        const picture = box.querySelector('.jl-picture').getBoundingClientRect(), place = e.getBoundingClientRect();
        const seen = Math.min(picture.bottom, innerHeight) - Math.max(picture.top, bar);
        return seen < 0.95 * picture.height || place.top < bar || place.bottom > innerHeight;
    }).map(e => `${box.querySelector('[role=heading]').textContent}: ${e.ariaLabel || e.outerHTML.slice(0, 60)}`);
})"""
FINGER = 44  # CSS pixels, as accessibility guidelines ask of a target (WCAG 2.5.5)


def faults_of_size(book, words, finger=False):
    """What is cut off, too small or to be scrolled sideways at the size of window there is now, by what it is.

    words: the least size of words in pictures, pixels. finger: whether the screen is touched.
    """
    page, consoles = book.page, book.consoles()
    found = {
        "wider than the screen": page.evaluate("() => Math.max(0, document.documentElement.scrollWidth - innerWidth)"),
        "in a frame that scrolls sideways": page.evaluate(SIDEWAYS),
        "cut off": consoles.evaluate_all(CUT_OFF),
        "not all to be seen": consoles.evaluate_all(CUT_SHORT),
        "words too small to read": consoles.evaluate_all(TINY, words),
        "words that touch": consoles.evaluate_all(TOUCHING),
        "too small for a finger": page.evaluate(SMALL, FINGER) if finger else [],
    }
    return {fault: where for fault, where in found.items() if where}
