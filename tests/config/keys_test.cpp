#include "config/keys.h"
#include "config/load.h"
#include "config/write.h"

#include <gtest/gtest.h>

namespace tripline::config {
namespace {

TEST(TheShippedFile, LoadsToTheDefaultsWithoutAWord) {
    const auto loaded = load_text(shipped_file(), "tripline.toml");
    for (const auto& problem : loaded.problems) ADD_FAILURE() << to_string(problem);
    EXPECT_TRUE(differences(loaded.settings, Settings{}).empty());
    EXPECT_EQ(loaded.origins.size(), all_keys().size());
}

}  // namespace
}  // namespace tripline::config
