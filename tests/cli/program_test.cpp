// The command line of the operator's tool.
#include "tests/cli/run.h"

#include <gtest/gtest.h>

namespace tripline::cli {
namespace {

TEST(TheProgram, NeedsACommand) {
    const auto outcome = run({});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.out, "");
    EXPECT_EQ(outcome.err, "tripline: A subcommand is required\nTry: tripline --help\n");
}

TEST(TheProgram, SuggestsTheCommandThatWasMeant) {
    const auto outcome = run({"config", "chekc"});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.err,
              "tripline config: no such command: chekc; did you mean check?\n"
              "Try: tripline config --help\n");
}

TEST(TheProgram, SuggestsTheOptionThatWasMeant) {
    const auto outcome = run({"config", "show", "--confg=station.toml"});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.err,
              "tripline config show: no such option: --confg; did you mean --config?\n"
              "Try: tripline config show --help\n");
}

TEST(TheProgram, TellsItsVersionAndItsHelp) {
    EXPECT_EQ(run({"--version"}).out.rfind("tripline ", 0), 0U);
    const auto help = run({"config", "check", "--help"});
    EXPECT_EQ(help.code, 0);
    EXPECT_NE(help.out.find("Tell all that is wrong with a file"), std::string::npos);
    EXPECT_NE(help.out.find("Exit status:\n  0  All went well.\n"), std::string::npos);
}

TEST(ConfigCheck, TellsAGoodFileFromABadOne) {
    const auto good = run({"config", "check", "config/tripline.toml"});
    EXPECT_EQ(good.code, 0) << good.err;
    EXPECT_EQ(good.out, "config/tripline.toml: good\n");
    const auto bad = run({"config", "check", "testdata/fuzz/config/wrong.toml"});
    EXPECT_EQ(bad.code, 2);
    EXPECT_EQ(bad.out, "");
    EXPECT_NE(bad.err.find("testdata/fuzz/config/wrong.toml:3:8: line.ptt.kind: \"serail\" is not "
                           "one of its values"),
              std::string::npos)
        << bad.err;
}

TEST(ConfigShow, PrintsWhatTheFileAndTheCommandLineSay) {
    const auto shown = run({"config", "show", "-c", "config/examples/gpio-board.toml", "--set",
                            "gate.hold_ms=2000", "--set", "line.ptt.pin=5"});
    EXPECT_EQ(shown.code, 0) << shown.err;
    EXPECT_NE(shown.out.find("pin = 5                                 # --set:2:14\n"),
              std::string::npos)
        << shown.out;
    EXPECT_NE(shown.out.find("# config/examples/gpio-board.toml:"), std::string::npos);
}

TEST(ConfigShow, PrintsNothingWhenASettingIsWrong) {
    const auto shown = run({"config", "show", "--set", "gate.hold_ms=0"});
    EXPECT_EQ(shown.code, 2);
    EXPECT_EQ(shown.out, "");
    EXPECT_EQ(shown.err,
              "--set:1:14: gate.hold_ms: 0 is out of range; allowed: 100 to 10000 ms\n");
}

}  // namespace
}  // namespace tripline::cli
