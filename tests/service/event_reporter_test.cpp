// What the events tell the log.
#include "daemon/service/event_reporter.h"

#include "daemon/replay/spell.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <initializer_list>
#include <string>
#include <vector>

namespace tripline::service {
namespace {

/// The log's lines for so many spells in succession, one event each.
std::string logged(std::initializer_list<int> self_keyed) {
    audio::Ring<station::Event> ring(64);
    control::Desk desk;
    testing::internal::CaptureStderr();
    Log log(config::LogLevel::info);
    EventReporter reporter(ring, log, desk, false, "");
    for (const int spells : self_keyed) {
        station::Event event;
        event.heard.self_keyed = spells;
        ring.push(event);
    }
    reporter.drain(Hertz{48000});
    log.close();
    return testing::internal::GetCapturedStderr();
}

dsp::Heard heard_at(Dbfs microphone, Dbfs leak) {
    dsp::Heard heard{.voice = true, .held = true, .cause = dsp::Cause::voice, .measures = {}};
    heard.measures = {.microphone = to_power(microphone), .leak = to_power(leak), .threshold = to_power(Dbfs{-50})};
    heard.measures.remainder = std::max(0.0F, heard.measures.microphone - heard.measures.leak);
    return heard;
}

station::Event step(std::int64_t at, station::State from, station::State to, station::Reason why, const dsp::Heard& heard) {
    return {.at = {at}, .from = from, .to = to, .reason = why, .lines = station::lines_of(to), .heard = heard};
}

/// An over decided at 1 s and closed at 1.035 s, whose figures have changed by then.
std::vector<station::Event> an_over(Dbfs leak) {
    using enum station::State;
    using station::Reason;
    const auto decided = heard_at(Dbfs{-40}, leak);
    const auto later = heard_at(Dbfs{-20}, Dbfs{-20});
    return {step(8000, rest, muting, Reason::voice, decided), step(8080, muting, antenna_to_transmit, Reason::step, later),
            step(8200, antenna_to_transmit, settling, Reason::step, later), step(8280, settling, on_air, Reason::step, later)};
}

std::string printed(const std::vector<station::Event>& events) {
    audio::Ring<station::Event> ring(64);
    control::Desk desk;
    testing::internal::CaptureStdout();
    {
        Log log(config::LogLevel::info);
        EventReporter reporter(ring, log, desk, true, "");
        for (const auto& event : events) ring.push(event);
        reporter.drain(Hertz{8000});
    }
    return testing::internal::GetCapturedStdout();
}

TEST(ThePrintedKey, HasTheFiguresOfTheDecisionAsReplayHasThem) {
    auto events = an_over(Dbfs{-80});
    events.push_back(step(24280, station::State::hold, station::State::unkeying, station::Reason::silence, heard_at(Dbfs{-60}, Dbfs{-60})));
    replay::SpellBook book(Hertz{8000});
    for (const auto& event : events) book.take(event);
    const auto& spell = book.spells().at(0);
    EXPECT_EQ(printed(events), "  0:01.035  key closed  " + replay::in_words(spell.began_by, spell.heard) + "\n" +
                                   "  0:03.035  key open    silence, after 2.000 s\n");
    EXPECT_EQ(replay::in_words(spell.began_by, spell.heard), "voice (voice): microphone -40.0 dBFS, threshold -50.0 dBFS, margin 10.0 dB");
}

TEST(ThePrintedKey, ShowsNoMarginWhereNothingWasLeft) {
    const std::string text = printed(an_over(Dbfs{-40}));
    EXPECT_NE(text.find("threshold -50.0 dBFS, nothing left to compare with it\n"), std::string::npos) << text;
}

TEST(ThePrintedKey, HasNoFiguresWhereItWasForced) {
    auto events = an_over(Dbfs{-80});
    events.front().reason = station::Reason::forced;
    EXPECT_EQ(printed(events), "  0:01.035  key closed  forced\n");
}

TEST(AnOverUnderWay, IsCountedWhenTheStationEndsInIt) {
    audio::Ring<station::Event> ring(64);
    control::Desk desk;
    testing::internal::CaptureStdout();
    {
        Log log(config::LogLevel::info);
        EventReporter reporter(ring, log, desk, true, "");
        for (const auto& event : an_over(Dbfs{-80})) ring.push(event);
        reporter.drain(Hertz{8000});
        reporter.heard({.at = {12280}});
        EXPECT_EQ(reporter.keyed(Hertz{8000}), std::chrono::milliseconds(500)) << "told while it lasts";
        reporter.heard({.at = {20280}});
        reporter.end_over(Hertz{8000});
        reporter.end_over(Hertz{8000});
        reporter.print_summary();
        EXPECT_EQ(reporter.keyed(Hertz{8000}), std::chrono::milliseconds(1500));
    }
    const std::string text = testing::internal::GetCapturedStdout();
    EXPECT_NE(text.find("  0:02.535  key open    end_of_sound, after 1.500 s\n1 over, 0:01.500 keyed\n"), std::string::npos) << text;
    const auto overs = desk.overs(9);
    ASSERT_EQ(overs.size(), 1U);
    EXPECT_EQ(overs.front().length, std::chrono::milliseconds(1500));
    EXPECT_EQ(overs.front().ended_by, station::Reason::none);
}

TEST(TheReporter, SaysOnceThatTheReceiverKeysTheStationAgainAndAgain) {
    EXPECT_EQ(logged({0, 1, 1, 2, 0, 1, 2}), "") << "may be the operator's short words";
    const std::string three = logged({1, 2, 2, 3, 3, 4, 5});
    EXPECT_NE(three.find("keyed 3 times running"), std::string::npos) << three;
    EXPECT_EQ(std::ranges::count(three, '\n'), 1) << three;
    const std::string more = logged({3, 4, 6, 7, 8, 8, 8});
    EXPECT_NE(more.find("keyed 6 times running"), std::string::npos) << more;
    EXPECT_EQ(std::ranges::count(more, '\n'), 2) << more;
}

/// Overs that ended so long after they began by such a reason, the guard having told of a closed key in each of the first `closed`.
std::vector<logbook::Over> overs_of(station::Reason why, std::int64_t frames, std::uint32_t closed) {
    audio::Ring<station::Event> ring(64);
    control::Desk desk;
    testing::internal::CaptureStderr();
    Log log(config::LogLevel::info);
    EventReporter reporter(ring, log, desk, false, "");
    for (std::uint32_t over = 1; over <= 2; ++over) {
        for (const auto& event : an_over(Dbfs{-80})) ring.push(event);
        ring.push(step(8280 + frames, station::State::on_air, station::State::unkeying, why, heard_at(Dbfs{-60}, Dbfs{-60})));
        ring.push(step(8290 + frames, station::State::unkeying, station::State::rest, station::Reason::step, heard_at(Dbfs{-60}, Dbfs{-60})));
        reporter.guard_closed(std::min(over, closed));
        reporter.drain(Hertz{8000});
    }
    log.close();
    const auto overs = desk.overs(9);
    const std::string told = testing::internal::GetCapturedStderr();
    EXPECT_EQ(told.find("no over logged") != std::string::npos, overs.size() < 2) << told;
    EXPECT_EQ(reporter.overs(), overs.size());
    EXPECT_EQ(reporter.keyed(Hertz{8000}), to_duration(Frames{frames * static_cast<std::int64_t>(overs.size())}, Hertz{8000}));
    return overs;
}

TEST(AnOver, IsNoneWhereTheGuardWasLostBeforeItToldOfAClosedKey) {
    using station::Reason;
    EXPECT_EQ(overs_of(Reason::fault, 80, 0).size(), 0U);
    const auto first = overs_of(Reason::fault, 80, 1);
    ASSERT_EQ(first.size(), 1U);
    EXPECT_EQ(first.front().number, 1U);
    EXPECT_EQ(overs_of(Reason::fault, 80, 2).back().number, 2U) << "it was closed, however briefly";
    EXPECT_EQ(overs_of(Reason::silence, 80, 0).size(), 2U) << "no guard was lost";
    EXPECT_EQ(overs_of(Reason::fault, 8000, 0).size(), 2U) << "too long for that not to be noticed";
}

}  // namespace
}  // namespace tripline::service
