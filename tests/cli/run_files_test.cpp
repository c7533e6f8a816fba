// `tripline run` refuses at start what it could not do, and what would destroy a file.
#include "daemon/lines/file_log.h"
#include "tests/cli/run.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>

#include <unistd.h>

namespace tripline::cli {
namespace {

namespace fs = std::filesystem;

struct ARun : testing::Test {
    fs::path folder = fs::temp_directory_path() / ("tripline-run-files-" + std::to_string(::getpid()));
    std::string recording = (folder / "evening.flac").string();
    std::string lines = (folder / "lines").string();

    void SetUp() override {
        fs::create_directory(folder);
        fs::copy_file("testdata/evening.flac", recording);
    }
    void TearDown() override { fs::remove_all(folder); }

    static void expect_refused(std::vector<std::string> words, const std::string& what) {
        words.insert(words.begin(), "run");
        const Outcome outcome = run(words);
        EXPECT_EQ(outcome.code, 2);
        EXPECT_NE(outcome.err.find(what), std::string::npos) << outcome.err;
    }
};

TEST_F(ARun, DoesNotOverwriteTheRecordingItPlays) {
    fs::remove("tripline-lines.log");  // of a demo run here before
    const auto size = fs::file_size(recording);
    fs::create_symlink(recording, folder / "link");
    const std::string detour = (folder / ".." / folder.filename() / "evening.flac").string();
    for (const std::string& same : {recording, detour, (folder / "link").string()}) {
        for (const char* option : {"--record", "--events", "--lines"}) {
            expect_refused({"--from", recording, option, same, "--set", "gate.hold_ms=1500"}, same + ": ");
            EXPECT_EQ(fs::file_size(recording), size);
        }
    }
    EXPECT_FALSE(fs::exists("tripline-lines.log"));
}

TEST_F(ARun, DoesNotOverwriteItLaterEither) {
    const std::string second = (folder / "a.2.wav").string();
    fs::copy_file(recording, second);
    expect_refused({"--from", second, "--lines", lines, "--record", (folder / "a.wav").string()},
                   "a.wav: would overwrite a file that is read");
}

TEST_F(ARun, OfAStationWithoutReceiverTakesARecordingOfOneChannel) {
    const std::string mono = (folder / "mono.wav").string();
    constexpr char header[] = "RIFF\x24\x10\0\0WAVEfmt \x10\0\0\0\1\0\1\0\x40\x1f\0\0\x80\x3e\0\0\2\0\x10\0data\0\x10\0";  // and a last 0
    std::ofstream(mono, std::ios::binary) << std::string(header, sizeof header) << std::string(4096, '\0');  // 8 kHz, 16 bits
    expect_refused({"--from", mono, "--lines", lines}, "or say --no-receiver (run: --set audio.receiver_channel=0)");
    expect_refused({"--from", mono, "--lines", folder.string(), "--set", "audio.receiver_channel=0"},
                   folder.string() + ": Is a directory");  // looked at when the recording was found good
}

TEST_F(ARun, DoesNotOverwriteItsSettings) {
    const std::string settings = (folder / "tripline.toml").string();
    std::ofstream(settings) << "[gate]\nhold_ms = 1500\n";
    fs::create_hard_link(settings, folder / "other name");
    for (const char* option : {"--events", "--lines", "--record"}) {
        expect_refused({"--config", settings, "--from", recording, option, (folder / "other name").string()},
                       "other name: ");
    }
}

TEST_F(ARun, DoesNotWriteTwoThingsIntoOneFile) {
    const std::string both = (folder / "both").string();
    expect_refused({"--from", recording, "--lines", both, "--events", both}, "both: is named twice");
}

TEST_F(ARun, RefusesARecordingThatIsNotThereOrNoSound) {
    expect_refused({"--from", "missing.flac", "--lines", lines}, "missing.flac: there is no such file");
    std::ofstream(folder / "text") << "CQ";
    expect_refused({"--from", (folder / "text").string(), "--lines", lines}, "text: is not readable as sound");
}

TEST_F(ARun, RefusesAFileItCannotWrite) {
    for (const char* option : {"--record", "--events", "--lines"}) {
        expect_refused({"--from", recording, option, "/nosuch/x"},
                       "/nosuch/x: cannot be written: its folder: No such file or directory");
    }
    expect_refused({"--from", recording, "--lines", folder.string()}, ": Is a directory");
}

TEST_F(ARun, RefusesToLogTheLinesIntoAFileOfSomethingElse) {
    const std::string notes = (folder / "notes.txt").string();
    std::ofstream(notes) << "The antenna relay sticks in the cold.\n";
    expect_refused({"--from", recording, "--lines", notes}, "notes.txt: it holds something else than a log of lines: choose another name");
    EXPECT_EQ(fs::file_size(notes), 38U);
    expect_refused({"--from", recording, "--lines", "/dev/null"}, "/dev/null: it is neither a file nor a pipe");
}

TEST_F(ARun, GoesOnWithALogOfLines) {
    std::ofstream(lines) << "5133.402117551 2026-11-25T13:30:00.123456Z ptt active\n";
    EXPECT_EQ(lines::unfit_for_log(lines), "");
    std::ofstream(lines, std::ios::trunc).flush();
    EXPECT_EQ(lines::unfit_for_log(lines), "");
    EXPECT_EQ(lines::unfit_for_log((folder / "none").string()), "");
}

}  // namespace
}  // namespace tripline::cli
