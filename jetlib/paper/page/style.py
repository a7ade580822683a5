"""How a printed page looks: one style sheet, one template. Black on white; nothing is told by colour."""

from jinja2 import DictLoader, Environment, StrictUndefined

STYLE = """
* { box-sizing: border-box; }
html { color: #000; background: #fff; font: 11.5pt/1.4 "Course Sans", sans-serif; }
body { margin: 0 auto; max-width: 186mm; padding: 8mm; }
h1 { font-size: 19pt; line-height: 1.2; margin: 0 0 2mm; }
h2 { font-size: 14.5pt; margin: 6mm 0 2mm; border-bottom: 0.4mm solid #000; }
h3 { font-size: 12.5pt; margin: 4mm 0 1mm; }
h1, h2, h3, h4, .lead, .about { break-after: avoid; break-inside: avoid; }
p:has(+ .question), p:has(+ .guess), p:has(+ table), p:has(+ ul), p:has(+ ol),
p:has(+ h3), p:has(+ div) { break-after: avoid; }
p, ul, ol { margin: 0 0 2.5mm; }
p { break-inside: avoid; }
ul, ol { padding-left: 7mm; }
li { margin-bottom: 1mm; break-inside: avoid; }
li:first-child { break-after: avoid; }
li:last-child { break-before: avoid; }
a { color: inherit; text-decoration: none; } code { font: inherit; }
table { border-collapse: collapse; margin: 1mm 0.3mm 3mm; max-width: calc(100% - 0.6mm); }
thead { display: table-header-group; }
tr { break-inside: avoid; }
th, td { border: 0.25mm solid #000; padding: 0.9mm 2mm; text-align: left; vertical-align: top; }
thead th { border-bottom-width: 0.6mm; }
td.number, th.number { text-align: right; }
td.number, th.number[scope=row] { white-space: nowrap; }
td.blank { min-width: 32mm; height: 9mm; }
table.write td.blank { height: 8.5mm; }
.beside { display: flex; gap: 5mm; break-inside: avoid; }
.beside > div { flex: none; }
.beside td, .beside th { white-space: nowrap; }
table.wide { width: calc(100% - 0.6mm); }
table.wide th[scope=row] { font-weight: normal; }
table.fixed { table-layout: fixed; }
table.close { font-size: 11pt; } table.close th, table.close td { padding: 0.7mm 1.4mm; }
table:not(:has(tr:nth-child(10))) { break-inside: avoid; }
tr:first-child:has(~ tr:nth-child(10)), tr:nth-child(2):has(~ tr:nth-child(10)) { break-after: avoid; }
tr:nth-child(n + 9):last-child, tr:nth-child(n + 9):nth-last-child(2) { break-before: avoid; }
figure { margin: 2mm 0 4mm; break-inside: avoid; }
img, figure svg { max-width: 100%; height: auto; display: block; }
svg.maths { overflow: visible; }
.formula { margin: 1mm 0 3mm; break-inside: avoid; text-align: center; }
.formula > span { display: inline-block; margin: 1.5mm 4mm; white-space: nowrap; }
.caution { border: 0.9mm solid #000; padding: 2mm 3mm; margin: 3mm 0; break-inside: avoid; }
.caution b.head { text-transform: uppercase; letter-spacing: 0.04em; }
.caution p, .caution ul { margin: 0; }
.question { border-left: 1.2mm solid #000; padding-left: 3mm; margin: 0 0 5mm; break-inside: avoid; }
article.key { break-inside: auto; }
article.key > .together:first-child { break-after: avoid; }
.question h3 { margin-top: 0; }
.guess { border: 0.4mm dashed #000; padding: 2mm 3mm; margin: 2mm 0 4mm; break-inside: avoid; }
.guess h3 { margin-top: 0; }
.options { list-style: none; padding: 0; }
.options li { padding-left: 16mm; text-indent: -16mm; }
.box { display: inline-block; width: 4.6mm; height: 4.6mm; border: 0.4mm solid #000; margin-right: 2mm;
  vertical-align: -0.8mm; text-indent: 0; }
.answer { margin: 2mm 0; break-inside: avoid; }
.fill { display: inline-block; border-bottom: 0.4mm solid #000; width: 62mm; height: 8mm; }
.fill.half { width: 36mm; }
.line { border-bottom: 0.25mm dotted #000; height: 8mm; }
.right { font-weight: bold; }
.solution { border-left: 0.4mm dashed #000; padding-left: 3mm; }
.verdict { border: 0.9mm solid #000; padding: 2mm 3mm; font-size: 13.5pt; font-weight: bold; break-inside: avoid; }
.about { margin: 0 0 3mm; font-size: 10pt; }
.together { break-inside: avoid; }
.small, .card, .card table { font-size: 10pt; line-height: 1.18; }
.card h1 { margin: 0; } .card h2 { font-size: 12.5pt; margin: 1.5mm 0 0.7mm; border: 0; }
.card p, .card ul, .card ol { margin: 0 0 1mm; } .card li { margin: 0 0 0.1mm; } .card .answer { margin: 0; }
.card .caution { margin: 1.5mm 0; padding: 1mm 2mm; } .card .caution > p, .card .caution > b { display: inline; }
.card .verdict { padding: 1mm 3mm; } .card table.close th, .card table.close td { padding: 0.3mm 1.2mm; }
.healthy td, .healthy tbody th { font-size: 13.5pt; }
.card .healthy td, .card .healthy th { padding: 0.7mm 1mm; } .healthy td.blank { min-width: 24mm; height: 7mm; }
.fill.short { width: 30mm; height: 5mm; }
.two { columns: 2; column-gap: 4mm; } .two table { margin: 0 0.3mm 1mm; }
.card .sources { zoom: 0.8; break-inside: auto; } .two .together, .two table { break-inside: auto !important; }
.two th[scope=row] { font-weight: normal; } .write-in td { height: 13mm; }
.back { break-before: page; zoom: 0.95; } .a5 .back { zoom: 0.79; } .a5 .front { zoom: 0.87; }
.a5 .healthy td, .a5 .healthy tbody th { font-size: 12.5pt; }
.a5 { zoom: 0.8; }
@media print { .card .about, .named { display: none; } }
.slips { display: grid; grid-template-columns: 1fr 1fr; }
.slip { border: 0.25mm dashed #000; padding: 3mm 4mm; break-inside: avoid; }
.slip h3 { font-size: 19pt; margin: 0 0 1mm; }
section.part + section.part { break-before: page; }
@media screen { section.part + section.part { border-top: 1mm dashed #000; margin-top: 10mm; padding-top: 6mm; } }
@media print { body { max-width: none; padding: 0 4mm; margin: 0; } }
"""

_PAGE = """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>{{ title }}</title>
<style>{{ faces | safe }}
{{ style | safe }}
{% for part in parts %}
@page {{ part.page }} { size: {{ size }};
  margin: {{ "14mm" if part.named else "9mm" if part.card else "15mm" }} {{ "9mm 14mm" if part.card else "11mm 24mm" }};
  @bottom-left { content: "{{ part.footer_css | safe }}"; width: 82%; text-align: left; vertical-align: top;
    padding-top: 2mm; border-top: 0.3mm solid #000; font: {{ 7 if part.card else 9 }}pt/1.3 "Course Sans", sans-serif; }
{% if part.named %}
  @top-right { content: "Name __________________________________"; vertical-align: bottom;
    font: 10pt "Course Sans", sans-serif; }
{% endif %}
  @bottom-right { content: "page " counter(page) " of " counter(pages); text-align: right; vertical-align: top;
    padding-top: 2mm; border-top: 0.3mm solid #000; font: {{ 7 if part.card else 9 }}pt/1.3 "Course Sans", sans-serif; }
}
section.{{ part.page }} { page: {{ part.page }}; }
{% endfor %}</style>
</head>
<body{% if close %} class="a5"{% endif %}>
{% for part in parts %}
<section class="part {{ part.page }}{{ " card" if part.card }}">
{% if part.named %}<p class="named">Name <span class="fill"></span></p>{% endif %}
<h1>{{ part.title }}</h1>
{% if part.lead %}<p class="lead">{{ part.lead }}</p>{% endif %}
<p class="about">{{ part.footer }}</p>
{{ part.body | safe }}
</section>
{% endfor %}
</body>
</html>
"""

_CAUTION = """<div class="caution" role="note"><b class="head">Caution</b>
{% if lines | length == 1 %}<p>{{ lines[0] }}</p>{% else %}
<ul>{% for line in lines %}<li>{{ line }}</li>{% endfor %}</ul>{% endif %}</div>
"""

_TABLE = """{% if rows | length <= 6 or caption %}<div class="{{ 'together' if rows | length <= 6 }}">{% endif %}
{% if caption %}<p class="lead"><b>{{ caption }}</b></p>{% endif %}
<table class="{{ style }}">
{% if widths %}<colgroup>{% for width in widths %}<col style="width:{{ width }}%">{% endfor %}
</colgroup>{% endif %}
<thead><tr>{% for head in heads -%}
<th scope="col"{% if loop.index0 in numbers %} class="number"{% endif %}>{{ head }}</th>
{% endfor %}</tr></thead>
<tbody>{% for row in rows %}<tr>{% for cell in row %}{% if loop.index0 == 0 and row_heads -%}
<th scope="row"{% if 0 in numbers %} class="number"{% endif %}>{{ cell }}</th>
{%- elif cell is none %}<td class="blank"></td>
{%- else %}<td{% if loop.index0 in numbers %} class="number"{% endif %}>{{ cell }}</td>{% endif %}{% endfor %}</tr>
{% endfor %}</tbody></table>{% if rows | length <= 6 or caption %}</div>{% endif %}
"""

_QUESTION = """<article class="question" data-exercise="{{ exercise.id }}" data-seed="{{ variant.seed }}">
<h3>{{ number }}. {{ exercise.title }}</h3>
{% for words in question %}<p>{{ words }}</p>{% endfor %}
{{ body | safe }}
</article>
"""

_OPTIONS = """<ul class="options">{% for letter, words in options %}
<li><span class="box"></span><b>{{ letter }}</b>&ensp;{{ words }}</li>{% endfor %}</ul>
"""

_ROOM = """{% if asked %}
<p class="answer">{{ asked }} <span class="fill"></span></p>{% endif %}
{% if lines %}<div class="together">{% for _ in range(lines) %}<div class="line"></div>{% endfor %}</div>{% endif %}
"""

_GUESS = """<div class="guess" data-prediction="{{ prediction.id }}">
<h3>Before you look: {{ prediction.title }}</h3>
{% for words in question %}<p>{{ words }}</p>{% endfor %}
{{ body | safe }}</div>
"""

_KEY = """<article class="question key" data-exercise="{{ exercise.id }}" data-seed="{{ variant.seed }}">
<div class="together"><h3>{{ number }}. {{ exercise.title }}</h3>
{% for words in question %}<p>{{ words }}</p>{% endfor %}
{{ body | safe }}
<p class="right">Answer: {{ answer }}</p></div>
<div class="solution together">{% for words in solution %}<p>{{ words }}</p>{% endfor %}</div>
{{ mistakes | safe }}
</article>
"""

_PLAIN = "{{ words }}"

ENVIRONMENT = Environment(
    loader=DictLoader(
        {
            "page": _PAGE,
            "caution": _CAUTION,
            "table": _TABLE,
            "question": _QUESTION,
            "options": _OPTIONS,
            "room": _ROOM,
            "guess": _GUESS,
            "key": _KEY,
            "plain": _PLAIN,
        }
    ),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    keep_trailing_newline=False,
)


def fill(template, **values):
    """HTML of one of the templates above; every value that is text is escaped, but for what is HTML already."""
    return ENVIRONMENT.get_template(template).render(**values)


def caution(*lines):
    """The caution box, HTML."""
    return fill("caution", lines=lines)


def table(heads, rows, *, numbers=(), caption="", style="", row_heads=True, widths=()):
    """A table, HTML. rows: of texts, None for a cell to write in; numbers: columns set to the right, from 0.

    widths: of the columns, per cent. A table of few rows stays on one page."""
    return fill(
        "table",
        heads=heads,
        rows=rows,
        numbers=tuple(numbers),
        caption=caption,
        style=style,
        row_heads=row_heads,
        widths=widths,
    )


def paragraphs(words):
    """The paragraphs of plain text, a list; lines of one that stand under one another stay so."""
    return [line.strip() for part in words.split("\n\n") for line in part.split("\n") if line.strip()]
