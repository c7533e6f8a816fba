"""A station that plays the shipped recording, with file lines, a control socket and the page."""

import json
import pathlib
import shutil
import socket
import subprocess
import tempfile
import time


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def until(truth, seconds=20.0, what="it"):
    """The first true value of truth(); an error when there is none in time."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        value = truth()
        if value:
            return value
        time.sleep(0.05)
    raise AssertionError(f"{what() if callable(what) else what} did not come within {seconds} s")


class Station:
    def __init__(self, program, *settings):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="tripline-page-"))
        self.port = free_port()
        self.config = self.folder / "tripline.toml"
        self.config.write_text("# the grey transmitter\n[gate]\nopen_dbfs = -50  # by ear\n")
        self.lines_log = self.folder / "lines"
        self.socket = self.folder / "control.sock"
        self.log = open(self.folder / "log", "w")
        sets = [f"control.socket={self.socket}", f"web.port={self.port}", f"logbook.file={self.folder}/overs.jsonl",
                f"black_box.folder={self.folder}/captures"]
        command = [program, "run", "--config", str(self.config), "--from", "testdata/evening.flac", "--lines", str(self.lines_log)]
        for setting in sets + list(settings):
            command += ["--set", setting]
        self.process = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=self.log)
        until(self.answers, what="the control socket")
        self.address = until(lambda: self.ask({"do": "page"}).get("did"), what="the page")
        self.token = self.address.split("#")[1]

    def ask(self, request):
        with socket.socket(socket.AF_UNIX) as link:
            link.settimeout(5)
            link.connect(str(self.socket))
            link.sendall(json.dumps(request).encode() + b"\n")
            for line in link.makefile():
                answer = json.loads(line)
                if "ok" in answer:
                    return answer
        return {}

    def answers(self):
        try:
            return self.ask({"do": "status"})
        except OSError:
            return None

    def setting(self, key):
        return next(one["value"] for one in self.ask({"do": "settings"})["settings"] if one["key"] == key)

    def key_changes(self):
        """(seconds of CLOCK_MONOTONIC, closed) of the key's line."""
        changes = []
        for line in self.lines_log.read_text().splitlines():
            fields = line.split()
            if len(fields) == 4 and fields[2] == "ptt":
                changes.append((float(fields[0]), fields[3] == "active"))
        return changes

    def key_closed(self):
        changes = self.key_changes()
        return bool(changes) and changes[-1][1]

    def end(self):
        self.process.terminate()
        try:
            self.process.wait(15)
        finally:
            self.process.kill()
            self.log.close()
            said = (self.folder / "log").read_text()
            shutil.rmtree(self.folder, ignore_errors=True)
        return said
