#!/usr/bin/env python3
"""Runs the commands that README and docs show, and holds their output to what is printed there; every source file is named in DEVELOPERS.md.

A block that opens with ```console holds commands behind "$ " and, under each, its stdout to the letter; a line "..." stands for any lines.
A command without lines under it must only succeed. All run in one copy of the samples, so that later ones see what earlier ones wrote.

usage: check_docs.py PROGRAM SOURCE_FOLDER
"""
import glob
import os
import re
import shutil
import subprocess
import sys
import tempfile


def blocks(path):
    with open(path, encoding="utf-8") as file:
        text = file.read()
    for match in re.finditer(r"^```console\n(.*?)^```", text, re.M | re.S):
        yield match.group(1)


def calls(block):
    command, wanted = None, []
    for line in block.splitlines():
        if line.startswith("$ "):
            if command is not None:
                yield command, wanted
            command, wanted = line[2:], []
        else:
            wanted.append(line)
    if command is not None:
        yield command, wanted


def matches(wanted, got):
    if not wanted:
        return True
    pattern = "".join("(?:.*\n)*" if line == "..." else re.escape(line) + "\n" for line in wanted)
    return re.fullmatch(pattern, got) is not None


def unnamed_files(source):
    """Sources that DEVELOPERS.md does not name; a header beside a .c file of its name goes with that."""
    with open(os.path.join(source, "DEVELOPERS.md"), encoding="utf-8") as file:
        text = file.read()
    for path in sorted(glob.glob(os.path.join(source, "src", "*", "*.[ch]"))):
        alone = path.endswith(".c") or not os.path.exists(path[:-1] + "c")
        if alone and f"`{os.path.basename(path)}`" not in text:
            yield path


def main(program, source):
    failed = ran = 0
    for path in unnamed_files(source):
        failed += 1
        print(f"DEVELOPERS.md does not name {path}")
    with tempfile.TemporaryDirectory() as work:
        shutil.copytree(os.path.join(source, "samples"), os.path.join(work, "samples"))
        os.mkdir(os.path.join(work, "build"))
        os.symlink(os.path.abspath(program), os.path.join(work, "build", "drawerwright"))
        environment = dict(os.environ, PATH=os.path.join(work, "build") + ":" + os.environ["PATH"], LC_ALL="C.UTF-8")
        for path in [os.path.join(source, "README.md")] + sorted(glob.glob(os.path.join(source, "docs", "*.md"))):
            for block in blocks(path):
                for command, wanted in calls(block):
                    if command.startswith("sh "):
                        continue  # the set-up itself
                    ran += 1
                    done = subprocess.run(command, shell=True, cwd=work, env=environment, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                                          stderr=subprocess.PIPE, text=True, timeout=120)
                    if done.returncode != 0 or not matches(wanted, done.stdout):
                        failed += 1
                        print(f"{path}: $ {command}\nexit {done.returncode}\n{done.stdout}{done.stderr}")
    print(f"{ran} commands of the documents run, {failed} failed")
    return 1 if failed or not ran else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2]))
