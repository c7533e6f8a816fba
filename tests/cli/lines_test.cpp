// release and lines, on log files in place of hardware.
#include "daemon/cli/sound_wiring.h"
#include "tests/cli/run.h"

#include <gtest/gtest.h>
#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <sstream>

namespace tripline::cli {
namespace {

class Wires : public ::testing::Test {
protected:
    void SetUp() override {
        auto pattern = (std::filesystem::temp_directory_path() / "tripline-wires-XXXXXX").string();
        ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
        folder_ = pattern;
    }
    void TearDown() override { std::filesystem::remove_all(folder_); }

    /// A configuration whose ptt line is a log, and something else.
    std::string config(const std::string& more) {
        const auto file = folder_ / "station.toml";
        std::ofstream(file) << "[line.ptt]\nkind = \"file\"\ndevice = \"" << log().string() << "\"\n" << more;
        return file.string();
    }
    std::filesystem::path log() const { return folder_ / "ptt.log"; }

    std::filesystem::path folder_;
};

TEST_F(Wires, AreReleased) {
    const auto file = config("");
    const auto outcome = run({"release", "--config", file.c_str()});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_TRUE(std::filesystem::exists(log()));
}

TEST_F(Wires, AreReleasedThoughSomethingElseInTheFileIsWrong) {
    const auto file = config("[gate]\nhold_ms = 0\n");
    const auto outcome = run({"release", "--config", file.c_str()});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_NE(outcome.err.find("gate.hold_ms: 0 is out of range"), std::string::npos) << outcome.err;
    EXPECT_TRUE(std::filesystem::exists(log()));
}

TEST_F(Wires, WithAMistakeOfTheirOwnAreLeftAlone) {
    const auto loaded = config::load(config("[line.mute]\nkind = \"gpio\"\ndevice = \"/dev/gpiochip0\"\n"));
    const auto wiring = sound_wiring(loaded);
    EXPECT_EQ(wiring[index(lines::Role::ptt)].kind, lines::Kind::file);
    EXPECT_EQ(wiring[index(lines::Role::mute)].kind, lines::Kind::none);
}

TEST_F(Wires, AreListed) {
    const auto file = config("");
    const auto outcome = run({"lines", "--config", file.c_str()});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(outcome.out.substr(0, outcome.out.find('\n')),
              "ptt  kind = \"file\"  device = \"" + log().string() + "\"  pin = \"\"  active = \"high\"");
}

TEST_F(Wires, ThatAreNotNamedRightAreNotTried) {
    const auto outcome = run({"lines", "plt"});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_NE(outcome.err.find("plt not in {"), std::string::npos) << outcome.err;
}

}  // namespace
}  // namespace tripline::cli
