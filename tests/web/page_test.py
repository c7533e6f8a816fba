"""The page in a real browser, with the station on a recording behind it.

page_test.py TRIPLINE. Exit 77, which ctest counts as skipped, when there is no browser."""

import shutil
import signal
import sys
import time
import unittest

from browser import Browser
from station import Station, until

ESCAPE = "\ue00c"  # WebDriver's name of the key


class ThePage(unittest.TestCase):
    program = ""

    @classmethod
    def setUpClass(cls):
        cls.browser = Browser()

    @classmethod
    def tearDownClass(cls):
        cls.browser.end()

    def setUp(self):
        self.station = Station(self.program)
        self.browser.open(self.station.address)
        until(lambda: "dBFS" in self.browser.text("#numbers"), what="the first level")

    def tearDown(self):
        self.station.end()

    def test_shows_levels_that_move(self):
        before = self.browser.text("#numbers")
        until(lambda: self.browser.text("#numbers") != before, 5, "another level")
        drawn = self.browser.run("""
            const canvas = document.getElementById("chart");
            const cells = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height).data;
            let drawn = 0;
            for (let i = 3; i < cells.length; i += 4) if (cells[i]) ++drawn;
            return drawn;""")
        self.assertGreater(drawn, 500)

    def test_tries_a_level_that_is_dragged_and_sets_it_when_told(self):
        until(lambda: self.browser.run("return !document.getElementById('open').disabled"), what="the slider")
        self.browser.drag("#chart", -70)
        until(lambda: self.browser.text("#open-text") not in ("?", "-50.0"), 5, "another level on the slider")
        level = float(self.browser.text("#open-text"))
        until(lambda: "times keyed" in self.browser.text("#tried"), 5, "the estimate")
        self.assertEqual(float(self.station.setting("gate.open_dbfs")), -50, "trying changes nothing")
        self.browser.click("#take")
        until(lambda: float(self.station.setting("gate.open_dbfs")) == level, 10, "the new setting")
        self.browser.click("#save")
        until(lambda: f"open_dbfs = {level:g}  # by ear" in self.station.config.read_text(), 10, "the setting in the file")
        self.assertIn("# the grey transmitter", self.station.config.read_text())

    def test_releases_the_key_by_its_button(self):
        until(self.station.key_closed, 30, "the key")
        self.browser.click("#receive")
        until(lambda: not self.station.key_closed(), 2, "the open key")
        until(lambda: self.browser.text("#headline").startswith("Safe"), 5, "the headline")
        self.assertEqual(self.station.ask({"do": "status"})["mode"], "safe")

    def test_releases_the_key_by_a_key(self):
        until(self.station.key_closed, 30, "the key")
        self.browser.press(ESCAPE)
        until(lambda: not self.station.key_closed(), 2, "the open key")

    def test_does_not_force_the_key_unless_the_settings_say_so(self):
        shown = """const key = document.querySelector('[data-mode=keyed]');
            return [key.disabled, document.getElementById('no-key').checkVisibility()];"""
        until(lambda: self.browser.run(shown) == [True, True], 5, "the button that cannot be pressed, and why")
        self.assertIn("web.may_transmit", self.browser.text("#no-key"))
        self.browser.run("""document.querySelector('[data-mode=keyed]').disabled = false;
            document.querySelector('[data-mode=keyed]').click();""")
        until(lambda: "may not force the key" in self.browser.text("#told"), 5, "the refusal")
        self.assertEqual(self.station.ask({"do": "status"})["mode"], "armed")

    def test_marks_an_over_as_false(self):
        until(lambda: self.browser.run("return document.querySelector('#overs button') !== null"), 40, "an over")
        self.browser.click("#overs button")
        until(lambda: "marked" in self.browser.text("#overs"), 5, "the mark")
        until(lambda: '"as":"false"' in (self.station.folder / "overs.jsonl").read_text(), 5, "the mark in the log")

    def test_counts_anew_how_often_the_key_closed_as_time_goes_on(self):
        until(lambda: "it was 0 times" in self.browser.text("#tried"), 10, "the first count")
        until(lambda: "it was 1 times" in self.browser.text("#tried"), 40, "the count with an over")
        self.assertIn("about 1 times keyed", self.browser.text("#tried"))

    def test_takes_down_that_speech_was_missed(self):
        self.browser.click("#missed")
        until(lambda: '"missed"' in (self.station.folder / "overs.jsonl").read_text(), 5, "the mark in the log")

    def test_draws_the_map_of_margins_around_what_is_in_force(self):
        until(lambda: self.browser.run("return document.querySelector('#overs button') !== null"), 40, "an over")
        self.browser.click("#map")
        until(lambda: "Taken as right: 1 over." in self.browser.text("#margins"), 60, "the map")
        self.assertIn("[.]", self.browser.text("#margins"))
        until(lambda: self.browser.run("return document.getElementById('map-picture').naturalWidth > 100"), 5, "the picture")

    def call_takes_good(self):
        """The takes of a few seconds of an evening have troubles: the page is told of none."""
        self.browser.run("""
            const real = window.fetch;
            window.fetch = async (path, ...rest) => {
                const answer = await real(path, ...rest);
                if (path !== "/api/study") return answer;
                const told = await answer.json();
                return new Response(JSON.stringify(told.changes ? {...told, good: true, troubles: []} : told));
            };""")

    def measured(self):
        """The offers of a rehearsal, as the texts of their buttons."""
        self.browser.run("for (const one of document.querySelectorAll('[data-take]')) one.dataset.seconds = 4;")
        for take in ("room", "receiver", "voice"):
            self.browser.click(f"[data-take={take}]")
            until(lambda: "taken" in self.browser.text("#took-" + take), 10, take)
        self.browser.click("#measure")
        until(lambda: "voice over" in self.browser.text("#measured"), 60, lambda: "the distances: " + self.browser.text("#measured"))
        return self.browser.run("return [...document.querySelectorAll('#use-measured button')].map((one) => one.textContent)")

    def offers_the_way_back(self):
        return self.browser.run("return document.getElementById('arm-again').checkVisibility()")

    def test_tells_what_the_station_goes_without(self):
        self.browser.run("""
            const real = window.fetch;
            window.fetch = async (path, ...rest) => {
                const answer = await real(path, ...rest);
                if (path !== "/api/status") return answer;
                return new Response(JSON.stringify({...await answer.json(), missing: ["no station log: the disk is full"]}));
            };""")
        until(lambda: self.browser.text("#missing") == "no station log: the disk is full", 5, "what is missing")

    def not_saved(self):
        return self.station.ask({"do": "status"})["not_saved"]

    def test_does_not_offer_all_at_once_what_cannot_be_trusted(self):
        offers = self.measured()
        self.assertIn("Trouble in", self.browser.text("#measured"))
        self.assertNotIn("Use all", offers)
        self.assertIn("Not to be trusted as things stand", self.browser.text("#use-measured"))

    def test_sets_up_by_takes_with_nothing_keyed(self):
        self.call_takes_good()
        offers = self.measured()
        self.assertEqual(self.station.ask({"do": "status"})["mode"], "safe")
        self.assertEqual(offers[0], "Use all")
        until(self.offers_the_way_back, 5, "the way back from safe")
        self.browser.click("#use-measured li:nth-child(2) button")
        until(lambda: len(self.not_saved()) == 1, 10, "a setting in force")
        until(lambda: "void: settings changed" in self.browser.text("#took-room"), 10, "the void take")
        self.assertTrue(self.browser.run("return document.getElementById('measure').disabled"))
        self.browser.click("#use-measured li:nth-child(1) button")
        until(lambda: len(self.not_saved()) == len(offers) - 1, 20, "all settings in force")
        until(lambda: self.browser.run("return document.querySelector('#use-measured button:enabled') === null"), 5, "no offer left")
        self.assertIn("in force, it was", self.browser.text("#use-measured"))
        self.browser.click("#arm-again")
        until(lambda: self.station.ask({"do": "status"})["mode"] == "armed", 5, "the armed station")
        until(lambda: not self.offers_the_way_back(), 5, "no way back from where it is not")

    def test_does_not_offer_to_lift_a_safe_that_was_there_before_the_takes(self):
        self.station.ask({"do": "mode", "mode": "safe"})
        until(lambda: self.browser.text("#headline").startswith("Safe"), 5, "the headline")
        self.browser.run("document.querySelector('[data-take=room]').dataset.seconds = 2;")
        self.browser.click("[data-take=room]")
        until(lambda: "taken" in self.browser.text("#took-room"), 10, "the take")
        time.sleep(2.5)  # the status comes every other second
        self.assertFalse(self.offers_the_way_back())

    def test_takes_back_what_it_offered_once_others_changed_a_setting(self):
        self.measured()
        self.station.ask({"do": "set", "key": "gate.hold_ms", "value": "1700"})
        until(lambda: "is void: gate.hold_ms changed since" in self.browser.text("#use-measured"), 10, "why the offers are gone")
        self.assertTrue(self.browser.run("return document.querySelector('#use-measured button') === null"))
        self.assertIn("void: settings changed", self.browser.text("#took-voice"))

    def test_uses_no_more_of_its_offers_once_others_made_them_void(self):
        self.call_takes_good()
        self.measured()
        self.browser.run("const plain = window.fetch; window.fetch = async (...all) => {"
                         " if (all[1] && all[1].method === 'POST') await new Promise((done) => setTimeout(done, 2000)); return plain(...all); };")
        self.browser.click("#use-measured li:nth-child(1) button")
        self.station.ask({"do": "set", "key": "gate.hold_ms", "value": "1700"})
        until(lambda: "is void: gate.hold_ms changed since" in self.browser.text("#use-measured"), 10, "why the offers are gone")
        until(lambda: len(self.not_saved()) == 2, 10, "the one that was under way")
        time.sleep(3)
        self.assertEqual(len(self.not_saved()), 2)

    def test_takes_one_take_at_a_time_and_says_so(self):
        self.browser.click("[data-take=room]")
        until(lambda: "to go" in self.browser.text("#took-room"), 5, "the take")
        self.browser.click("[data-take=voice]")
        until(lambda: "one take at a time" in self.browser.text("#took-voice"), 5, "why not")

    def test_tells_of_a_forced_key_that_it_is_forced_and_when_the_limit_opens_it(self):
        self.station.end()
        self.station = Station(self.program, "web.may_transmit=true", "limits.longest_over_s=8")
        self.browser.open(self.station.address)
        until(lambda: self.browser.run("return !document.querySelector('[data-mode=keyed]').disabled"), 10, "the button")
        self.browser.click("[data-mode=keyed]")
        until(lambda: "keyed by hand" in self.browser.text("#why"), 5, "that it is forced")
        self.assertRegex(self.browser.text("#why"), "else the time limit in [5-8] s")
        until(lambda: not self.station.key_closed(), 12, "the limit")
        until(lambda: "keyed by hand" not in self.browser.text("#why"), 2, "that it is not")
        until(lambda: "forced on" not in self.browser.text("#told"), 2, "the answer to the command taken away, which holds no longer")

    def test_takes_what_it_told_of_the_key_away_once_others_arm_the_station(self):
        self.browser.click("#receive")
        until(lambda: "the key is open" in self.browser.text("#told"), 5, "what came of it")
        time.sleep(3)
        self.assertIn("the key is open", self.browser.text("#told"), "it holds as long as nothing changes")
        self.station.ask({"do": "mode", "mode": "armed"})
        until(lambda: "the key is open" not in self.browser.text("#told"), 4, "nothing that the key may belie")

    def test_says_that_it_hears_no_more_of_a_station_that_stands_still(self):
        until(lambda: "Receiving" in self.browser.text("#headline"), 10, "the headline")
        self.station.process.send_signal(signal.SIGSTOP)
        until(lambda: "No word from the station" in self.browser.text("#headline"), 8, "that nothing is known")
        self.assertIn("look at the transmitter", self.browser.text("#why"))
        self.browser.click("#receive")
        until(lambda: "whether the key is open is not known" in self.browser.text("#told"), 8, "that the safe was not answered")
        self.station.process.send_signal(signal.SIGCONT)
        until(lambda: "Safe" in self.browser.text("#headline"), 10, "that the safe was obeyed all the same")

    def test_reminds_of_the_identification_until_an_over_has_ended(self):
        self.station.end()
        self.station = Station(self.program, "logbook.identify_every_s=4")
        self.browser.open(self.station.address)
        until(lambda: "Time to identify" in self.browser.text("#identify"), 40, "the reminder")
        until(lambda: self.browser.text("#identify") == "", 40, "the page without it")

    def test_fits_a_phone_with_the_button_in_sight(self):
        self.browser.devtools("Emulation.setDeviceMetricsOverride", width=360, height=640, deviceScaleFactor=2, mobile=True)
        try:
            width, bottom = self.browser.run(
                "return [document.documentElement.scrollWidth, document.getElementById('receive').getBoundingClientRect().bottom]")
            self.assertLessEqual(width, 360)
            self.assertLessEqual(bottom, 640)
            until(lambda: self.browser.run("return document.querySelector('#overs button') !== null"), 40, "an over")
            for edge in self.browser.run("return [...document.querySelectorAll('#overs button')].map((one) => one.getBoundingClientRect().right)"):
                self.assertLessEqual(edge, 360, "a button to mark an over is in sight")
        finally:
            self.browser.devtools("Emulation.clearDeviceMetricsOverride")

    def test_can_be_read_in_the_light_and_in_the_dark(self):
        for scheme in ("light", "dark"):
            self.browser.devtools("Emulation.setEmulatedMedia", features=[{"name": "prefers-color-scheme", "value": scheme}])
            ink, paper = self.browser.run(
                "const style = getComputedStyle(document.body); return [style.color, style.backgroundColor]")
            self.assertGreater(contrast(ink, paper), 7, scheme)  # WCAG 2.2, 1.4.6 (AAA)

    def test_asks_nobody_but_its_station(self):
        origins = self.browser.run(
            "return [...new Set(performance.getEntriesByType('resource').map((one) => new URL(one.name).origin))]")
        self.assertEqual(origins, [f"http://127.0.0.1:{self.station.port}"])

    def test_leaves_no_token_in_the_address(self):
        self.assertNotIn(self.station.token, self.browser.tell("GET", "/url"))


def contrast(one, other):
    """WCAG 2.2's contrast ratio of two rgb() colours."""
    def luminance(colour):
        parts = [int(part) / 255 for part in colour[colour.index("(") + 1:-1].split(",")[:3]]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


if __name__ == "__main__":
    if not shutil.which("chromedriver") or not shutil.which("chromium"):
        print("no chromium and chromedriver here: skipped")
        sys.exit(77)
    ThePage.program = sys.argv.pop(1)
    unittest.main(verbosity=2)
