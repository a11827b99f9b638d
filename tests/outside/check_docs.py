#!/usr/bin/env python3
"""Runs the commands that README and docs show, and holds their output to what is printed there; holds the list of files in DEVELOPERS.md to what the
sources say of themselves.

A block that opens with ```console holds commands behind "$ " and, under each, its stdout to the letter; a line "..." stands for any lines.
A command without lines under it must only succeed. A block that opens with ```json NAME is written into the file NAME, one that opens with ```json has to
be read as a job where it has cases. All run in one copy of the samples, so that later ones see what earlier ones wrote.

usage: check_docs.py PROGRAM SOURCE_FOLDER
       check_docs.py --list SOURCE_FOLDER       writes the list of files anew
"""
import glob
import os
import re
import shutil
import subprocess
import sys
import tempfile


LIST_HEAD = "## Every file\n\n"


def blocks(path):
    """The blocks to act on, in order: what they open with, and their text."""
    with open(path, encoding="utf-8") as file:
        text = file.read()
    for match in re.finditer(r"^```(\S[^\n]*)\n(.*?)^```", text, re.M | re.S):
        yield match.group(1).split(), match.group(2)


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


def first_sentence(path):
    """What a source says of itself: the first sentence of the comment that opens it, behind its name; "see X.h" stands for what that says."""
    with open(path, encoding="utf-8") as file:
        comment = re.match(r"/\* \S+ - (.*?)(?:\n \*\n|\*/)", file.read(), re.S)
    words = re.sub(r"\s*\n \* ?", " ", comment.group(1)).strip() if comment else ""
    words = re.split(r"(?<=[^.])\.(?:\s|$)", words)[0]
    header = re.fullmatch(r"see (\w+\.h)", words)
    return first_sentence(os.path.join(os.path.dirname(path), header.group(1))) if header else words.replace("|", "\\|")


def list_of_files(source):
    """The tables of files, room by room in the order of the rooms; a header beside a .c file of its name goes with that."""
    with open(os.path.join(source, "CMakeLists.txt"), encoding="utf-8") as file:
        rooms = re.findall(r"^dw_room\((\w+)", file.read(), re.M) + ["cli"]
    lines = []
    for room in rooms:
        lines += [f"### src/{room}", "", "| file | what it holds |", "| --- | --- |"]
        for path in sorted(glob.glob(os.path.join(source, "src", room, "*.[ch]"))):
            if path.endswith(".c") or not os.path.exists(path[:-1] + "c"):
                lines.append(f"| `{os.path.basename(path)}` | {first_sentence(path)} |")
        lines.append("")
    return "\n".join(lines[:-1]) + "\n"


def developers(source, write):
    """Is the list of files in DEVELOPERS.md in step with the sources? With `write`, makes it so."""
    path = os.path.join(source, "DEVELOPERS.md")
    with open(path, encoding="utf-8") as file:
        text = file.read()
    head = text.split(LIST_HEAD)[0]
    wanted = head + LIST_HEAD + list_of_files(source)
    if write:
        with open(path, "w", encoding="utf-8") as file:
            file.write(wanted)
    return write or text == wanted


def run(command, work, environment):
    return subprocess.run(command, shell=True, cwd=work, env=environment, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                          text=True, timeout=120, check=False)


def check_document(path, work, environment):
    """Numbers of commands run and of those that failed."""
    ran = failed = 0
    for opening, block in blocks(path):
        steps = calls(block) if opening == ["console"] else []
        if opening[0] == "json" and (len(opening) == 2 or '"cases"' in block):
            name = opening[1] if len(opening) == 2 else "shown.json"
            with open(os.path.join(work, name), "w", encoding="utf-8") as file:
                file.write(block)
            steps = [(f"drawerwright check {name} --quiet", [])]
        for command, wanted in steps:
            if command.startswith("sh "):
                continue  # the set-up itself
            ran += 1
            done = run(command, work, environment)
            if done.returncode != 0 or not matches(wanted, done.stdout):
                failed += 1
                print(f"{path}: $ {command}\nexit {done.returncode}\n{done.stdout}{done.stderr}")
    return ran, failed


def unlisted(source):
    """Documents that README does not link to."""
    with open(os.path.join(source, "README.md"), encoding="utf-8") as file:
        text = file.read()
    names = ["docs/" + os.path.basename(path) for path in sorted(glob.glob(os.path.join(source, "docs", "*.md")))]
    return [name for name in names if f"({name})" not in text]


def main(program, source):
    failed = ran = 0
    for name in unlisted(source):
        failed += 1
        print(f"README.md does not link to {name}")
    if not developers(source, write=False):
        failed += 1
        print("the list of files in DEVELOPERS.md is out of step; python3 tests/outside/check_docs.py --list . makes it anew")
    with tempfile.TemporaryDirectory() as work:
        shutil.copytree(os.path.join(source, "samples"), os.path.join(work, "samples"))
        os.mkdir(os.path.join(work, "build"))
        os.symlink(os.path.abspath(program), os.path.join(work, "build", "drawerwright"))
        environment = dict(os.environ, PATH=os.path.join(work, "build") + ":" + os.environ["PATH"], LC_ALL="C.UTF-8")
        for path in [os.path.join(source, "README.md")] + sorted(glob.glob(os.path.join(source, "docs", "*.md"))):
            document_ran, document_failed = check_document(path, work, environment)
            ran += document_ran
            failed += document_failed
    print(f"{ran} commands of the documents run, {failed} failed")
    return 1 if failed or not ran else 0


if __name__ == "__main__":
    if sys.argv[1] == "--list":
        sys.exit(0 if developers(sys.argv[2], write=True) else 1)
    sys.exit(main(sys.argv[1], sys.argv[2]))
