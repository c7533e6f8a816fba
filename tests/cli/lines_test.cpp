// release and lines, on log files in place of hardware.
#include "daemon/cli/installed_settings.h"
#include "daemon/cli/sound_wiring.h"
#include "daemon/guard/kept_plan.h"
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
    EXPECT_EQ(outcome.out, "line.ptt released\n");
    EXPECT_TRUE(std::filesystem::exists(log()));
}

TEST_F(Wires, AreReleasedThoughSomethingElseInTheFileIsWrong) {
    const auto file = config("[gate]\nhold_ms = 0\n");
    const auto outcome = run({"release", "--config", file.c_str()});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_NE(outcome.err.find("gate.hold_ms: 0 is out of range"), std::string::npos) << outcome.err;
    EXPECT_TRUE(std::filesystem::exists(log()));
}

TEST_F(Wires, AreReleasedThoughAnotherKeyOfTheirTableIsWrong) {
    const auto file = config("lead = 25\nlag_ms = -1\n");
    const auto outcome = run({"release", "--config", file.c_str()});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.out, "line.ptt released\n") << outcome.err;
    EXPECT_TRUE(std::filesystem::exists(log()));
}

TEST_F(Wires, WithAMistakeOfTheirOwnAreLeftAloneAndToldSo) {
    const auto file = config("[line.mute]\nkind = \"gpio\"\ndevice = \"/dev/gpiochip0\"\n");
    const auto outcome = run({"release", "--config", file.c_str()});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.out, "line.ptt released\n");
    EXPECT_NE(outcome.err.find("line.mute NOT released: " + file + ":5:8: line.mute.kind: needs line.mute.pin"),
              std::string::npos)
        << outcome.err;
}

TEST_F(Wires, WhoseRestingLevelIsInDoubtAreLeftAlone) {
    for (const auto* doubt : {"active = \"lo\"\n", "actve = \"low\"\n"}) {
        const auto sound = sound_wiring(config::load(config(doubt)));
        EXPECT_EQ(sound.wiring[index(lines::Role::ptt)].kind, lines::Kind::none) << doubt;
        EXPECT_NE(sound.reasons[index(lines::Role::ptt)], "") << doubt;
    }
}

/// The daemon's state folder, with other lines in force than the file has.
class WiresInForce : public Wires {
protected:
    void SetUp() override {
        Wires::SetUp();
        for (const auto role : {lines::Role::ptt, lines::Role::antenna})
            plan_.wiring[index(role)] = {.kind = lines::Kind::file, .device = folder_ / "in-force.log"};
        guard::keep_plan(plan_, folder_);
        ::setenv("STATE_DIRECTORY", folder_.c_str(), 1);
    }
    void TearDown() override {
        ::unsetenv("STATE_DIRECTORY");
        Wires::TearDown();
    }
    guard::Plan plan_;
};

TEST_F(WiresInForce, AreReleasedBesideThoseOfTheFile) {
    const auto file = config("");
    const auto outcome = run({"release", "--config", file.c_str()});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(outcome.out, "line.ptt released\nline.antenna released\nline.ptt released\n");
    EXPECT_TRUE(std::filesystem::exists(log()));
    EXPECT_TRUE(std::filesystem::exists(folder_ / "in-force.log"));
    EXPECT_FALSE(guard::kept_plan(folder_)) << "all at rest: nothing is in force";
}

TEST_F(WiresInForce, AreReleasedThoughTheFileIsGone) {
    const auto outcome = run({"release", "--config", (folder_ / "none.toml").c_str()});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.out, "line.ptt released\nline.antenna released\n");
}

TEST_F(WiresInForce, ThatTheFileHasTooAreReleasedOnce) {
    plan_.wiring = {};
    plan_.wiring[index(lines::Role::ptt)] = {.kind = lines::Kind::file, .device = log()};
    guard::keep_plan(plan_, folder_);
    const auto outcome = run({"release", "--config", config("").c_str()});
    EXPECT_EQ(outcome.out, "line.ptt released\n");
}

TEST_F(WiresInForce, ThatCannotBeReadAreTold) {
    std::ofstream(folder_ / "lines-in-force") << "nonsense";
    const auto outcome = run({"release", "--config", config("").c_str()});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.out, "line.ptt released\n");
    EXPECT_NE(outcome.err.find("lines-in-force: "), std::string::npos) << outcome.err;
}

TEST_F(Wires, OfAnInstalledDaemonAreNotReleasedForSettingsOfAnother) {
    EXPECT_EQ(state_folder({}), installed_state);
    EXPECT_EQ(state_folder({.file = installed_settings, .overlays = {}}), installed_state);
    EXPECT_EQ(state_folder({.file = "other.toml", .overlays = {}}), "");
}

TEST_F(Wires, ThatCannotBeReachedAreNamed) {
    const auto device = "line.ptt.device=" + (folder_ / "none" / "ptt.log").string();
    const auto outcome = run({"release", "--set", "line.ptt.kind=file", "--set", device.c_str()});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_NE(outcome.err.find("line.ptt NOT released: ptt: file "), std::string::npos) << outcome.err;
}

TEST_F(Wires, ThatAreNotConfiguredAreNoSuccess) {
    const auto file = (folder_ / "empty.toml").string();
    std::ofstream(file) << "\n";
    const auto outcome = run({"release", "--config", file.c_str()});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.err, "no line is configured: nothing was released\n");
}

TEST_F(Wires, AreThoseOfTheInstalledFileUnlessAnotherIsNamed) {
    const auto file = config("");
    EXPECT_EQ(or_installed({}, file).file, file);
    EXPECT_EQ(or_installed({}, (folder_ / "none.toml").string()).file, "");
    EXPECT_EQ(or_installed({.file = "other.toml", .overlays = {}}, file).file, "other.toml");
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
