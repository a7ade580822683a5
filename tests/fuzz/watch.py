"""Feeds strange inputs to each target in a process of its own and prints what each did to the machine.

Run by test_nothing_is_touched.py: python watch.py FOLDER. Python tells a hook of every file it opens, every
program it starts, every connection it makes and every text it compiles (PEP 578); the hook writes down all but reading.
"""

import json
import os
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
CHANGES = (
    "os.rename", "os.remove", "os.link", "os.symlink", "os.truncate", "os.mkdir", "os.rmdir", "os.chmod", "os.chown",
    "os.utime", "os.putenv", "os.unsetenv", "os.chdir", "shutil.rmtree", "shutil.move", "shutil.copyfile",
    "tempfile.mkstemp", "tempfile.mkdtemp",
)  # fmt: skip
RUNS = (
    "exec", "compile", "import", "os.system", "os.exec", "os.fork", "os.forkpty", "os.posix_spawn", "os.spawn",
    "subprocess.Popen", "ctypes.dlopen", "code.__new__", "pickle.find_class", "marshal.loads", "webbrowser.open",
    "pty.spawn", "cpython.run_command", "builtins.input",
)  # fmt: skip
CALLS_OUT = ("socket.", "urllib.", "http.", "ftplib.", "smtplib.", "os.listxattr", "syslog.")

seen = []
armed = False


def hook(event, given):
    if not armed:
        return
    if event == "open":
        path, mode, flags = given
        writing = (mode and set(mode) & set("wax+")) or (flags or 0) & WRITES
        if writing and not isinstance(path, int):  # a number is a file that was opened, and seen, before
            seen.append(("write", str(path)))
    elif event in CHANGES:
        seen.append((event, *(str(each) for each in given[:2] if isinstance(each, str | bytes | os.PathLike))))
    elif event in RUNS or event.startswith(CALLS_OUT):
        seen.append((event, str(given)[:200]))


def paths(entry):
    """The places that an entry of `seen` names."""
    return [each for each in entry[1:] if os.path.isabs(each)]


def main(folder):
    import fuzz_targets as targets

    sys.addaudithook(hook)
    os.chdir(folder)
    feed = {target.__name__: target for target in (*targets.TEXT_TARGETS, *targets.BYTE_TARGETS)}
    # What does what it must not comes last: the hook has to see every bit of it.
    print(json.dumps({name: watched(name, target) for name, target in (*feed.items(), ("self_test", _misbehave))}))


def watched(name, target):
    """What a target did with how many strange inputs, a dict."""
    global armed
    from itertools import islice

    import fuzz_targets as targets
    import strange

    ordinary = {
        "unit_text": ["8 gpm", "#60", "-6", "1:60", "12 furlong"],
        "answer": ["8 gpm", "3"],
        "rule_text": ["gauge at idle = 0.2 * gauge at full", "gauge = nothing"],
        "rig_file": [strange.RIG_TEXTS[0], "x"],
        "progress_file": [strange.GOOD_RECORD.decode(), "x"],
        "exported_progress": [strange.GOOD_RECORD.decode(), "x"],
        "bench_file": ['{"schema": 1, "held": {"rig": 1}}', "x"],
        "vote_file": [strange.VOTES.decode(), "x"],
        "drill_file": ['{"schema": 1, "held": {"board": {"teams": ["a", "b"], "results": []}}}', "x"],
        "plan_file": [strange.PLAN_TEXTS[0], "x"],
        "self_test": ["x"],
    }[name]
    as_given = str if target in targets.TEXT_TARGETS or name == "self_test" else lambda text: text.encode()
    for text in ordinary:  # modules that load when first used are loaded now, and that may take its time
        getattr(target, "__wrapped__", target)(as_given(text))
    evil = [*strange.ACTS, *islice(strange.LONG, 0, None, 7)]
    if name == "rig_file":  # where a value, a name or a key would be
        evil += [_set(text, act) for text in strange.RIG_TEXTS[:1] for act in strange.ACTS]
        evil += [strange.RIG_TEXTS[0] + "\n" + json.dumps(act) + " = 1\n" for act in strange.ACTS]
    if name in ("progress_file", "exported_progress"):
        good = strange.GOOD_RECORD.decode()
        evil += [good.replace('"02-areas-add"', json.dumps(act)) for act in strange.ACTS]
    if name == "vote_file":
        evil += [strange.VOTES.decode().replace("02-double-flow", act.replace('"', "'")) for act in strange.ACTS]
    if name == "drill_file":
        board = {"teams": ["a", "b"], "results": []}
        evil += [
            json.dumps({"schema": 1, "held": {"board": board, "drill": {"rig": act, "seed": 1, "steps": act}}})
            for act in strange.ACTS
        ]
    if name == "plan_file":
        evil += [_set(strange.PLAN_TEXTS[0], act, "title") for act in strange.ACTS]
    if name == "bench_file":
        evil += [json.dumps({"schema": 1, "held": {act: {act: act}, "rig": act}}) for act in strange.ACTS]
    seen.clear()
    armed = True
    for text in evil:
        target(as_given(text))
    armed = False
    own = str(targets.scratch())
    outside = [entry for entry in seen if not paths(entry) or not all(each.startswith(own) for each in paths(entry))]
    return {"fed": len(evil), "seen": len(seen), "outside": outside, "left": os.listdir()}


def _set(text, act, key="name"):
    lines = [line for line in text.splitlines() if not line.startswith(f"{key} =")]
    lines.insert(1, f"{key} = {json.dumps(act)}")
    return "\n".join(lines)


def _misbehave(_):
    """What a careless program would do."""
    if armed:
        Path("owned").write_text("x")
        eval("1 + 1")
        os.system("true")


if __name__ == "__main__":
    main(*sys.argv[1:])
