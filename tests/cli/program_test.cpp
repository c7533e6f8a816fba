// The command line of the operator's tool.
#include "tests/cli/run.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>

#include <sys/stat.h>
#include <unistd.h>

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
    EXPECT_NE(help.out.find("Exit status:\n  0  The settings are good.\n"), std::string::npos);
}

TEST(TheHelpCommand, SaysWhatTheHelpOptionSays) {
    EXPECT_EQ(run({"help"}).out, run({"--help"}).out);
    EXPECT_EQ(run({"help", "log"}).out, run({"log", "--help"}).out);
    EXPECT_EQ(run({"help", "config", "check"}).out, run({"config", "check", "--help"}).out);
    EXPECT_EQ(run({"help", "config", "check"}).code, 0);
    EXPECT_NE(run({"--help"}).out.find("  help "), std::string::npos);
}

TEST(TheHelpCommand, SuggestsTheCommandThatWasMeant) {
    const auto outcome = run({"help", "repaly"});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.err, "tripline: no such command: repaly; did you mean replay?\nTry: tripline --help\n");
}

TEST(Devices, EndsWithStatusTwoAndAReasonWhereThereIsNone) {
    const auto outcome = run({"devices"});
    const bool none = outcome.out.empty();   // as the machine of the test has it
    EXPECT_EQ(outcome.code, none ? 2 : 0);
    EXPECT_EQ(none, outcome.err.find("No sound device is present, or you may open none.") != std::string::npos) << outcome.err;
    EXPECT_NE(run({"devices", "--help"}).out.find("  2  No sound device is present"), std::string::npos);
}

TEST(ConfigCheck, OfAFileFullOfUnknownKeysTellsFiftyAndHowManyMoreThereAre) {
    const auto file = std::filesystem::path(testing::TempDir()) / ("unknown-" + std::to_string(::getpid()) + ".toml");
    {
        std::ofstream text(file);
        for (int i = 0; i < 20000; ++i) text << "k" << i << " = 1\n";
    }
    const auto outcome = run({"config", "check", file.string()});
    std::filesystem::remove(file);
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(std::count(outcome.err.begin(), outcome.err.end(), '\n'), 51);
    EXPECT_TRUE(outcome.err.ends_with(":50:1: k49: no such key\n19950 more problems are not told here\n")) << outcome.err;
}

struct ASettingsFile : testing::Test {
    std::string folder = (std::filesystem::temp_directory_path() / ("tripline-named-" + std::to_string(::getpid()))).string();
    std::string path = folder + "/station.toml";

    void SetUp() override { std::filesystem::create_directory(folder); }
    void TearDown() override { std::filesystem::remove_all(folder); }
    /// What a command says with these settings.
    Outcome with(const std::string& settings, const std::string& command) const {
        std::ofstream(path) << settings;
        return run({command, "--config", path});
    }
};

TEST_F(ASettingsFile, TellsTheSocketOfARunningStation) {
    const std::string socket = folder + "/desk.sock";
    for (const char* command : {"status", "safe", "watch", "capture"}) {
        const auto outcome = with("[control]\nsocket = \"" + socket + "\"\n", command);
        EXPECT_EQ(outcome.code, 2);
        EXPECT_NE(outcome.err.find(socket + ": No such file or directory; is the daemon running"), std::string::npos) << outcome.err;
    }
    EXPECT_NE(with("[control]\nsocket = \"none\"\n", "status").err.find("control.socket is none, so the station has no socket"), std::string::npos);
    EXPECT_NE(with("[control]\nsokcet = \"none\"\n", "status").err.find("has mistakes; see tripline config check"), std::string::npos);
    EXPECT_EQ(run({"status", "--config", path, "--socket", socket}).code, 2);
}

TEST_F(ASettingsFile, SendsTheOperatorToTheTransmitterWhereNobodyAnswersWhatMovesTheKey) {
    const auto told = [&](const char* command) {
        const std::string text = with("[control]\nsocket = \"" + folder + "/desk.sock\"\n", command).err;
        return text.find("whether the key is open is not known: look at the transmitter") != std::string::npos;
    };
    for (const char* command : {"safe", "unkey", "key"}) EXPECT_TRUE(told(command)) << command;
    for (const char* command : {"arm", "save", "status"}) EXPECT_FALSE(told(command)) << command;
}

TEST_F(ASettingsFile, TellsTheLogOfAStation) {
    std::ofstream(folder + "/overs.jsonl")
        << R"({"over":12,"began":"2026-11-25T17:03:12.345Z","length_s":4.213,"keyed_by":"voice","ended_by":"silence","peak_dbfs":-18.2})" << '\n';
    const auto outcome = with("[logbook]\nfile = \"" + folder + "/overs.jsonl\"\n", "log");
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_NE(outcome.out.find("    12  2026-11-25T17:03:12.345Z      4.2 s  voice"), std::string::npos) << outcome.out;
    EXPECT_NE(with("[logbook]\nfile = \"none\"\n", "log").err.find("logbook.file is none"), std::string::npos);
}

TEST_F(ASettingsFile, TellsEachOverOnceWhileTheLogTurnsOver) {
    std::ofstream(folder + "/overs.jsonl")
        << R"({"over":12,"began":"2026-11-25T17:03:12.345Z","length_s":4.213,"keyed_by":"voice","ended_by":"silence","peak_dbfs":-18.2})" << '\n';
    std::filesystem::create_hard_link(folder + "/overs.jsonl", folder + "/overs.jsonl.1");
    const std::string told = with("[logbook]\nfile = \"" + folder + "/overs.jsonl\"\n", "log").out;
    const auto first = told.find("2026-11-25T17:03:12.345Z");
    ASSERT_NE(first, std::string::npos) << told;
    EXPECT_EQ(told.find("2026-11-25T17:03:12.345Z", first + 1), std::string::npos) << told;
}

TEST(ASettingsFileThatIsNotThere, IsToldOnce) {
    for (const char* command : {"log", "status"}) {
        const auto outcome = run({command, "--config", "nowhere.toml"});
        EXPECT_EQ(outcome.code, 2);
        EXPECT_EQ(outcome.err, "tripline " + std::string(command) + ": nowhere.toml: can't be read: No such file or directory\n");
    }
}

TEST(ARecordingThatIsNotThere, IsNotSaidToPlay) {
    const auto outcome = run({"run", "--from", "nowhere.flac"});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.out, "");
    EXPECT_NE(outcome.err.find("nowhere.flac: there is no such file"), std::string::npos) << outcome.err;
}

TEST(TheLog, IsNotReadFromADeviceWithoutAnEnd) {
    const auto outcome = run({"log", "--file", "/dev/zero"});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_NE(outcome.err.find("/dev/zero: cannot be read: it is not a regular file"), std::string::npos) << outcome.err;
    const auto pipe = std::filesystem::path(testing::TempDir()) / ("pipe-" + std::to_string(::getpid()));
    ASSERT_EQ(::mkfifo(pipe.c_str(), 0600), 0);
    EXPECT_EQ(run({"log", "--file", pipe.string()}).code, 2) << "nobody writes to it, and it is not waited for";
    std::filesystem::remove(pipe);
}

TEST(TheLog, TellsWhyItCannotBeReadAndWhatIsNone) {
    const auto none = run({"log", "--file", "no/such/log"});
    EXPECT_EQ(none.code, 2);
    EXPECT_NE(none.err.find("no/such/log: cannot be read: No such file or directory"), std::string::npos) << none.err;
    const auto ring = std::filesystem::path(testing::TempDir()) / ("ring-" + std::to_string(::getpid()));
    std::filesystem::create_symlink(ring, ring);
    const auto unseen = run({"log", "--file", ring.string()});
    EXPECT_NE(unseen.err.find("cannot be read: Too many levels of symbolic links"), std::string::npos) << unseen.err;
    std::filesystem::remove(ring);
    const auto other = run({"log", "--file", "testdata/prove.toml"});
    EXPECT_EQ(other.code, 2);
    EXPECT_NE(other.err.find("testdata/prove.toml: is no log of a station"), std::string::npos) << other.err;
}

TEST(Log, RefusesALastThatIsNoCount) {
    for (const char* last : {"0", "-3", "few"}) {
        const auto outcome = run({"log", "--file", "no/such/log", "--last", last});
        EXPECT_EQ(outcome.code, 2);
        EXPECT_NE(outcome.err.find("--last"), std::string::npos) << outcome.err;
    }
}

TEST(ConfigCheck, TellsAGoodFileFromABadOne) {
    const auto good = run({"config", "check", "config/tripline.toml"});
    EXPECT_EQ(good.code, 0) << good.err;
    EXPECT_EQ(good.out, "config/tripline.toml: good; no wire is keyed: line.ptt.kind is \"none\"\n");
    const auto bad = run({"config", "check", "testdata/fuzz/config/wrong.toml"});
    EXPECT_EQ(bad.code, 2);
    EXPECT_EQ(bad.out, "");
    EXPECT_NE(bad.err.find("testdata/fuzz/config/wrong.toml:3:8: line.ptt.kind: \"serail\" is not "
                           "one of its values"),
              std::string::npos)
        << bad.err;
}

TEST(ConfigCheck, TakesTheSameOptionsAsEveryCommand) {
    const auto over = run({"config", "check", "-c", "config/tripline.toml", "--set", "gate.hold_ms=5"});
    EXPECT_EQ(over.code, 2);
    EXPECT_EQ(over.err, "--set:1:14: gate.hold_ms: 5 is out of range; allowed: 100 to 10000 ms\n");
    EXPECT_EQ(run({"config", "check", "-c", "config/tripline.toml"}).out, "config/tripline.toml: good; no wire is keyed: line.ptt.kind is \"none\"\n");
    EXPECT_EQ(run({"config", "check"}).code, 2);
    EXPECT_EQ(run({"config", "check"}).err, "tripline config check: name a file, or a setting with --set\n");
    EXPECT_EQ(run({"config", "check", "config/tripline.toml", "-c", "config/tripline.toml"}).code, 2);
}

TEST(ConfigShow, TakesAFileWithoutTheOptionsName) {
    const auto named = run({"config", "show", "--config", "config/examples/gpio-board.toml"});
    EXPECT_EQ(named.code, 0) << named.err;
    EXPECT_EQ(run({"config", "show", "config/examples/gpio-board.toml"}).out, named.out);
}

TEST(Replay, RefusesALimitThatIsNoNumberInFewWords) {
    const auto refused = run({"replay", "a.wav", "--max-missed", "x"});
    EXPECT_EQ(refused.code, 2);
    EXPECT_EQ(refused.err, "tripline replay: --max-missed: x is not a number of 0 or more\nTry: tripline replay --help\n");
}

TEST(TheHelpOfLines, TellsItsOwnExitStatus) {
    const auto help = run({"lines", "--help"});
    EXPECT_NE(help.out.find("1  The line was switched, and not seen to move."), std::string::npos) << help.out;
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
