// What is told of a transmission that the longest over cut.
#include "daemon/explain/ending.h"
#include "daemon/explain/story.h"
#include "daemon/replay/spell.h"

#include <gtest/gtest.h>

namespace tripline::explain {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;
using station::Mode;
using station::Reason;
using station::State;

constexpr Hertz rate{8000};

station::Event voice(Duration at, State state, bool open) {
    station::Event event{.at = to_frames(at, rate), .kind = station::EventKind::voice, .from = state, .to = state, .lines = station::lines_of(state)};
    event.heard.voice = open;
    return event;
}

station::Event cut(Duration at, Mode mode) {
    station::Event event{.at = to_frames(at, rate), .from = State::on_air, .to = State::unkeying, .reason = Reason::too_long, .mode = mode};
    event.heard.measures = {.microphone = to_power(Dbfs{-40}), .floor = to_power(Dbfs{-70}), .threshold = to_power(Dbfs{-50}), .remainder = to_power(Dbfs{-40})};
    return event;
}

/// On the air from before the recording, with a pause from 3.0 to 3.4 s, cut at 10 s.
Account cut_over(Mode mode = Mode::armed) {
    Account account;
    account.rate = rate;
    account.length = 12s;
    account.events = {voice(3s, State::on_air, false), voice(3400ms, State::hold, true), cut(10s, mode)};
    replay::SpellBook book(rate);
    for (const auto& event : account.events) book.take(event);
    account.spells = book.spells();
    return account;
}

void expect_part(const std::string& text, const std::string& part) { EXPECT_NE(text.find(part), std::string::npos) << part << "\nis not in\n" << text; }

TEST(AnOverThatTheLongestOverCut, IsToldAsThatWithWhatKeptTheKey) {
    const Account account = cut_over();
    ASSERT_EQ(account.spells.size(), 1U);
    const std::string text = ending_in_words(account.spells[0], account, {});
    expect_part(text, "The longest over cut it, limits.longest_over_s = 180, and the station was locked out");
    expect_part(text, "What kept the key: a voice, or what was taken for one, in 9.6 s of its 10.0 s in this recording.\n");
    expect_part(text, "Its longest pause, 400 ms at 3.000 s, was shorter than the hang time, gate.hold_ms = 1500;\n  with less than 400 ");
    expect_part(text, "At its end:\n  The microphone was at -40.0 dBFS");
}

TEST(AnOverThatTheLongestOverCut, IsTheOperatorsWhereTheKeyWasForced) {
    const Account account = cut_over(Mode::keyed);
    const std::string text = ending_in_words(account.spells[0], account, {});
    expect_part(text, "The operator had forced the key: mode keyed, which this limit ends as well.");
    EXPECT_EQ(text.find("What kept the key"), std::string::npos) << text;
}

TEST(AKeyClosedBeforeTheRecordingBegins, IsToldWithoutAMomentAtWhichItWasDecided) {
    const std::string text = all_in_words(cut_over(), {});
    expect_part(text, "Keyed from before the recording to 10.000 s\nWhy it keyed: that lies before the recording's beginning.\n");
    EXPECT_EQ(text.find("-200"), std::string::npos) << text;
}

}  // namespace
}  // namespace tripline::explain
