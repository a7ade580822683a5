"""The slips of a room as one page to print and cut, on A4 or Letter: what to open, as whom, with which password.

`room.py slips` runs this with the room's packages: {"url": …, "words": {name: password}} comes in, the page goes out.
The code to scan opens the sign-in page with the name filled in. The password is not in it: phones keep what they scan.
"""

import json
import sys
from html import escape

import segno

COURSE = "Drain-line jetting"
# Sizes in millimeters and a typeface with room to spare, so that ten slips fit one sheet whatever the machine has.
STYLE = """
@page { margin: 10mm }
* { box-sizing: border-box; margin: 0 }
body { width: 186mm; color: #000; background: #fff; font: 10.5pt/1.3 "DejaVu Sans", Arial, Helvetica, sans-serif }
main { display: flex; flex-wrap: wrap }
section { display: flex; gap: 4mm; width: 93mm; height: 50mm; padding: 4mm; border: 0.2mm dashed #777;
  break-inside: avoid; overflow: hidden }
svg { flex: none; width: 32mm; height: 32mm }
h1 { font-size: 11pt } p { margin-top: 1.2mm } code { font: bold 11.5pt "DejaVu Sans Mono", monospace }
.url { font-size: 9pt; overflow-wrap: anywhere } .note { font-size: 8pt }
@media screen { body { margin: 6mm auto } }
"""


def scan_code(url, name):
    """A QR code (ISO/IEC 18004) of the sign-in page for a seat, as SVG."""
    made = segno.make(f"{url}hub/login?username={name}", error="m", micro=False)
    return made.svg_inline(scale=4, border=2, omitsize=True, title=f"The address for {name}, to scan")


def slip(url, name, word):
    return (
        f"<section>{scan_code(url, name)}<div><h1>{COURSE}</h1><p class=url>Scan, or open<br><b>{escape(url)}</b></p>"
        f"<p>Username<br><code>{escape(name)}</code></p><p>Password<br><code>{escape(word)}</code></p>"
        "<p class=note>For this class. Keep it to yourself.</p></div></section>"
    )


def page(url, words):
    body = "\n".join(slip(url, name, word) for name, word in words.items())
    return (
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>Slips: {COURSE}</title>'
        f"<style>{STYLE}</style></head>\n<body><main>\n{body}\n</main></body></html>\n"
    )


if __name__ == "__main__":
    sys.stdout.buffer.write(page(**json.load(sys.stdin)).encode())
