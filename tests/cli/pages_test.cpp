// Manual pages and completions: complete, and good in the eyes of the programs that read them.
#include "config/keys.h"
#include "daemon/cli/completions.h"
#include "daemon/cli/daemon_program.h"
#include "daemon/cli/manual_pages.h"
#include "daemon/cli/program.h"
#include "daemon/cli/roff.h"

#include <gtest/gtest.h>
#include <stdlib.h>
#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>

namespace tripline::cli {
namespace {

struct Ran {
    int code = -1;
    std::string said;
};

/// Runs a shell command; what it says goes to both streams.
Ran shell(const std::string& command) {
    Ran ran;
    FILE* pipe = ::popen(("(" + command + ") 2>&1").c_str(), "r");
    if (!pipe) return ran;
    std::array<char, 4096> part{};
    while (const auto n = std::fread(part.data(), 1, part.size(), pipe)) ran.said.append(part.data(), n);
    const int status = ::pclose(pipe);
    if (WIFEXITED(status)) ran.code = WEXITSTATUS(status);
    return ran;
}

bool installed(const std::string& program) {
    return shell("command -v " + program + " >/dev/null").code == 0;
}

class Pages : public ::testing::Test {
protected:
    void SetUp() override {
        auto pattern = (std::filesystem::temp_directory_path() / "tripline-pages-XXXXXX").string();
        ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
        folder_ = pattern;
    }
    void TearDown() override { std::filesystem::remove_all(folder_); }

    std::string write(const std::string& name, const std::string& text) {
        const auto file = folder_ / name;
        std::ofstream(file, std::ios::binary) << text;
        return file.string();
    }
    /// Every page, written to a file.
    std::vector<std::string> page_files() {
        return {write("tripline.1", tool_page(tool_)), write("triplined.8", daemon_page(daemon_)),
                write("tripline.toml.5", settings_page())};
    }

    ExitCode outcome_ = ExitCode::good;
    CommandOutline tool_ = outline_of(*make_program(outcome_));
    DaemonOptions options_;
    CommandOutline daemon_ = outline_of(*make_daemon_program(options_));
    Programs programs_{tool_, daemon_};
    std::filesystem::path folder_;
};

TEST_F(Pages, NameEveryCommandAndOptionOfTheProgram) {
    const auto page = tool_page(tool_);
    for (const auto& command : doing(tool_)) {
        EXPECT_NE(page.find(".SS \"" + roff_escaped(command.path)), std::string::npos) << command.path;
        for (const auto& option : command.options) {
            EXPECT_NE(page.find(roff_escaped(option.names.back())), std::string::npos);
        }
    }
}

TEST_F(Pages, NameEveryOptionOfTheDaemonAndTheSignalsItTakes) {
    const auto page = daemon_page(daemon_);
    for (const auto& option : daemon_.options) {
        EXPECT_NE(page.find(roff_escaped(option.names.back())), std::string::npos);
    }
    for (const auto* signal : {"SIGTERM", "SIGINT", "SIGHUP", "SIGUSR1", "SIGUSR2"}) {
        EXPECT_NE(page.find(signal), std::string::npos) << signal;
    }
}

TEST_F(Pages, AreAllPacked) {
    std::ifstream in(SOURCE_FOLDER "/daemon/packaging/generated.cmake");
    const std::string rules{std::istreambuf_iterator<char>(in), {}};
    for (const auto& file : page_files()) {
        EXPECT_NE(rules.find(std::filesystem::path(file).filename().string()), std::string::npos) << file;
    }
}

TEST_F(Pages, ExplainEveryKeyWithItsDefaultAndWhatIsAllowed) {
    const auto page = settings_page();
    for (const auto& key : config::all_keys()) {
        const auto name = std::string(config::leaf_of(key.path));
        EXPECT_NE(page.find("\\fB" + roff_escaped(name) + "\\fR"), std::string::npos) << key.path;
    }
    EXPECT_NE(page.find("\nAllowed: \\-90 to \\-3 dBFS\n"), std::string::npos) << page;
}

TEST_F(Pages, GiveTheManProgramNothingToWarnOf) {
    if (!installed("man")) GTEST_SKIP() << "man is not installed";
    for (const auto& file : page_files()) {
        const auto ran = shell("LC_ALL=C.UTF-8 MANROFFSEQ= MANWIDTH=80 man --warnings -l '" + file +
                               "' >/dev/null");
        EXPECT_EQ(ran.code, 0);
        EXPECT_EQ(ran.said, "");
    }
}

TEST_F(Pages, PassMandocsLintButForTheDateThatABuildCannotKnow) {
    if (!installed("mandoc")) GTEST_SKIP() << "mandoc is not installed";
    for (const auto& file : page_files()) {
        EXPECT_EQ(shell("mandoc -Tlint -W style '" + file + "' | grep -v 'missing date'").said, "");
    }
}

TEST_F(Pages, CompletionsAreGoodSyntaxForTheirShells) {
    const std::vector<std::pair<std::string, std::string>> completions{
        {"bash", bash_completion(programs_)},
        {"zsh", zsh_completion(programs_)},
        {"fish", fish_completion(programs_)}};
    for (const auto& [name, text] : completions) {
        if (!installed(name)) continue;
        const auto ran = shell(name + " -n '" + write(name, text) + "'");
        EXPECT_EQ(ran.code, 0) << name;
        EXPECT_EQ(ran.said, "") << name;
    }
}

/// What bash offers after these words.
std::string offered(const std::string& file, const std::string& words) {
    return shell("bash -c 'source " + file + "; COMP_WORDS=(" + words +
                 "); COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _tripline_complete; "
                 "echo ${COMPREPLY[@]}'")
        .said;
}

TEST_F(Pages, BashOffersWhatFitsTheWordsSoFar) {
    const auto file = write("tripline.bash", bash_completion(programs_));
    EXPECT_EQ(offered(file, "tripline conf"), "config\n");
    EXPECT_EQ(offered(file, "tripline config ch"), "check\n");
    EXPECT_EQ(offered(file, "tripline config show --conf"), "--config\n");
    EXPECT_EQ(offered(file, "tripline config show --set gate.h"),
              "gate.hysteresis_db= gate.hold_ms=\n");
    EXPECT_EQ(offered(file, "tripline config check config/tripl"), "config/tripline.toml\n");
}

TEST_F(Pages, FishOffersWhatFitsTheWordsSoFar) {
    if (!installed("fish")) GTEST_SKIP() << "fish is not installed";
    const auto file = write("tripline.fish", fish_completion(programs_));
    const auto ran = shell("HOME='" + folder_.string() + "' fish -c 'source " + file +
                           "; complete -C \"tripline config show --set gate.ho\"'");
    EXPECT_EQ(ran.said.substr(0, ran.said.find('\t')), "gate.hold_ms=");
}

TEST(Roff, KeepsBackslashesDashesAndLeadingDots) {
    EXPECT_EQ(roff_escaped(".a\\b -c\n'd"), "\\&.a\\eb \\-c\n\\&'d");
}

}  // namespace
}  // namespace tripline::cli
