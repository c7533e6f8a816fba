// The manual and the keys agree.
#include "config/reference.h"
#include "tests/config/support.h"

#include <gtest/gtest.h>

#include <fstream>
#include <regex>
#include <sstream>

namespace tripline::config {
namespace {

std::string content_of(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    EXPECT_TRUE(file.is_open()) << path << " is missing";
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

std::vector<std::filesystem::path> chapters() {
    std::vector<std::filesystem::path> all{"README.md"};
    for (const auto& entry : std::filesystem::directory_iterator("daemon/manual")) {
        if (entry.path().extension() == ".md") all.push_back(entry.path());
    }
    return all;
}

std::vector<std::string> all_matches(const std::string& text, const std::string& pattern) {
    const std::regex wanted(pattern);
    std::vector<std::string> found;
    for (std::sregex_iterator match(text.begin(), text.end(), wanted), end; match != end; ++match) {
        found.push_back((*match)[1]);
    }
    return found;
}

TEST(TheManual, ListsTheKeysAsTheTableHasThem) {
    EXPECT_EQ(content_of("daemon/manual/configuration-keys.md"), key_reference())
        << "take the built one: pages/configuration-keys.md in the build folder";
}

TEST(TheManual, ShowsOnlySettingsThatAreGood) {
    for (const auto& chapter : chapters()) {
        for (const auto& block : all_matches(content_of(chapter), "```toml\\n([^`]*)```")) {
            const auto loaded = load_text(block, chapter.string());
            EXPECT_TRUE(loaded.good()) << messages(loaded) << block;
        }
    }
}

TEST(TheManual, NamesNoKeyThatDoesNotExist) {
    for (const auto& chapter : chapters()) {
        for (const auto& name : all_matches(content_of(chapter), "`([a-z_]+(?:\\.[a-z_]+)+)`")) {
            const auto first = name.substr(0, name.find('.'));
            if (!is_table(first)) continue;
            EXPECT_TRUE(find_key(name) || is_table(name)) << chapter << ": " << name;
        }
    }
}

}  // namespace
}  // namespace tripline::config
