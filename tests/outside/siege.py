#!/usr/bin/env python3
"""The page under fire: hostile requests of every kind against the program as a maker runs it, from outside, over the loopback address only.

    python3 siege.py PROGRAM SOURCES [REQUESTS]        10,000 when not told

Kinds of attack: hosts that are not ours, doubled headers, lengths that are wrong or at odds, other origins, forms, chunks, paths that lead out, hidden
ends, bodies that are no jobs, bodies that are huge or never come, clients that hang up or say one byte at a time, 200 connections at once, plans that are
asked for two at a time and stopped at once. (OWASP testing guide, RFC 9112; both from memory.) Throughout, honest requests must get the same answers as
before, nothing outside of the folder may be read or written, and the program's memory may not grow with the number of requests.
"""
import json
import os
import random
import shutil
import socket
import subprocess
import sys
import tempfile
import threading
import time

GROWTH_MOST = 24 << 20  # bytes: what two plans and their drawings may leave allocated, whatever the number of requests
SECRET = "quillhaven"


class Page:
    def __init__(self, program, sources):
        self.folder = tempfile.mkdtemp(prefix="dw-siege-")
        self.site = os.path.join(self.folder, "site")
        os.mkdir(self.site)
        for name in ("shop.json", "plan-chest.json", "service-bench.json"):
            shutil.copy(os.path.join(sources, "samples", name), self.site)
        with open(os.path.join(self.folder, "secret.json"), "w") as secret:
            secret.write(json.dumps({"word": SECRET}))
        with open(os.path.join(self.site, "plan-chest.json")) as job:
            self.job = job.read().encode()
        self.program = subprocess.Popen([program, "page", os.path.join(self.site, "plan-chest.json"), "--no-browser"], stdout=subprocess.PIPE, text=True)
        address = self.program.stdout.readline().strip()
        self.port = int(address.split(":")[2].split("/")[0])
        self.token = address.split("#")[1]
        self.host = f"127.0.0.1:{self.port}"

    def end(self):
        self.program.terminate()
        code = self.program.wait(60)
        shutil.rmtree(self.folder)
        return code

    def memory(self):
        with open(f"/proc/{self.program.pid}/status") as status:
            return next(int(line.split()[1]) << 10 for line in status if line.startswith("VmRSS"))

    def dial(self, seconds=30):
        return socket.create_connection(("127.0.0.1", self.port), seconds)

    def raw(self, request, seconds=30):
        """All that comes back; b"" when the line is cut without an answer."""
        answer = b""
        with self.dial(seconds) as line:
            try:
                line.sendall(request)
                while part := line.recv(65536):
                    answer += part
            except (ConnectionResetError, BrokenPipeError):
                pass
        return answer

    def form(self, method, path, body=None, **headers):
        lines = {"Host": self.host, "X-Page-Token": self.token, "Connection": "close"}
        if body is not None:
            lines.update({"Origin": f"http://{self.host}", "Content-Type": "application/json", "Content-Length": str(len(body))})
        lines.update({key.replace("_", "-"): value for key, value in headers.items()})
        head = "".join(f"{key}: {value}\r\n" for key, value in lines.items() if value is not None)
        return f"{method} {path} HTTP/1.1\r\n{head}\r\n".encode() + (body or b"")

    def ask(self, method, path, body=None, **headers):
        answer = self.raw(self.form(method, path, body, **headers))
        head, _, content = answer.partition(b"\r\n\r\n")
        return int(head.split(b" ")[1]) if head.startswith(b"HTTP/1.1 ") else 0, content


class Failure(Exception):
    pass


def expect(right, words):
    if not right:
        raise Failure(words)


def attacks(page):
    """(name, request, statuses that are right; 0: cut off without an answer)."""
    form = page.form
    save = "/api/save?id=x&version="
    ours = f"Host: {page.host}\r\nOrigin: http://{page.host}\r\nX-Page-Token: {page.token}\r\nContent-Type: application/json\r\nConnection: close\r\n"

    def post(more):
        return f"POST {save} HTTP/1.1\r\n{ours}{more}".encode()

    bad = (0, 400, 411, 413)
    return [
        ("no host", form("GET", "/", Host=None), (400,)),
        ("another host", form("GET", "/", Host="evil.example"), (403,)),
        ("a rebound name", form("GET", "/api/files", Host=f"evil.example:{page.port}"), (403,)),
        ("another port", form("GET", "/", Host="127.0.0.1:1"), (403,)),
        ("two hosts", form("GET", "/", Host=f"{page.host}\r\nHost: evil.example"), (400,)),
        ("no token", form("GET", "/api/files", X_Page_Token=None), (403,)),
        ("a wrong token", form("GET", "/api/files", X_Page_Token="0" * 32), (403,)),
        ("half a token", form("GET", "/api/files", X_Page_Token=page.token[:16]), (403,)),
        ("from another site", form("POST", save, b"{}", Origin="http://evil.example"), (403,)),
        ("from a sandbox", form("POST", save, b"{}", Origin="null"), (403,)),
        ("from nowhere", form("POST", save, b"{}", Origin=None), (403,)),
        ("read from another site", form("GET", "/api/file?id=plan-chest", Origin="http://evil.example"), (403,)),
        ("a form", form("POST", save, b"a=1", Content_Type="application/x-www-form-urlencoded"), (415,)),
        ("plain text", form("POST", save, b"{}", Content_Type="text/plain"), (415,)),
        ("no type", form("POST", save, b"{}", Content_Type=None), (415,)),
        ("chunks", post("Transfer-Encoding: chunked\r\n\r\n2\r\n{}\r\n0\r\n\r\n"), bad),
        ("chunks and a length", post("Content-Length: 2\r\nTransfer-Encoding: chunked\r\n\r\n2\r\n{}\r\n0\r\n\r\n"), bad),
        ("two lengths", post("Content-Length: 2\r\nContent-Length: 2\r\n\r\n{}"), bad),
        ("lengths at odds", post("Content-Length: 2\r\nContent-Length: 40\r\n\r\n{}"), bad),
        ("a negative length", post("Content-Length: -2\r\n\r\n{}"), bad),
        ("an absurd length", post("Content-Length: 99999999999999999999\r\n\r\n{}"), bad),
        ("announced too long", post("Content-Length: 4194305\r\n\r\n{}"), (413,)),
        ("a change by GET", form("GET", save), (405,)),
        ("a preflight", form("OPTIONS", "/api/save", Access_Control_Request_Method="POST"), (405,)),
        ("TRACE", form("TRACE", "/"), (405,)),
        ("up the tree", form("GET", "/../../etc/passwd"), (400,)),
        ("up in code", form("GET", "/..%2f..%2fsecret.json"), (400,)),
        ("an id with a path", form("GET", "/api/file?id=..%2fsecret"), (422,)),
        ("an absolute id", form("GET", "/api/file?id=%2fetc%2fpasswd"), (422,)),
        ("a hidden file", form("GET", "/api/file?id=.drafts"), (422,)),
        ("a hidden end", form("GET", "/page.js%00.html"), (400,)),
        ("a hidden end in an id", form("GET", "/api/file?id=plan-chest%00../x"), (422,)),
        ("no UTF-8", form("GET", "/api/file?id=%ff%fe"), (422,)),
        ("a whole address", form("GET", "http://evil.example/"), (400,)),
        ("no such place", form("GET", "/api/nothing"), (404,)),
        ("no HTTP", b"EHLO there\r\n\r\n", (0, 400)),
        ("a run that is none", form("GET", "/api/packet?run=-1"), (400, 404, 409, 422)),
        ("a number that is none", form("GET", "/api/plan?run=9999999999999999999999"), (200, 404, 409, 422)),
        ("no job", form("POST", "/api/size", b"{\"cases\": 7}"), (200, 422)),
        ("a deep job", form("POST", "/api/size", b"[" * 100000), (200, 422)),
        ("a job of 4 MiB", form("POST", "/api/size", b"{\"a\": \"" + b"x" * ((4 << 20) - 100) + b"\"}"), (200, 422)),
        ("a save over what is there", form("POST", "/api/save?id=plan-chest&version=", b"{}"), (409,)),
    ]


def check_clean(page, name, answer):
    expect(b"root:" not in answer and SECRET.encode() not in answer, f"{name}: something from outside of the folder was told")
    expect(page.program.poll() is None, f"{name}: the program ended with {page.program.returncode}")


def honest(page, wanted):
    status, size = page.ask("POST", "/api/size", page.job)
    expect(status == 200 and size == wanted, f"an honest request was answered {status}, or in another way than before")


def volley(page, count, wanted, dice):
    """Every kind in turn; every other time with a byte of its head changed, cut out or doubled, when any answer is right that gives nothing away."""
    kinds = attacks(page)
    for i in range(count):
        name, request, right = kinds[i % len(kinds)]
        if i // len(kinds) % 2 == 0:
            answer = page.raw(request)
            status = int(answer.split(b" ")[1]) if answer.startswith(b"HTTP/1.1 ") else 0
            expect(status in right, f"{name}: answered {status}: {answer[:200]}")
        else:
            at = dice.randrange(min(len(request), 400))
            swap = dice.choice([b"", bytes([dice.randrange(256)]), request[at:at + 1] * 2, b"\r\n", b"\0", b": "])
            mangled = request[:at] + swap + request[at + 1:]
            answer = b""
            with page.dial(1) as line:  # what lacks its end is answered by nobody: hang up then
                try:
                    line.sendall(mangled[:70000])
                    line.shutdown(socket.SHUT_WR)
                    answer = line.recv(65536)
                except OSError:
                    pass
        check_clean(page, name, answer)
        if i % 100 == 0:
            honest(page, wanted)


def crowd(page, wanted):
    lines = [page.dial() for _ in range(200)]
    for i, line in enumerate(lines):
        line.sendall([b"", b"GET / HTTP/1.1\r\n", b"G", page.form("POST", "/api/size", page.job)[:-20]][i % 4])
    honest(page, wanted)
    for line in lines:
        line.close()
    honest(page, wanted)


def slow(page, wanted):
    request = page.form("POST", "/api/size", page.job)
    line = page.dial()
    for at in range(0, 600):
        line.sendall(request[at:at + 1])
        if at % 100 == 0:
            honest(page, wanted)
    line.sendall(request[600:])
    answer = b""
    while part := line.recv(65536):
        answer += part
    line.close()
    expect(answer.partition(b"\r\n\r\n")[2] == wanted, "a slow client was answered in another way")


def flood(page):
    """A body that goes on and on behind what it announced."""
    with page.dial() as line:
        try:
            line.sendall(page.form("POST", "/api/size", b"{}"))
            for _ in range(128):
                line.sendall(b"x" * 65536)
        except (ConnectionResetError, BrokenPipeError):
            pass


def start_plan(page, job="plan-chest", patience="short"):
    with open(os.path.join(page.site, f"{job}.json"), "rb") as text:
        status, answer = page.ask("POST", f"/api/plan?id={job}&patience={patience}", text.read())
    expect(status == 202, f"a plan was answered {status}")
    return json.loads(answer)["run"]


def state_of(page, run):
    status, answer = page.ask("GET", f"/api/plan?run={run}")
    expect(status == 200, f"a run was answered {status}")
    return json.loads(answer)


def finish(page, run):
    end = time.monotonic() + 300
    while time.monotonic() < end:
        state = state_of(page, run)
        if state["state"] != "working":
            return state
        time.sleep(0.05)
    raise Failure("a plan never came")


def two_at_a_time(page):
    """Two pages ask for plans at once, again and again; the one asked for last is always made, the other is stopped or made, and both are told."""
    for _ in range(5):
        runs = []
        askers = [threading.Thread(target=lambda job=job: runs.append(start_plan(page, job))) for job in ("plan-chest", "service-bench")]
        for asker in askers:
            asker.start()
        for asker in askers:
            asker.join()
        expect(len(runs) == 2 and runs[0] != runs[1], "two plans were not two runs")
        expect(finish(page, max(runs))["state"] == "done", "the plan asked for last did not come")
        expect(finish(page, min(runs))["state"] in ("done", "gone"), "the plan asked for first is neither made nor gone")


def storm(page, count):
    for i in range(count):
        run = start_plan(page, patience="lunch")
        page.ask("POST", f"/api/stop?run={run - i % 2}", b"{}")
    page.ask("POST", f"/api/stop?run={run}", b"{}")
    finish(page, run)


def plan_of(page):
    """What a plan comes to, without what changes from run to run."""
    run = start_plan(page)
    state = finish(page, run)
    expect(state["state"] == "done", "no plan")
    return page.ask("GET", f"/api/plan/file?run={run}")


def listens_here_only(page):
    with open("/proc/net/tcp") as table:
        own = [line.split()[1] for line in table if line.split()[1].endswith(f":{page.port:04X}") and line.split()[3] == "0A"]
    expect(own == [f"0100007F:{page.port:04X}"], f"it listens on {own}")


def besiege(page, count):
    dice = random.Random(1)
    status, wanted = page.ask("POST", "/api/size", page.job)
    expect(status == 200 and b"front_height" in wanted, f"an honest request was answered {status}")
    listens_here_only(page)
    plan = plan_of(page)
    two_at_a_time(page)
    storm(page, 10)
    volley(page, 300, wanted, dice)
    crowd(page, wanted)
    before = page.memory()
    volley(page, count, wanted, dice)
    for _ in range(max(1, count // 1000)):
        crowd(page, wanted)
        slow(page, wanted)
        flood(page)
    storm(page, max(10, count // 50))
    two_at_a_time(page)
    honest(page, wanted)
    expect(plan_of(page) == plan, "after it all the same job is planned in another way")
    after = page.memory()
    left = sorted(os.listdir(page.folder))
    expect(left == ["secret.json", "site"], f"written outside of its folder: {left}")
    return before, after


def main():
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    count = int(sys.argv[3]) if len(sys.argv) == 4 else 10000
    page = Page(sys.argv[1], sys.argv[2])
    begun = time.monotonic()
    try:
        before, after = besiege(page, count)
        code = page.end()
        expect(code == 0, f"the program ended with {code}")
        expect(after - before < GROWTH_MOST, f"memory grew from {before >> 10} KiB to {after >> 10} KiB")
    except Failure as failure:
        sys.exit(f"siege: {failure}")
    finally:
        if page.program.poll() is None:
            page.program.kill()
    print(f"siege: {count} requests and their storms in {time.monotonic() - begun:.0f} s; memory {before >> 10} KiB, then {after >> 10} KiB")


main()
