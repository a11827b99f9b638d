#!/usr/bin/env python3
"""How time and memory grow with a job: the whole line (`plan -o`, or any other command) on jobs of an invented shop, a row each.

Three ladders: drawers in one job, parts in one job (listed by hand), sheet sizes to choose from. Each row is a process of its own; seconds are of the
processor, memory is the most that it held. Ratios between rows say whether something grows worse than the job; seconds only say how it is here.

usage: scale.py PROGRAM [--command plan] [--most 1.0] [--patience short]
"""
import argparse
import json
import os
import random
import tempfile


def shop(sizes):
    """Three materials; the first two with `sizes` sheet sizes each, all different, prices about by area."""
    dice = random.Random(sizes)
    sheets = [{"id": "full", "length": 96, "width": 48, "price": "68.00"}]
    for number in range(1, sizes):
        length, width = 48 + number % 49, 24 + 7 * number % 31
        sheets.append({"id": f"size {number}", "length": length, "width": width, "price": f"{length * width / 68 + dice.randrange(800) / 100:.2f}"})
    return {
        "materials": [
            {"id": "sides", "thickness": "15/32", "sheets": sheets},
            {"id": "fronts", "thickness": "23/32", "sheets": sheets},
            {"id": "bottoms", "thickness": "7/32", "sheets": sheets[:1]},
        ],
        "slides": [{"id": "side", "lengths": [12, 14, 16, 18, 20, 22]}],
    }


def drawers(count, sizes=1):
    """Cases of four drawers; widths, heights and depths vary from case to case."""
    dice = random.Random(count)
    cases = []
    for number in range((count + 3) // 4):
        opening = {"width": 12 + dice.randrange(320) / 16, "height": 24 + dice.randrange(160) / 16, "depth": dice.choice([15, 17, 19, 21, 23])}
        cases.append({"name": f"C{number + 1}", "opening": opening, "banks": [{"drawers": [{}] * min(4, count - 4 * number)}]})
    plain = {"fit": "inset", "box": {"sides": "sides", "bottom": "bottoms"}, "front": {"material": "fronts"}}
    return {"shop": shop(sizes), "cases": [dict(case, **plain) for case in cases]}


def parts(count, sizes=1):
    """Parts listed by hand, in kinds of about ten pieces each."""
    dice = random.Random(count)
    rows = []
    while count > 0:
        pieces = min(count, dice.randrange(1, 20))
        rows.append({"name": f"part {len(rows) + 1}", "material": "sides", "length": 6 + dice.randrange(480) / 16, "width": 2 + dice.randrange(240) / 16,
                     "count": pieces})
        count -= pieces
    return {"shop": shop(sizes), "parts": rows}


def measure(program, command, patience, job, work):
    """Exit status, seconds of the processor, mebibytes."""
    path = os.path.join(work, "job.json")
    with open(path, "w", encoding="utf-8") as file:
        json.dump(dict(job, units="in"), file)
    words = [program, command, path, "--quiet"]
    if command in ("plan", "layout", "buy"):
        words += ["--patience", patience]
    if command == "plan":
        words += ["-o", os.path.join(work, "out")]
    child = os.fork()
    if child == 0:
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        os.execv(program, words)
    _, status, usage = os.wait4(child, 0)
    return os.waitstatus_to_exitcode(status), usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def main():
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("program")
    asked.add_argument("--command", default="plan")
    asked.add_argument("--patience", default="short")
    asked.add_argument("--most", type=float, default=1.0, help="a share of each ladder's end")
    options = asked.parse_args()
    ladders = [
        ("drawers", [10, 100, 250, 500, 1000], drawers),
        ("parts", [100, 1000, 2500, 5000, 10000], parts),
        ("sheet sizes, 100 drawers", [1, 10, 50, 100, 200], lambda sizes: drawers(100, sizes)),
    ]
    for name, steps, make in ladders:
        print(f"| {name} | exit | cpu s | MB |\n| --- | --- | --- | --- |", flush=True)
        for step in steps:
            if step > options.most * steps[-1] and step != steps[0]:
                break
            with tempfile.TemporaryDirectory() as work:
                status, seconds, megabytes = measure(os.path.abspath(options.program), options.command, options.patience, make(step), work)
            print(f"| {step} | {status} | {seconds:.2f} | {megabytes:.0f} |", flush=True)
        print()


if __name__ == "__main__":
    main()
