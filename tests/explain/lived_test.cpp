// What is told where the operator did something that a replay does not have.
#include "daemon/explain/lived.h"
#include "daemon/replay/event_line.h"
#include "daemon/replay/read_events.h"
#include "tests/cli/run.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

namespace tripline::explain {
namespace {

namespace fs = std::filesystem;
using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;
using station::EventKind;
using station::Mode;
using station::Reason;
using station::State;

constexpr Hertz rate{8000};

station::Event step(Duration at, State from, State to, Reason reason, Mode mode) {
    return {.at = to_frames(at, rate), .from = from, .to = to, .reason = reason, .mode = mode, .lines = station::lines_of(to)};
}

station::Event command(Duration at, State state, Mode mode) {
    return {.at = to_frames(at, rate), .kind = EventKind::mode, .from = state, .to = state, .mode = mode, .lines = station::lines_of(state)};
}

/// Voice from 5 s, ended by safe at 7 s; armed again at 10 s, forced from 20 s until the longest over ends it at 30 s.
std::vector<station::Event> evening_of_commands() {
    return {step(5s, State::rest, State::muting, Reason::voice, Mode::armed),
            step(5100ms, State::settling, State::on_air, Reason::step, Mode::armed),
            command(7s, State::on_air, Mode::safe),
            step(7s, State::on_air, State::unkeying, Reason::safe, Mode::safe),
            step(7100ms, State::unmuting, State::rest, Reason::step, Mode::safe),
            command(10s, State::rest, Mode::armed),
            command(20s, State::rest, Mode::keyed),
            step(20s, State::rest, State::muting, Reason::forced, Mode::keyed),
            step(20100ms, State::settling, State::on_air, Reason::step, Mode::keyed),
            step(30s, State::on_air, State::unkeying, Reason::too_long, Mode::keyed)};
}

Likeness at(Duration moment, bool same_settings = true) {
    Account replayed;
    replayed.rate = rate;
    replayed.length = 40s;
    replayed.spells.push_back({.decided = 5s, .keyed = 5100ms, .released = 9s, .reason = Reason::silence, .began_by = Reason::voice});
    replayed.events = {step(5s, State::rest, State::muting, Reason::voice, Mode::armed),
                       step(9s, State::hold, State::unkeying, Reason::silence, Mode::armed),
                       step(9100ms, State::unmuting, State::rest, Reason::step, Mode::armed)};
    return likeness(lived_account(evening_of_commands(), rate, 40s), replayed, moment, 0ms, same_settings);
}

void expect_part(const std::string& text, const std::string& part) { EXPECT_NE(text.find(part), std::string::npos) << part << "\nis not in\n" << text; }

TEST(AMomentInModeSafe, IsToldAsTheOperatorsDoing) {
    const auto told = at(8s);
    EXPECT_FALSE(told.worth_telling);
    expect_part(told.text, "At 8.000 s: not keyed\n  The station was in mode safe, by command at 7.000 s, and nothing keys");
    expect_part(told.text, "A replay has no commands, so no settings are tried; in it: keyed from 5.100 s to 9.000 s, let go by silence.\n");
}

TEST(AForcedKey, IsToldAsTheOperatorsDoingAndWhatEndedIt) {
    expect_part(at(25s).text, "At 25.000 s: keyed from 20.100 s to 30.000 s, let go by too_long\n"
                              "  The station was in mode keyed, by command at 20.000 s: the operator forced the key.\n");
    expect_part(at(35s).text, "The key had opened at 30.000 s by too_long; a forced one does not come back by itself.\n");
}

TEST(AnOverThatSafeEnded, IsToldBeforeTheReplaysStoryOfIt) {
    const auto told = at(6s);
    EXPECT_TRUE(told.worth_telling);
    expect_part(told.text, "the station itself was keyed from 5.100 s to 7.000 s, let go by safe");
    expect_part(told.text, "They have what a replay lacks: safe at 7.000 s. What follows is the replay's, so no settings are tried.");
}

TEST(AMomentAfterCommands, IsToldWithThemAsLongAsTheyBearOnIt) {
    expect_part(at(10200ms).text, "what a replay lacks: safe at 7.000 s, armed at 10.000 s.");
    EXPECT_EQ(at(1s).text, "") << "nothing had been commanded yet";
    EXPECT_EQ(at(15s).text, "") << "both have been at rest since, in the same mode";
}

TEST(AMomentAfterCommands, IsToldWithThemWhileTheReplayIsStillOnTheAirOfItsOwn) {
    auto events = evening_of_commands();
    Account replayed;
    replayed.rate = rate;
    replayed.length = 40s;
    replayed.spells.push_back({.decided = 5s, .keyed = 5100ms, .released = 18s, .reason = Reason::silence, .began_by = Reason::voice});
    replayed.events = {step(5s, State::rest, State::muting, Reason::voice, Mode::armed),
                       step(18s, State::hold, State::unkeying, Reason::silence, Mode::armed)};
    const auto lived = lived_account(std::move(events), rate, 40s);
    expect_part(likeness(lived, replayed, 18500ms, 0ms, true).text, "what a replay lacks: safe at 7.000 s, armed at 10.000 s.");
}

TEST(AReplayThatDecidesOtherwiseByTheSameSettings, IsSaidToDiffer) {
    Account replayed;
    const std::vector events{step(5s, State::rest, State::on_air, Reason::voice, Mode::armed)};
    const auto lived = lived_account(events, rate, 40s);
    expect_part(likeness(lived, replayed, 6s, 0ms, true).text, "The replay differs from that");
    EXPECT_EQ(likeness(lived, replayed, 6s, 0ms, false).text, "") << "other settings may well decide otherwise";
}

TEST(ARecordingThatBeginsOnTheAir, IsKeyedFromItsBeginning) {
    const auto lived = lived_account({step(3s, State::on_air, State::unkeying, Reason::unkeyed, Mode::armed)}, rate, 40s);
    ASSERT_NE(lived.spell_at(1s), nullptr);
    EXPECT_EQ(lived.spell_at(4s), nullptr);
}

TEST(AnEvent, IsReadBackFromItsLine) {
    for (const auto& event : evening_of_commands()) {
        const std::string line = replay::event_line(event, rate);
        const auto read = replay::event_of(line);
        EXPECT_EQ(read.at, event.at);
        EXPECT_EQ(read.kind, event.kind);
        EXPECT_EQ(read.from, event.from);
        EXPECT_EQ(read.to, event.to);
        EXPECT_EQ(read.reason, event.reason);
        EXPECT_EQ(read.mode, event.mode);
        EXPECT_EQ(read.lines, event.lines);
    }
    EXPECT_THROW(replay::event_of("{}"), std::runtime_error);
    EXPECT_THROW(replay::event_of("no line of JSON"), std::runtime_error);
}

TEST(Explain, LooksIntoTheEventsBesideTheRecording) {
    const fs::path folder = fs::path(testing::TempDir()) / "lived_test";
    fs::create_directories(folder);
    fs::copy_file("testdata/evening.flac", folder / "cottage.flac", fs::copy_options::overwrite_existing);
    std::ofstream(folder / "cottage.events.jsonl") << replay::event_line({.at = Frames{16000 * 8}, .kind = EventKind::mode, .mode = Mode::safe}, Hertz{16000}) << '\n';
    const std::string sound = (folder / "cottage.flac").string();
    expect_part(cli::run({"explain", sound, "12"}).out, "At 12.000 s: not keyed\n  The station was in mode safe, by command at 8.000 s");
    expect_part(cli::run({"explain", sound}).out, "The events beside the recording have what this replay lacks: safe at 8.000 s.");
    std::ofstream(folder / "cottage.events.jsonl") << "{}\n";
    expect_part(cli::run({"explain", sound, "12"}).err, "cottage.events.jsonl:1: no event of a station");
    fs::remove_all(folder);
}

TEST(Explain, TellsWhatWasHeardOnceAStationLeftSafeHadBeenArmed) {
    const fs::path folder = fs::path(testing::TempDir()) / "armed_test";
    fs::create_directories(folder);
    fs::copy_file("testdata/evening.flac", folder / "capture.flac", fs::copy_options::overwrite_existing);
    std::ofstream(folder / "capture.toml") << "station.start_mode = \"safe\"\n";
    std::ofstream(folder / "capture.events.jsonl") << replay::event_line({.at = Frames{16000 * 8}, .kind = EventKind::mode, .mode = Mode::armed}, Hertz{16000}) << '\n';
    const std::string sound = (folder / "capture.flac").string();
    const std::string told = cli::run({"explain", sound, "8.3"}).out;
    expect_part(told, "The station was safe at the recording's beginning; replayed with its commands: armed at 8.000 s.");
    expect_part(told, "Why it did not key:\n  The receiver could explain");
    expect_part(told, "What would have keyed it? Each alone, seen by replay:\n");
    expect_part(cli::run({"explain", sound, "12"}).out, "The replay differs from that");  // the file has no over
    expect_part(cli::run({"explain", sound, "5"}).out, "in mode safe, and nothing keys: from before the recording's beginning, by command or by station.start_mode.");
    fs::remove_all(folder);
}

TEST(Explain, TakesTheSettingsThatLieBesideACaptureUnlessOthersAreNamed) {
    const fs::path folder = fs::path(testing::TempDir()) / "own_settings_test";
    fs::create_directories(folder);
    fs::copy_file("testdata/evening.flac", folder / "capture.flac", fs::copy_options::overwrite_existing);
    std::ofstream(folder / "capture.toml") << "limits.longest_over_s = 3\n";
    const std::string sound = (folder / "capture.flac").string();
    EXPECT_EQ(cli::run({"explain", sound}).out.find("longest over"), std::string::npos) << "a recording, and a file that happens to be there";
    std::ofstream(folder / "capture.events.jsonl").flush();
    const std::string own = cli::run({"explain", sound}).out;
    expect_part(own, "With what lies beside it: " + (folder / "capture.toml").string() + "\n");
    expect_part(own, "The longest over cut it, limits.longest_over_s = 3");
    std::ofstream(folder / "other.toml") << "limits.longest_over_s = 4\n";
    expect_part(cli::run({"explain", sound, "--config", (folder / "other.toml").string()}).out, "limits.longest_over_s = 4");
    fs::remove_all(folder);
}

}  // namespace
}  // namespace tripline::explain
