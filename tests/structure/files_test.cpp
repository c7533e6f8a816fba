// The shape of the files.
#include "tests/structure/source_tree.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <regex>
#include <set>
#include <string>

namespace tripline::structure {
namespace {

const std::set<std::string> code{".h", ".cpp"};
const std::set<std::string> text{".h",    ".cpp", ".txt",  ".md",      ".toml", ".cmake",
                                 ".in",   ".sh",  ".json", ".service", ".rules", ".pml", ""};

void expect_no_line(const std::vector<SourceFile>& files, const std::regex& forbidden) {
    for (const auto& file : files) {
        for (std::size_t i = 0; i < file.lines.size(); ++i) {
            EXPECT_FALSE(std::regex_search(file.lines[i], forbidden))
                << file.path << ":" << i + 1 << ": " << file.lines[i];
        }
    }
}

TEST(TheFiles, AreShortByTheMedian) {
    std::vector<std::size_t> lengths;
    for (const auto& file : files_under({"dsp", "config", "daemon"}, code)) {
        lengths.push_back(file.lines.size());
    }
    const auto middle = lengths.begin() + static_cast<std::ptrdiff_t>(lengths.size() / 2);
    std::ranges::nth_element(lengths, middle);
    std::printf("%zu files of code, median %zu lines\n", lengths.size(), *middle);
    RecordProperty("median_lines", static_cast<int>(*middle));
    EXPECT_LT(*middle, 100U);
}

// A key of the wrong type would silently become its default.
TEST(TheFiles, ThatReadTomlNeverFallBackToAValue) {
    const std::regex reads_toml(R"(toml\+\+)");
    for (const auto& file : files_under({"config", "daemon"}, code)) {
        if (std::regex_search(file.text(), reads_toml)) {
            expect_no_line({file}, std::regex(R"(\bvalue_or\()"));
        }
    }
}

TEST(TheFiles, NameNoFolderOfTheMachineTheyWereWrittenOn) {
    const std::regex foreign(R"((^|[^A-Za-z0-9_.])/(home|root|Users|mnt)/[a-z])");
    auto files = files_under({""}, text);
    std::erase_if(files, [](const auto& file) { return file.path == "tests/structure/files_test.cpp"; });
    expect_no_line(files, foreign);
}

/// What git keeps at the top, each name once; empty where git does not tell.
std::set<std::string> kept_at_the_top() {
    std::set<std::string> names;
    std::FILE* listed = ::popen("git -C '" SOURCE_FOLDER "' ls-files 2> /dev/null", "r");
    std::array<char, 4096> line{};
    while (listed != nullptr && std::fgets(line.data(), line.size(), listed) != nullptr) {
        const std::string path = line.data();
        names.insert(path.substr(0, path.find_first_of("/\n")));
    }
    if (listed != nullptr) ::pclose(listed);
    return names;
}

TEST(TheFiles, AtTheTopAreTheAgreedOnesAlone) {
    const std::set<std::string> agreed{"CMakeLists.txt", "README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "bootstrap", "daemon",
                                       "dsp",            "config",    "tests",         "testdata",     "systemd"};
    const auto kept = kept_at_the_top();
    if (kept.empty()) GTEST_SKIP() << "no git, or none of its folders";
    for (const auto& name : kept) EXPECT_TRUE(name.starts_with('.') || agreed.contains(name)) << name;
}

TEST(TheFiles, StateTheVersionOnce) {
    const std::regex version(R"(\bproject\(tripline VERSION [0-9.]+)");
    std::size_t found = 0;
    for (const auto& file : files_under({""}, {".txt", ".h", ".cpp", ".in", ".cmake"})) {
        if (std::regex_search(file.text(), version)) ++found;
        if (file.path != "CMakeLists.txt") {
            EXPECT_EQ(file.text().find("\"" PROJECT_VERSION "\""), std::string::npos) << file.path;
        }
    }
    EXPECT_EQ(found, 1U);
}

}  // namespace
}  // namespace tripline::structure
