"""A learner's progress from standard input to standard output, checked, with a seat's name on it.

`room.py collect` runs this with the learner's rights: label.py seat01 < progress.json > for_the_trainer.json
"""

import sys
from datetime import UTC, datetime

from jetlib.course.progress.record import MOST_BYTES, Damaged, Newer, from_bytes, to_bytes


def main(label):
    try:
        record = from_bytes(sys.stdin.buffer.read(MOST_BYTES + 1))
    except (Damaged, Newer):
        return 1
    now = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    sys.stdout.buffer.write(to_bytes(record, exported=now, label=label))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
