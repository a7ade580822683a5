"""What opening jetlib costs, over numpy alone. Run: python tests/benchmarks/imports.py

Each in a fresh Python, turn about, the time from before to after the import; the median of the turns.
"""

import statistics
import subprocess
import sys

from ratios import Ratio, printed

TURNS = 15
OPENED = {
    "numpy": "import numpy",
    "jetlib": "import jetlib",
    "numpy and jetlib": "import numpy, jetlib",
    "engine": "from jetlib import Rig, operating_point",
    "units": "import jetlib; jetlib.Hose('1/2 in', '200 ft')",
    "console": "from jetlib.screen.consoles.bypass_console import bypass_console; bypass_console()",
}


def seconds(code):
    """Seconds that `code` takes in a fresh Python."""
    timed = f"import time\nstart = time.perf_counter()\n{code}\nprint(time.perf_counter() - start)"
    return float(subprocess.run([sys.executable, "-c", timed], capture_output=True, text=True, check=True).stdout)


def ratios():
    """(Ratios, sentences about them)."""
    times = {name: [] for name in OPENED}
    for turn in range(TURNS + 1):
        for name, code in OPENED.items():
            spent = seconds(code)
            if turn:  # the first fills the disk's cache
                times[name].append(spent)
    middle = {name: statistics.median(each) for name, each in times.items()}
    floor = middle["numpy"]
    found = (
        Ratio("import jetlib / import numpy", middle["jetlib"] / floor, 1.3),
        Ratio("import numpy and jetlib / import numpy", middle["numpy and jetlib"] / floor, 1.3),
        Ratio("from jetlib import Rig, operating_point / import numpy", middle["engine"] / floor),
        Ratio("the same up to a first hose typed with units / import numpy", middle["units"] / floor),
        Ratio("the same up to a first console / import numpy", middle["console"] / floor),
    )
    return found, (f"import numpy takes {floor * 1e3:.0f} ms here.",)


if __name__ == "__main__":
    print(printed(*ratios()))
