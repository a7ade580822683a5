"""What guards a pump, as SVG, each drawn by what it does: a spring that gives, a ball that holds the hose shut behind
it, a dome that tears. They stand on a line at picture x, y and let water out to their left.
"""

from jetlib.screen.drawing.chart import text

_METAL = 'fill="var(--jp-layout-color0, #ffffff)" stroke="currentColor" stroke-width="2"'
_THIN = 'fill="none" stroke="currentColor" stroke-linejoin="round"'
OUTLET = 38  # pixels above the line: where what they let out leaves


def unloader(x, y, opened, ink):
    """A regulating unloader: a cone on a seat, held down by a spring under a sealed cap. Open, the cone is lifted."""
    lift = 9 if opened else 0
    top, seat = y - 92, y - 22
    turns = 6
    space = (seat - 24 - lift - (top + 10)) / turns
    coils = "".join(f"L{x + (9 if turn % 2 else -9)} {top + 10 + space * (turn + 0.5):.1f}" for turn in range(turns))
    return (
        f'<path {_METAL} d="M{x - 17} {y - 8}V{top}H{x + 17}V{y - 8}Z"/>'
        f'<path {_THIN} stroke-width="2" d="M{x - 17} {seat}H{x - 7}M{x + 7} {seat}H{x + 17}"/>'
        f'<path {_THIN} stroke-width="2.4" d="M{x} {top + 10}{coils}L{x} {seat - 24 - lift}"/>'
        f'<path class="jl-ink-{ink if opened else "grey"}" stroke="currentColor" stroke-width="1.6" '
        f'd="M{x - 11} {seat - 22 - lift}H{x + 11}L{x} {seat + 3 - lift}Z"/>'
        f'<path fill="currentColor" d="M{x - 8} {top}V{top - 9}H{x + 8}V{top}Z"/>'
    )


def check_valve(x, y, held, ink):
    """A ball in the line: on its seat while it holds pressure in the hose behind it, off it while water goes by."""
    ball = x - 3 if held else x + 6
    return (
        f'<rect x="{x - 20}" y="{y - 17}" width="40" height="34" rx="4" {_METAL}/>'
        f'<path {_THIN} stroke-width="3" d="M{x - 14} {y - 15}L{x - 9} {y - 7}M{x - 14} {y + 15}L{x - 9} {y + 7}"/>'
        f'<circle class="jl-ink-{ink}" cx="{ball}" cy="{y}" r="9" stroke="currentColor" stroke-width="2"/>'
    )


def burst_disc(x, y, gone):
    """A thin dome between two flanges; gone, what is left of it stands up like petals."""
    low, high = y - 26, y - 70
    pieces = f"M{x - 14} {y - 8}V{low}h28V{y - 8}ZM{x - 14} {high}v-20h28v20ZM{x - 20} {low}V{high}h40V{low}Z"
    parts = f'<path {_METAL} d="{pieces}"/>'
    parts += f'<path fill="currentColor" d="M{x - 30} {low - 6}h60v7h-60zM{x - 30} {high}h60v7h-60z"/>'
    if gone:
        petals = f"M{x - 20} {low - 6}h9l-4 -24M{x + 20} {low - 6}h-9l4 -24"
        return parts + f'<path class="jl-line-red" fill="none" stroke-width="4" d="{petals}"/>'
    dome = f"M{x - 20} {low - 6}h6Q{x} {low - 36} {x + 14} {low - 6}h6"
    return parts + f'<path {_THIN} stroke-width="4" d="{dome}"/>'


def plug(x, y):
    """A tee with nothing on it but a plug, crossed out: a pump that nothing guards."""
    return (
        f'<path {_METAL} d="M{x - 12} {y - 8}V{y - 34}H{x + 12}V{y - 8}Z"/>'
        f'<path class="jl-line-red" fill="none" stroke-width="4" d="M{x - 16} {y - 66}l32 32m0 -32l-32 32"/>'
        + text(x, y - 74, "no valve", anchor="middle", colour="red", weight="bold")
    )
