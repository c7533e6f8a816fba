#include "daemon/service/log.h"
#include "daemon/service/options.h"
#include "daemon/service/texts.h"

#include <gtest/gtest.h>

#include <cerrno>
#include <cstdlib>

namespace tripline::service {
namespace {

guard::Status sound(unsigned starts) {
    guard::Status status;
    status.link = guard::Link::up;
    status.condition = guard::Condition::good;
    status.starts = starts;
    return status;
}

TEST(ACommandedMode, IsAnsweredWithHowTheStationStandsThen) {
    using station::Mode;
    EXPECT_EQ(in_words({.mode = Mode::safe}), "safe: the key is open, and nothing keys until the station is armed");
    EXPECT_EQ(in_words({.mode = Mode::safe, .key_open = false}),
              "safe: the key is told to open, but has not been seen open yet: look at the status and at the transmitter, and nothing keys until the station is armed");
    EXPECT_EQ(in_words({.mode = Mode::armed}), "armed: the voice keys");
    EXPECT_EQ(in_words({.mode = Mode::armed, .keying = true, .held = true, .key_open = false, .keys_now = true}),
              "armed: the voice keys, and holds the key closed, or its hang time does; safe opens it");
    EXPECT_EQ(in_words({.mode = Mode::armed, .keys_now = true}), "armed: the voice keys, and is about to close the key; safe opens it");
    EXPECT_EQ(in_words({.mode = Mode::armed, .key_open = false}), "armed: the voice keys; the key, closed until now, is about to open");
    EXPECT_EQ(in_words({.mode = Mode::armed, .was_forced = true, .keying = true}), "armed: the forced key is open, and the voice keys");
    EXPECT_NE(in_words({.mode = Mode::armed, .was_forced = true, .keying = true, .key_open = false}).find("told to open, but has not been seen open yet"), std::string::npos);
    EXPECT_EQ(in_words({.mode = Mode::armed, .was_forced = true, .keying = true, .held = true}),
              "armed: the key is no longer forced, but a voice or its hang time holds it; safe opens it");
    EXPECT_EQ(in_words({.mode = Mode::armed, .was_forced = true, .quiet_awaited = true}),
              "armed: the forced key had opened before; the voice keys, once the microphone has been quiet: the station is locked out");
    EXPECT_EQ(nothing_forced_text(Mode::armed, true), "nothing done: no key is forced, but the key is closed, by a voice or its hang time; safe opens it");
    EXPECT_EQ(nothing_forced_text(Mode::armed, false), "nothing done: no key is forced, the mode is armed; what the voice keys, safe ends");
    EXPECT_EQ(nothing_forced_text(Mode::safe, false), "nothing done: no key is forced, the mode is safe");
    EXPECT_EQ(in_words({.mode = Mode::armed, .quiet_awaited = true}),
              "armed: the voice keys, once the microphone has been quiet: the station is locked out");
    EXPECT_EQ(in_words({.mode = Mode::armed, .unready = "waiting: no such device"}),
              "armed: the voice keys, once the station is ready (waiting: no such device)");
    EXPECT_EQ(overtaken_text(Mode::safe), "done, but another command came after it: the mode is safe now");
    EXPECT_EQ(forced_text(std::chrono::seconds(180), std::chrono::milliseconds(7640)),
              "keyed: the transmitter is forced on until unkey or safe; if neither comes, the time limit opens the key in 172.4 s");
    EXPECT_TRUE(forced_text(std::chrono::seconds(180), std::chrono::seconds(190)).ends_with("opens the key in 0 s"));
}

TEST(WhatAStationGoesWithout, StandsBehindItsPhase) {
    EXPECT_EQ(missing_text({}), "");
    EXPECT_EQ(missing_text({"no page: taken", "no control socket: denied"}), "; no page: taken; no control socket: denied");
}

TEST(ARefusedKey, IsToldWithTheReasonAndTheWayOut) {
    using station::Reason;
    using std::chrono_literals::operator""s;
    const auto told = [](bool fault, Reason why) { return key_refusal(fault, why, 2s, station::Mode::armed); };
    EXPECT_EQ(told(false, Reason::too_long),
              "the station is locked out (too_long) until the microphone has been quiet for 2 s in one piece; key again after that: "
              "neither safe nor arm shortens it; the mode is armed as before, and the voice keys then");
    EXPECT_NE(told(false, Reason::steady_tone).find("locked out (steady_tone)"), std::string::npos);
    EXPECT_NE(told(true, Reason::too_long).find("a fault stands"), std::string::npos);
    EXPECT_NE(told(false, Reason::not_finite).find("key again in half a second"), std::string::npos);
    EXPECT_EQ(key_refusal(false, Reason::refused, 2s, station::Mode::keyed),
              "something forbade it just then; key again; the mode stays keyed, in which no voice keys: arm lets it");
}

TEST(ALockOut, EndsForAForcedKeyByAnotherCommandToo) {
    EXPECT_EQ(lock_end_text(station::Mode::armed), "the microphone is quiet");
    EXPECT_EQ(lock_end_text(station::Mode::keyed), "the microphone is quiet, and the key is forced again or the station armed");
}

TEST(LinesThatNoGuardCouldDrive, AreToldWithWhatFailedAndOnlyWiresAreToBeLookedAt) {
    lines::Wiring wiring{};
    wiring[0].kind = lines::Kind::file;
    guard::Status status;
    EXPECT_EQ(unknown_lines(status, "ptt: lines.log: held by process 7 (tripline-guard): stop that one first", wiring),
              (std::vector<std::string>{"its last word was: ptt: lines.log: held by process 7 (tripline-guard): stop that one first",
                                        "its lines are log files or pipes, no wires"}));
    wiring[1].kind = lines::Kind::serial;
    EXPECT_EQ(unknown_lines(status, "", wiring), (std::vector<std::string>{"it ended without a word", "look at every line"}));
    status.condition = guard::Condition::line_failed;
    status.failed_role = 0;
    status.failed_error = EIO;
    EXPECT_EQ(unknown_lines(status, "no priority", wiring).front(), "line ptt failed: Input/output error");
}

TEST(AMark, ClaimsNothingOfTheBlackBoxButThatItWasAsked) {
    EXPECT_EQ(mark_kept_text(true, ""), "; the black box is asked to write what it keeps: the status and the daemon's log tell what became of that");
    EXPECT_EQ(mark_kept_text(true, "there is no black box: black_box.keep_s is 0"), "; its sound is not written: there is no black box: black_box.keep_s is 0");
    EXPECT_TRUE(mark_kept_text(false, "").starts_with("; there is no station log to keep that in; the black box is asked"));
}

TEST(ARefusedSetting, NamesNoPlaceInAFileThatIsNone) {
    EXPECT_EQ(without_set_place("--set:1:20: gate.hysteresis_db: the gate would close under the room noise"),
              "gate.hysteresis_db: the gate would close under the room noise");
    EXPECT_EQ(without_set_place("shack.toml:3:1: gate.open_dbfs: too high"), "shack.toml:3:1: gate.open_dbfs: too high");
    EXPECT_EQ(without_set_place("refused"), "refused");
}

TEST(AMessage, TakesItsArgumentsInOrder) {
    EXPECT_EQ(fill("line {} could not be driven: {}", {"ptt", "Input/output error"}),
              "line ptt could not be driven: Input/output error");
}

TEST(AMessage, LacksNothingButItsMissingArguments) { EXPECT_EQ(fill("a {} b {}", {"x"}), "a x b "); }

TEST(TheGuardsDeath, IsTold) {
    guard::Status dead = sound(1);
    dead.link = guard::Link::ending;
    const auto lines = guard_lines(sound(1), dead);
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_EQ(lines[0].message, Message::guard_down);
}

TEST(AFailedLine, IsNamedWithItsReason) {
    guard::Status failed = sound(1);
    failed.condition = guard::Condition::line_failed;
    failed.failed_role = 0;
    failed.failed_error = 5;
    const auto lines = guard_lines(sound(1), failed);
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_EQ(fill(text_of(lines[0].message).text, lines[0].arguments),
              "line ptt could not be driven: Input/output error");
}

TEST(ASoundGuard, IsToldOncePerStart) {
    EXPECT_EQ(guard_lines(guard::Status{}, sound(1)).size(), 1U);
    EXPECT_TRUE(guard_lines(sound(1), sound(1)).empty());
}

TEST(AMissingBlackBox, IsToldByTheSettingThatIsMissing) {
    ::unsetenv("STATE_DIRECTORY");
    config::BlackBoxSettings settings;
    EXPECT_EQ(why_no_black_box(settings), "there is no black box: black_box.folder is not set, and no service manager made a state folder");
    settings.folder = "captures";
    EXPECT_EQ(why_no_black_box(settings), "there is no black box yet: it begins when the daemon is started anew");
    settings.length = Duration::zero();
    EXPECT_EQ(why_no_black_box(settings), "there is no black box: black_box.keep_s is 0");
}

TEST(ARecordingOpenedAnew, NeverOverwritesTheOneBefore) {
    EXPECT_EQ(numbered("a/rec.wav", 1), "a/rec.wav");
    EXPECT_EQ(numbered("a/rec.wav", 2), "a/rec.2.wav");
    EXPECT_EQ(numbered("", 3), "");
    EXPECT_EQ(numbered("a.b/rec.events.jsonl", 3), "a.b/rec.3.events.jsonl") << "beside rec.3.wav";
    Options options;
    options.events_to = "/dev/full";
    EXPECT_EQ(events_file(options, 4), "/dev/full");
    EXPECT_EQ(events_file({}, 4), "");
}

}  // namespace
}  // namespace tripline::service
