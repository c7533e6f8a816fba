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
            .ended_by = station::Reason::silence, .peak = to_power(Dbfs{-18.2}), .wrong = false};
}

TEST(AnOver, IsALineOfJsonAndComesBackFromIt) {
    const std::string line = over_line(an_over());
    EXPECT_EQ(line, R"({"over":12,"began":"2026-11-25T16:23:12.345Z","length_s":4.213,"keyed_by":"voice",)"
                    R"("ended_by":"silence","peak_dbfs":-18.2})");
    std::size_t strange = 0;
    const auto overs = read_overs(line + '\n' + mark_line(12) + '\n', strange);
    ASSERT_EQ(overs.size(), 1U);
    EXPECT_EQ(strange, 0U);
    EXPECT_EQ(overs[0].began, an_over().began);
    EXPECT_EQ(overs[0].length, an_over().length);
    EXPECT_EQ(overs[0].ended_by, station::Reason::silence);
    EXPECT_TRUE(overs[0].wrong);
}

TEST(AnOver, IsALineOfCsv) {
    EXPECT_EQ(csv_line(an_over()), "12,2026-11-25T16:23:12.345Z,4.213,voice,silence,-18.2,no");
}

TEST(ALog, WithDamagedLinesGivesTheRest) {
    std::size_t strange = 0;
    const std::string line = over_line(an_over());
    const auto overs = read_overs(line.substr(0, 20) + "\n\xff\n[]\n{\"over\":\"x\",\"began\":7}\n" + line, strange);
    EXPECT_EQ(overs.size(), 1U);
    EXPECT_EQ(strange, 4U);
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
