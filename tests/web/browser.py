"""A headless Chromium, told what to do by the WebDriver protocol (W3C) over plain HTTP."""

import json
import os
import shutil
import subprocess
import tempfile
import urllib.error
import urllib.request

from station import free_port, until

ELEMENT = "element-6066-11e4-a52e-4f735466cecf"  # the standard's name of an element reference


class Browser:
    def __init__(self):
        self.port = free_port()
        self.profile = tempfile.mkdtemp(prefix="tripline-browser-")
        self.driver = subprocess.Popen(["chromedriver", f"--port={self.port}"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        self.base = f"http://127.0.0.1:{self.port}"
        until(self._ready, 30, "chromedriver")
        options = ["--headless=new", "--disable-gpu", "--disable-dev-shm-usage", f"--user-data-dir={self.profile}"]
        if os.geteuid() == 0:
            options.append("--no-sandbox")
        wanted = {"capabilities": {"alwaysMatch": {"browserName": "chrome", "goog:chromeOptions": {"args": options, "binary": shutil.which("chromium")}}}}
        self.session = self._call("POST", "/session", wanted, 90)["sessionId"]

    def _ready(self):
        try:
            return self._call("GET", "/status")["ready"]
        except OSError:
            return False

    def _call(self, method, path, body=None, seconds=60):
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(self.base + path, data, {"Content-Type": "application/json"}, method=method)
        try:
            with urllib.request.urlopen(request, timeout=seconds) as answer:
                return json.load(answer)["value"]
        except urllib.error.HTTPError as error:
            raise AssertionError(error.read().decode()) from None

    def tell(self, method, path, body=None):
        return self._call(method, f"/session/{self.session}{path}", body)

    def open(self, address):
        self.tell("POST", "/url", {"url": "about:blank"})
        self.tell("POST", "/url", {"url": address})

    def run(self, script, *arguments):
        return self.tell("POST", "/execute/sync", {"script": script, "args": list(arguments)})

    def text(self, selector):
        return self.run("return document.querySelector(arguments[0]).textContent", selector)

    def find(self, selector):
        return self.tell("POST", "/element", {"using": "css selector", "value": selector})[ELEMENT]

    def click(self, selector):
        self.tell("POST", f"/element/{self.find(selector)}/click", {})

    def press(self, key):
        actions = [{"type": "keyDown", "value": key}, {"type": "keyUp", "value": key}]
        self.tell("POST", "/actions", {"actions": [{"type": "key", "id": "keys", "actions": actions}]})

    def drag(self, selector, by_pixels):
        origin = {ELEMENT: self.find(selector)}
        moves = [{"type": "pointerMove", "duration": 0, "origin": origin, "x": 0, "y": 0},
                 {"type": "pointerDown", "button": 0},
                 {"type": "pointerMove", "duration": 200, "origin": origin, "x": 0, "y": by_pixels},
                 {"type": "pointerUp", "button": 0}]
        self.tell("POST", "/actions", {"actions": [{"type": "pointer", "id": "hand", "actions": moves}]})

    def devtools(self, command, **parameters):
        return self.tell("POST", "/goog/cdp/execute", {"cmd": command, "params": parameters})

    def end(self):
        try:
            self.tell("DELETE", "")
        finally:
            self.driver.terminate()
            self.driver.wait(10)
            shutil.rmtree(self.profile, ignore_errors=True)
