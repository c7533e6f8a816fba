// Configurations as text, and the way back.
#include "tests/config/support.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

namespace tripline::config {
namespace {

std::string content_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    EXPECT_TRUE(file.is_open()) << path << " is missing";
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

TEST(TheShippedFile, IsWhatTheTableOfKeysSays) {
    EXPECT_EQ(content_of("config/tripline.toml"), shipped_file())
        << "write it anew with: tripline config defaults > config/tripline.toml";
}

TEST(TheShippedFile, HasEveryKeyAndLoadsToTheDefaultsWithoutAWord) {
    const auto loaded = load_text(shipped_file(), "tripline.toml");
    EXPECT_EQ(messages(loaded), "");
    EXPECT_EQ(changed_keys(Settings{}, loaded.settings), "");
    EXPECT_EQ(loaded.origins.size(), all_keys().size());
}

TEST(ShownSettings, LoadToTheSameSettings) {
    const auto loaded = load_text(
        "[line.mute]\nkind = \"gpio\"\ndevice = \"/dev/gpiochip0\"\npin = 17\nactive = \"low\"\n"
        "[audio]\ndevice = \"Say \\\"grey\\\" \\\\ \xC3\xA4\"\n[envelope]\nattack_ms = 0.7\n",
        "station.toml", {"gate.hold_ms=1234.5678"});
    const auto again = load_text(show(loaded), "shown.toml");
    EXPECT_EQ(messages(again), "");
    EXPECT_EQ(changed_keys(loaded.settings, again.settings), "");
}

TEST(ShownSettings, TellWhereEachComesFrom) {
    const auto text = show(load_text("[gate]\n  hold_ms = 2000\n", "station.toml",
                                     {"gate.qualify_ms=12"}));
    const auto has = [&](const char* line) { return text.find(line) != std::string::npos; };
    EXPECT_TRUE(has("\nhold_ms = 2000                          # station.toml:2:13\n")) << text;
    EXPECT_TRUE(has("\nqualify_ms = 12                         # --set:1:17\n")) << text;
    EXPECT_TRUE(has("\nopen_dbfs = -50                         # default\n")) << text;
}

TEST(Differences, NameTheKeysInOrderWithBothValuesAndWhatTheyTouch) {
    const auto after = load_text("[gate]\nhold_ms = 2000\n[line.mute]\nkind = \"file\"\n"
                                 "device = \"mute.log\"\nlead_ms = 8\n[audio]\nrate_hz = 44100\n",
                                 "station.toml");
    std::string text;
    for (const auto& change : differences(Settings{}, after.settings)) {
        text += change.path + ": " + change.from + " -> " + change.to + ' ' +
                std::to_string(static_cast<int>(change.touches)) + '\n';
    }
    EXPECT_EQ(text, "audio.rate_hz: 48000 -> 44100 1\n"
                    "line.mute.kind: \"none\" -> \"file\" 2\n"
                    "line.mute.device: \"\" -> \"mute.log\" 2\n"
                    "line.mute.lead_ms: 5 -> 8 0\n"
                    "gate.hold_ms: 1500 -> 2000 0\n");
}

}  // namespace
}  // namespace tripline::config
