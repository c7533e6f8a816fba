"""What strangers may do to the page while the station is on the air: the key is not touched, and
no block of audio is missed. attack_test.py TRIPLINE."""

import http.client
import resource
import socket
import sys
import time
import unittest

from station import Station, until


class TheStation(unittest.TestCase):
    program = ""

    def setUp(self):
        self.station = Station(self.program)
        until(lambda: self.station.ask({"do": "status"})["phase"] == "running", what="the station")
        self.assertTrue(self.station.ask({"do": "mode", "mode": "keyed"})["ok"])
        until(self.station.key_closed, 5, "the key")
        self.changes = len(self.station.key_changes())
        self.before = self.station.ask({"do": "metrics"})

    def tearDown(self):
        try:
            self.assertEqual(len(self.station.key_changes()), self.changes, "the key was touched")
            until(lambda: self.station.ask({"do": "metrics"})["blocks"] > self.before["blocks"], 2, "audio")
            after = self.station.ask({"do": "metrics"})
            for counter in ("blocks_flagged", "events_lost"):
                self.assertEqual(after[counter], self.before[counter], counter)
            told = time.clock_gettime(time.CLOCK_MONOTONIC)
            self.assertTrue(self.station.ask({"do": "mode", "mode": "safe"})["ok"])
            until(lambda: not self.station.key_closed(), 2, "the open key")
            took = self.station.key_changes()[-1][0] - told
            print(f"released {took * 1000:.0f} ms after the command", file=sys.stderr)
            self.assertLess(took, 0.3)
        finally:
            self.station.end()

    def ask(self, method, path, body=None, **headers):
        link = http.client.HTTPConnection("127.0.0.1", self.station.port, timeout=5)
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        link.request(method, path, body, named)
        status = link.getresponse().status
        link.close()
        return status

    def test_is_not_reached_by_another_name(self):
        """DNS rebinding: a page of evil.example, whose name now leads here."""
        for host in ("evil.example", f"evil.example:{self.station.port}", "localhost.evil.example"):
            self.assertEqual(self.ask("GET", "/api/status", Host=host), 421)
            self.assertEqual(self.ask("POST", "/api", '{"do":"mode","mode":"safe"}', Host=host,
                                      Authorization=f"Bearer {self.station.token}", Content_Type="application/json"), 421)

    def test_obeys_no_page_but_its_own(self):
        """Cross-site posts, as a form or a script of another page can send them."""
        order = '{"do":"mode","mode":"safe"}'
        for headers in ({"Origin": "http://evil.example", "Content_Type": "text/plain"},
                        {"Origin": "null", "Content_Type": "application/json"},
                        {"Sec_Fetch_Site": "cross-site", "Content_Type": "application/x-www-form-urlencoded"}):
            self.assertEqual(self.ask("POST", "/api", order, **headers), 403)
            self.assertEqual(self.ask("POST", "/api", order, Authorization=f"Bearer {self.station.token}", **headers), 403)
        self.assertEqual(self.ask("POST", "/api", order, Content_Type="application/json"), 401)
        self.assertEqual(self.ask("OPTIONS", "/api", Origin="http://evil.example"), 405)

    def test_ends_what_is_oversized(self):
        self.assertEqual(self.ask("POST", "/api", " " * 5000, Authorization=f"Bearer {self.station.token}",
                                  Content_Type="application/json"), 413)
        with socket.create_connection(("127.0.0.1", self.station.port), 5) as link:
            try:
                for _ in range(64):
                    link.sendall(b"GET / HTTP/1.1\r\nX: " + b"x" * 65536)
                answer = link.recv(4096)
            except OSError:
                answer = b""
        self.assertNotIn(b"200 OK", answer)

    def test_drops_the_slow(self):
        """Half a request and then silence."""
        link = socket.create_connection(("127.0.0.1", self.station.port), 5)
        link.sendall(b"POST /api HTTP/1.1\r\nHost: ")
        link.settimeout(20)
        began = time.monotonic()
        self.assertEqual(link.recv(1), b"")
        self.assertLess(time.monotonic() - began, 15)
        link.close()

    def test_bears_a_thousand_idle_connections(self):
        soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
        if hard < 1200:
            self.skipTest("this user may not open 1000 connections")
        resource.setrlimit(resource.RLIMIT_NOFILE, (max(soft, 1200), hard))
        links = []
        for _ in range(1000):
            link = socket.socket()
            link.setblocking(False)
            link.connect_ex(("127.0.0.1", self.station.port))
            links.append(link)
        time.sleep(3)
        for link in links:
            link.close()
        until(lambda: self.reached(), 20, "the page")

    def reached(self):
        try:
            return self.ask("GET", "/") == 200
        except OSError:
            return False


if __name__ == "__main__":
    TheStation.program = sys.argv.pop(1)
    unittest.main(verbosity=2)
