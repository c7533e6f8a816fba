// The configurations that ship as examples.
#include "tests/config/support.h"

#include <gtest/gtest.h>

namespace tripline::config {
namespace {

constexpr auto folder = "config/examples";

TEST(TheExamples, ShowAFirstEveningAndFourTypicalStations) {
    std::size_t count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        count += entry.path().extension() == ".toml" ? 1 : 0;
    }
    EXPECT_EQ(count, 5U);
}

TEST(TheExamples, AreGoodAndKeyATransmitter) {
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        const auto loaded = load(entry.path());
        EXPECT_TRUE(loaded.good()) << messages(loaded);
        EXPECT_NE(line(loaded.settings, lines::Role::ptt).kind, lines::Kind::none) << entry.path();
    }
}

TEST(TheExamples, StartSafeWhenTheyDriveHardware) {
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        const auto settings = load(entry.path()).settings;
        const bool log = line(settings, lines::Role::ptt).kind == lines::Kind::file;
        EXPECT_EQ(settings.station.start_mode, log ? station::Mode::armed : station::Mode::safe) << entry.path();
    }
}

TEST(TheExamples, SayNothingButTheNoteOnTwoClocks) {
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        const bool two_cards = entry.path().stem() == "two-sound-cards";
        const auto loaded = load(entry.path());
        EXPECT_EQ(loaded.problems.size(), two_cards ? 1U : 0U) << messages(loaded);
    }
}

}  // namespace
}  // namespace tripline::config
