// Overs as lines, and the reminder.
#include "daemon/logbook/identify.h"
#include "daemon/logbook/line.h"
#include "daemon/logbook/over_watch.h"
#include "daemon/logbook/settings.h"

#include <gtest/gtest.h>

namespace tripline::logbook {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;
using std::chrono_literals::operator""min;

Over an_over() {
    return {.number = 12, .began = WallTime(1795623792345ms), .length = 4213ms, .keyed_by = station::Reason::voice,
            .ended_by = station::Reason::silence, .peak = to_power(Dbfs{-18.2}), .mark = Mark::none};
}

TEST(AnOver, IsALineOfJsonAndComesBackFromIt) {
    const std::string line = over_line(an_over());
    EXPECT_EQ(line, R"({"over":12,"began":"2026-11-25T16:23:12.345Z","length_s":4.213,"keyed_by":"voice",)"
                    R"("ended_by":"silence","peak_dbfs":-18.2})");
    const auto [overs, missed, strange] =
        read_log(line + '\n' + mark_line(12, Mark::late) + '\n' + mark_line(12, Mark::false_key) + '\n');
    ASSERT_EQ(overs.size(), 1U);
    EXPECT_EQ(strange, 0U);
    EXPECT_EQ(overs[0].began, an_over().began);
    EXPECT_EQ(overs[0].length, an_over().length);
    EXPECT_EQ(overs[0].ended_by, station::Reason::silence);
    EXPECT_EQ(overs[0].mark, Mark::false_key) << "the last word counts";
}

TEST(AnOver, ThatTheStationWasToldToEndInIsNamedAlikeInTheLogAndTheTableAndComesBack) {
    Over over = an_over();
    over.ended_by = station::Reason::none;
    const std::string line = over_line(over);
    EXPECT_NE(line.find(R"("ended_by":"end_of_sound")"), std::string::npos) << line;
    EXPECT_NE(over_text(over).find(" to end_of_sound "), std::string::npos) << over_text(over);
    EXPECT_NE(csv_line(over).find(",end_of_sound,"), std::string::npos) << csv_line(over);
    const Log log = read_log(line + '\n');
    ASSERT_EQ(log.overs.size(), 1U);
    EXPECT_EQ(log.overs[0].ended_by, station::Reason::none);
}

TEST(AnOver, IsALineOfCsv) {
    EXPECT_EQ(csv_line(an_over()), "12,2026-11-25T16:23:12.345Z,4.213,voice,silence,-18.2,");
    Over marked = an_over();
    marked.mark = Mark::late;
    EXPECT_EQ(csv_line(marked), "12,2026-11-25T16:23:12.345Z,4.213,voice,silence,-18.2,late");
}

TEST(WhatWasMissed, IsALineOfItsOwn) {
    EXPECT_EQ(missed_line(an_over().began), R"({"missed":"2026-11-25T16:23:12.345Z"})");
    const Log log = read_log(missed_line(an_over().began) + '\n');
    ASSERT_EQ(log.missed.size(), 1U);
    EXPECT_EQ(log.missed[0], an_over().began);
    EXPECT_TRUE(log.overs.empty());
    EXPECT_EQ(log.strange, 0U);
    EXPECT_EQ(csv_line(an_over().began), ",2026-11-25T16:23:12.345Z,,,,,missed");
}

TEST(ALog, WithDamagedLinesGivesTheRest) {
    const std::string line = over_line(an_over());
    const Log log = read_log(line.substr(0, 20) + "\n\xff\n[]\n{\"over\":\"x\",\"began\":7}\n" +
                             "{\"mark\":12,\"as\":\"odd\"}\n{\"missed\":\"once\"}\n" + line);
    EXPECT_EQ(log.overs.size(), 1U);
    EXPECT_EQ(log.strange, 6U);
}

TEST(TheOverWatch, CountsOnFromTheLogAndKeepsThePeak) {
    OverWatch watch(41);
    watch.heard(1.0F);  // before the key closed
    watch.key_closed(WallTime(5s), station::Reason::voice, 0.1F);
    watch.heard(0.5F);
    watch.heard(0.2F);
    const Over over = watch.key_opened(1500ms, station::Reason::too_long);
    EXPECT_EQ(over.number, 42U);
    EXPECT_EQ(over.peak, 0.5F);
    EXPECT_EQ(over.length, 1500ms);
    EXPECT_EQ(over.ended_by, station::Reason::too_long);
    EXPECT_FALSE(watch.running());
}

// 47 CFR 97.119(a): "at least every 10 minutes during a communication".
TEST(TheReminder, ComesTenMinutesAfterTheFirstOverByDefault) {
    Identify identify(Settings{}.identify_every);
    Duration now = 100s;
    EXPECT_FALSE(identify.due(false, now += 60min)) << "nobody was on the air";
    EXPECT_FALSE(identify.due(true, now));
    EXPECT_FALSE(identify.due(false, now += 9min));
    EXPECT_TRUE(identify.due(false, now += 1min));
    EXPECT_FALSE(identify.due(false, now += 60min)) << "once for one operation";
    EXPECT_TRUE(identify.reminded()) << "nobody has spoken yet";
    EXPECT_FALSE(identify.due(true, now));
    EXPECT_TRUE(identify.reminded()) << "until the end of the over";
    EXPECT_TRUE(identify.due(true, now += 10min)) << "in an over that goes on as well";
    EXPECT_FALSE(identify.due(true, now += 1s));
    EXPECT_FALSE(identify.due(false, now += 1s));
    EXPECT_FALSE(identify.reminded()) << "the over in which it was said is over";
}

TEST(TheReminder, CanBeSwitchedOff) {
    Identify identify(Duration{0});
    EXPECT_FALSE(identify.due(true, 1s));
    EXPECT_FALSE(identify.due(true, std::chrono::hours{5}));
}

}  // namespace
}  // namespace tripline::logbook
