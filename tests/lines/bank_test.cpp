#include "daemon/lines/bank.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

using namespace tripline::lines;

namespace {

struct TheBank : testing::Test {
    std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("tripline-bank-" + std::to_string(::getpid()));
    void SetUp() override { std::filesystem::create_directory(folder); }
    void TearDown() override { std::filesystem::remove_all(folder); }

    LineSettings file(const std::string& name) const {
        return {.kind = Kind::file, .device = (folder / name).string()};
    }
    std::string text(const std::string& name) const {
        std::ifstream in(folder / name);
        return {std::istreambuf_iterator<char>(in), {}};
    }
};

TEST_F(TheBank, OpensASharedDeviceOnce) {
    Bank bank({file("log"), file("log"), {}, file("other")});
    EXPECT_FALSE(bank[Role::antenna].wired());
    ASSERT_TRUE(bank[Role::mute].set(true));
    const std::string log = text("log");
    EXPECT_NE(log.find("ptt rest\n"), std::string::npos);
    EXPECT_NE(log.find("mute rest\n"), std::string::npos);
    EXPECT_NE(log.find("mute active\n"), std::string::npos);
    EXPECT_EQ(log.find("alive"), std::string::npos);
    EXPECT_NE(text("other").find("alive rest\n"), std::string::npos);
}

TEST_F(TheBank, DrivesTheOtherLinesToRestWhenOneCannotBeOpened) {
    EXPECT_THROW(Bank({file("missing-folder/log"), file("mute"), {}, {}}), OpenError);
    EXPECT_NE(text("mute").find("mute rest\n"), std::string::npos);
}

// Each record begins with the monotonic time in seconds.
TEST_F(TheBank, RestsTheKeyThenTheAntennaThenTheMuteWithThePausesBetween) {
    using std::chrono_literals::operator""ms;
    Bank({file("ptt"), file("mute"), file("antenna"), {}}, {.after_ptt = 60ms, .after_antenna = 40ms});
    const auto at = [&](const char* name) { return std::stod(text(name)); };
    EXPECT_GE(at("antenna"), at("ptt") + 0.060);
    EXPECT_GE(at("mute"), at("antenna") + 0.040);
}

TEST_F(TheBank, WaitsAsWellWhenTheKeyCannotBeOpened) {
    using std::chrono_literals::operator""ms;
    const auto before = std::chrono::steady_clock::now();
    EXPECT_THROW(Bank({file("missing-folder/log"), {}, file("antenna"), {}}, {.after_ptt = 60ms, .after_antenna = 0ms}),
                 OpenError);
    EXPECT_GE(std::chrono::steady_clock::now() - before, 60ms);
    EXPECT_NE(text("antenna").find("antenna rest"), std::string::npos);
}

TEST_F(TheBank, NamesRoleAndPathAndCauseAndCureOfWhatItCannotOpen) {
    try {
        Bank bank({file("missing-folder/log"), {}, {}, {}});
        FAIL() << "opened";
    } catch (const OpenError& error) {
        const std::string text = error.what();
        EXPECT_EQ(text.rfind("ptt: file ", 0), 0U) << text;
        EXPECT_NE(text.find("missing-folder/log: No such file or directory (its folder"),
                  std::string::npos)
            << text;
    }
}

TEST_F(TheBank, LetsAnUnwiredLineBe) {
    Bank bank({});
    EXPECT_TRUE(bank[Role::ptt].set(true));
    EXPECT_FALSE(bank[Role::ptt].read().known);
    EXPECT_EQ(bank[Role::ptt].descriptor(), -1);
}

}  // namespace
