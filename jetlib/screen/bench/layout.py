"""How the bench lies on the page: the answer on top; rig and result side by side, or the result first on a tablet.

Classes: jl-bench the whole, jl-top what stays in sight, jl-both rig and result, jl-fields entries in columns, jl-across
an entry across them all, jl-NAME a color of the theme.
"""

from jetlib.screen.drawing.theme import COLOURS

#: The bench takes the width of the window, and nothing around it scrolls by itself, or the answer could not stay.
_STYLE = """
.course-reading #jp-main-dock-panel .jp-NotebookPanel:not(.lm-mod-hidden):has(.jl-bench) {max-width: 1400px !important}
.course-reading .jp-Cell-outputArea > .jp-OutputArea-child:has(.jl-bench),
.course-reading .jp-Cell-outputArea > .jp-OutputArea-child > .jp-OutputArea-output:has(.jl-bench) {
  overflow: visible !important}
.jl-bench > :first-child {position: absolute; clip-path: inset(50%)}
.jl-bench, .jl-bench .widget-box {overflow: visible}
.jl-bench .jl-top {position: sticky; top: var(--course-bar, 0px); z-index: 50; margin: 0 -8px; padding: 0 8px;
  background: var(--jp-layout-color0, #fff); border-bottom: 1px solid var(--jp-border-color1, #bdbdbd)}
.course-reading .jp-OutputArea .jl-bench.jl-bench > .jl-top {width: calc(100% + 16px) !important;
  max-width: none !important}
.jl-answer {display: flex; flex-wrap: wrap; gap: 0 20px; padding: 4px 0; line-height: 1.25}
.jl-answer > div {display: flex; flex-direction: column}
.jl-answer span {font-size: 0.85em; opacity: 0.85}
.jl-answer b {font-size: 1.5em; white-space: nowrap}
.jl-bench .jl-both {display: grid; grid-template-columns: minmax(0, 436px) minmax(0, 1fr); gap: 0 16px}
.jl-bench .jl-fields {display: grid; grid-template-columns: repeat(auto-fill, minmax(200px, 1fr)); gap: 0 8px}
.jl-bench .jl-result .jl-fields {grid-template-columns: repeat(auto-fill, minmax(276px, 1fr))}
.jl-bench .jl-fields > * {width: auto !important; margin: 0; align-self: start}
.jl-bench .jl-fields > .jl-across {grid-column: 1 / -1; max-width: 560px}
.jl-bench .widget-label {white-space: normal; line-height: 1.15; overflow: visible; height: auto;
  min-height: var(--jp-widgets-inline-height); display: flex; align-items: center; justify-content: flex-end}
.course-reading .jl-bench.jl-bench .widget-html {width: auto !important}
.jl-bench .jupyter-button {flex: none}
.jl-bench .jl-check {margin: 8px 0 2px; line-height: 1.35; max-width: 760px}
.jl-bench .jl-check > summary {font-weight: 600; cursor: pointer}
.jl-bench .jl-check span {font-weight: 400; opacity: 0.85; margin-left: 0.7em}
.jl-bench .jl-limits {display: table; margin: 0; border-collapse: collapse; line-height: 1.35}
.jl-bench .jl-limits :is(td, th) {padding: 4px 12px 4px 0; text-align: left; vertical-align: top; white-space: normal;
  background: none; color: inherit}
.jl-bench .jl-mark {display: block; width: 3.6em; border: 2px solid; text-align: center}
@media (max-width: 1100px) {
  .jl-bench .jl-both {grid-template-columns: minmax(0, 1fr)}
  .jl-bench .jl-result {order: -1}
  .jl-answer {gap: 0 14px; font-size: 0.85em}
}
@media (max-width: 640px) {
  .course-reading .jp-Cell .jl-bench .jl-across .widget-text {flex-direction: column; align-items: stretch;
    height: auto !important}
  .course-reading .jp-Cell .jl-bench .jl-across .widget-label {width: auto !important; justify-content: flex-start}
}
"""


def style():
    """The style sheet of the bench, HTML."""
    inks = (
        f"{theme}.jl-bench .jl-{name} {{color: {pair[dark]}}}"
        for dark, theme in enumerate(("", 'body[data-jp-theme-light="false"] '))
        for name, pair in COLOURS.items()
    )
    return f"<style>{_STYLE}{''.join(inks)}</style>"
