// What the watcher shows.
#include "daemon/watch/picture.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace tripline::watch {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr auto level = R"({"level":{"frame":480,"state":"on_air","mode":"armed","key":true,"cause":"voice",)"
                       R"("microphone_dbfs":-20.0,"receiver_dbfs":-60.0,"leak_dbfs":-70.0,"floor_dbfs":-65.0,)"
                       R"("threshold_dbfs":-50.0,"margin_db":30.0,"on_air_s":12.3}})";

TEST(AForcedKeyThatWasOpened, IsNotToldToWaitForQuiet) {
    Seen seen;
    seen.station = "running";
    seen.mode = "keyed";
    seen.state = "locked_out";
    EXPECT_EQ(headline(seen), "LOCKED OUT until the key is forced again or the station armed");
    take(seen, R"({"event":{"event":"state","seconds":1.5,"from":"unmuting","to":"locked_out","reason":"step","mode":"keyed"}})");
    ASSERT_EQ(seen.told.size(), 1U);
    EXPECT_NE(seen.told.front().find("locked out until the key is forced again or the station armed"), std::string::npos);
    seen.mode = "armed";
    EXPECT_EQ(headline(seen), "LOCKED OUT until the microphone is quiet");
}

TEST(TheMeter, ShowsLevelPeakAndThreshold) {
    const std::string bar = meter(-40, -20, -60);
    EXPECT_EQ(bar.size(), 50U);
    EXPECT_EQ(bar.front(), '[');
    EXPECT_EQ(bar.back(), ']');
    EXPECT_EQ(std::ranges::count(bar, '='), 24);  // half of 48 cells and the one it is in, less the threshold's
    EXPECT_EQ(bar[1 + 12], '|');
    EXPECT_EQ(bar[1 + 36], '!');
}

TEST(TheMeter, StaysWithinItsFrame) {
    for (const double level_dbfs : {-1000.0, -80.0, 0.0, 6.0, 1000.0}) {
        EXPECT_EQ(meter(level_dbfs, level_dbfs, level_dbfs).size(), 50U) << level_dbfs;
    }
    EXPECT_EQ(meter(-200, -200, -200), "[" + std::string(48, ' ') + "]");
}

TEST(ThePeak, StandsForAWhileAndThenFalls) {
    PeakHold peak;
    EXPECT_EQ(peak(-20, 10s), -20);
    EXPECT_EQ(peak(-60, 11s), -20);
    EXPECT_NEAR(peak(-60, 12s), -30, 0.01);  // half a second after it stood, at 20 dB a second
    EXPECT_EQ(peak(-60, 20s), -60);
    EXPECT_EQ(peak(-10, 20s), -10);
}

TEST(TheWatcher, ShowsWhatTheStationGoesWithout) {
    Seen seen;
    take(seen, R"({"re":"status","ok":true,"trouble":"","missing":["no page: taken","no station log: full"],"phase":"running","mode":"armed","state":"rest","key":false,"reason":"none"})");
    Picture picture;
    EXPECT_EQ(picture(seen, std::chrono::seconds{1}).at(2), "no page: taken; no station log: full");
    take(seen, R"({"re":"status","ok":true,"trouble":"","phase":"running","mode":"armed","state":"rest","key":false,"reason":"none"})");
    EXPECT_EQ(picture(seen, std::chrono::seconds{2}).at(2), "");
}

TEST(TheWatcher, TakesLevelsEventsAndStatusAndNothingElse) {
    Seen seen;
    take(seen, level);
    EXPECT_TRUE(seen.key);
    EXPECT_EQ(seen.microphone_dbfs, -20);
    take(seen, R"({"re":"status","ok":true,"trouble":"","phase":"running","mode":"armed","state":"rest","key":false,"reason":"silence"})");
    EXPECT_EQ(seen.station, "running");
    take(seen, R"({"event":{"event":"state","from":"hold","to":"unkeying","reason":"silence","seconds":3.5}})");
    take(seen, R"({"event":{"event":"identify"}})");
    EXPECT_EQ(seen.told, (std::vector<std::string>{"     3.50 s  key open: silence", "time to identify the station"}));
    for (const char* other : {"", "nonsense", "{}", "[]", R"({"level":{}})", R"({"event":7})", R"({"re":"status"})"}) {
        take(seen, other);
    }
    EXPECT_EQ(seen.events, 2U);
}

TEST(TheHeadline, SaysFirstWhatMattersMost) {
    Seen seen;
    EXPECT_EQ(headline(seen).substr(0, 9), "NOT READY");
    seen.station = "running";
    seen.state = "rest";
    EXPECT_EQ(headline(seen), "receiving");
    seen.mode = "safe";
    EXPECT_EQ(headline(seen).substr(0, 4), "SAFE");
    take(seen, level);
    EXPECT_EQ(headline(seen), "ON THE AIR 12.3 s");
}

constexpr auto forced_level = R"({"level":{"frame":480,"state":"on_air","mode":"keyed","key":true,"cause":"quiet",)"
                              R"("microphone_dbfs":-60.0,"receiver_dbfs":-60.0,"leak_dbfs":-70.0,"floor_dbfs":-65.0,)"
                              R"("threshold_dbfs":-50.0,"margin_db":-10.0,"on_air_s":12.3}})";

TEST(TheWatcher, TellsOfAForcedKeyThatItIsForcedAndWhenTheLimitOpensIt) {
    Seen seen;
    take(seen, R"({"re":"status","ok":true,"trouble":"","phase":"running","mode":"keyed","state":"on_air","key":true,"reason":"forced","longest_over_s":20})");
    take(seen, forced_level);
    EXPECT_EQ(headline(seen), "ON THE AIR 12.3 s by hand: unkey or safe opens the key, else the limit in 8 s");
    EXPECT_EQ(plain_line(seen).find("under the threshold"), std::string::npos) << plain_line(seen);
    seen.on_air_s = 599.9;
    seen.longest_over_s = 600;
    EXPECT_LE(headline(seen).size(), columns);
}

TEST(TheWatcher, NeverSaysThatAKeyWasClosedByWhatOpensOne) {
    Seen seen;
    seen.reason = "silence";  // the last thing told to one who came after the decision
    take(seen, R"({"event":{"event":"state","from":"settling","to":"on_air","reason":"step","mode":"keyed","seconds":54.13}})");
    take(seen, R"({"event":{"event":"state","from":"settling","to":"on_air","reason":"step","mode":"armed","seconds":60.5}})");
    EXPECT_EQ(seen.told, (std::vector<std::string>{"    54.13 s  key closed: forced", "    60.50 s  key closed: voice"}));
}

TEST(TheWatcher, ShowsNothingAsSeenOfADaemonThatDoesNotAnswer) {
    Seen seen;
    take(seen, R"({"re":"status","ok":true,"trouble":"","phase":"running","mode":"armed","state":"rest","key":false,"reason":"none"})");
    take(seen, level);
    lose(seen);
    EXPECT_EQ(plain_line(seen), "NOT READY  the daemon does not answer: look at the transmitter; mode armed");
    EXPECT_TRUE(worth_showing(seen));
    take(seen, R"({"re":"status","ok":true,"trouble":"","phase":"running","mode":"armed","state":"rest","key":false,"reason":"none"})");
    EXPECT_EQ(seen.station, "running");
}

TEST(ThePicture, FitsAScreenOfEightyByTwentyFour) {
    Seen seen;
    take(seen, level);
    seen.station = std::string(300, 'x');
    for (int i = 0; i < 30; ++i) take(seen, R"({"event":{"event":"identify"}})");
    Picture picture;
    const auto lines = picture(seen, 1s);
    EXPECT_LE(lines.size(), 24U);
    for (const auto& line : lines) EXPECT_LE(line.size(), columns) << line;
}

TEST(ThePicture, ShowsNoMarginWhereNothingIsLeftToHaveOne) {
    const auto shown = [](double margin_db) {
        Seen seen;
        take(seen, level);
        seen.margin_db = margin_db;
        std::string all;
        for (const auto& line : Picture()(seen, 1s)) all += line + '\n';
        return all;
    };
    EXPECT_NE(shown(-12).find("margin  -12.0 dB   "), std::string::npos) << shown(-12);
    EXPECT_NE(shown(-165).find("margin   none      "), std::string::npos) << shown(-165);
}

TEST(TheWatcher, TellsNoLevelBeforeOneHasCome) {
    Seen seen;
    EXPECT_FALSE(worth_showing(seen));
    take(seen, R"({"re":"status","ok":true,"trouble":"","phase":"running","mode":"armed","state":"on_air","key":true,"reason":"voice"})");
    EXPECT_FALSE(worth_showing(seen));
    EXPECT_EQ(plain_line(seen), "ON THE AIR 0.0 s; mode armed");
    take(seen, R"({"re":"status","ok":true,"trouble":"no sound card","phase":"running","mode":"armed","state":"rest","key":false,"reason":"none"})");
    EXPECT_TRUE(worth_showing(seen));
    EXPECT_EQ(plain_line(seen), "NOT READY  no sound card; mode armed");
    Picture picture;
    for (const auto& line : picture(seen, 1s)) EXPECT_EQ(line.find("dBFS"), std::string::npos) << line;
    take(seen, level);
    EXPECT_TRUE(worth_showing(seen));
}

TEST(APlainLine, HoldsEverythingThatTheScreenShows) {
    Seen seen;
    seen.station = "running";
    take(seen, level);
    EXPECT_EQ(plain_line(seen), "ON THE AIR 12.3 s; mode armed; microphone -20.0 dBFS, threshold -50.0, receiver -60.0; "
                                "a voice above the threshold");
}

}  // namespace
}  // namespace tripline::watch
