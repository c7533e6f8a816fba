// Any bytes, and any valid file. Each run prints its seed; TRIPLINE_SEED repeats it.
#include "daemon/station/engine.h"
#include "tests/config/support.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <random>

namespace tripline::config {
namespace {

class RandomConfigurations : public ::testing::Test {
protected:
    RandomConfigurations() {
        const char* given = std::getenv("TRIPLINE_SEED");
        const auto seed = given ? std::strtoul(given, nullptr, 10) : std::random_device{}();
        std::printf("seed %lu\n", static_cast<unsigned long>(seed));
        random_.seed(seed);
    }
    std::size_t below(std::size_t n) {
        return std::uniform_int_distribution<std::size_t>(0, n - 1)(random_);
    }
    double between(double least, double most) {
        return std::uniform_real_distribution<double>(least, most)(random_);
    }
    Value valid_value(const Key& key) {
        switch (key.type) {
            case Type::boolean: return below(2) == 0;
            case Type::whole:
                return static_cast<std::int64_t>(std::floor(between(key.range.least, key.range.most)));
            case Type::number: return between(key.range.least, key.range.most);
            case Type::text: return "/dev/shm/device " + std::to_string(below(1000));
            case Type::choice: return key.choices[below(key.choices.size())];
            case Type::pin: return static_cast<std::int64_t>(1 + below(8));
        }
        return false;
    }
    std::string valid_file() {
        std::string text;
        for (const auto& key : all_keys()) {
            if (below(3) == 0) text += setting(key, valid_value(key));
        }
        return text;
    }

    std::mt19937_64 random_;
};

TEST_F(RandomConfigurations, OfAnyBytesGiveProblemsOrSettingsAndNothingElse) {
    for (int run = 0; run < 2000; ++run) {
        std::string bytes(below(400), '\0');
        for (char& byte : bytes) byte = static_cast<char>(below(256));
        const auto loaded = load_text(bytes, "noise");
        for (const auto& problem : loaded.problems) EXPECT_NE(problem.what, "");
    }
}

TEST_F(RandomConfigurations, WithOneByteChangedGiveProblemsOrSettingsAndNothingElse) {
    for (int run = 0; run < 500; ++run) {
        auto text = valid_file();
        if (text.empty()) continue;
        text[below(text.size())] = static_cast<char>(below(256));
        const auto loaded = load_text(text, "changed");
        for (const auto& problem : loaded.problems) EXPECT_NE(problem.at.source, "default");
    }
}

TEST_F(RandomConfigurations, ThatAreValidSurviveBeingShownAndLoadedAgain) {
    int good = 0;
    for (int run = 0; run < 500; ++run) {
        const auto loaded = load_text(valid_file(), "random");
        good += loaded.good() ? 1 : 0;
        const auto again = load_text(show(loaded), "shown");
        EXPECT_EQ(changed_keys(loaded.settings, again.settings), "") << show(loaded);
    }
    std::printf("%d of 500 were good\n", good);
}

TEST_F(RandomConfigurations, ThatAreGoodAreTakenByTheEngine) {
    int built = 0;
    for (int run = 0; run < 3000 && built < 50; ++run) {
        const auto loaded = load_text(valid_file(), "random");
        if (!loaded.good()) continue;
        const auto& settings = loaded.settings;
        EXPECT_NO_THROW(station::Engine(settings.station, settings.audio.rate)) << show(loaded);
        ++built;
    }
    EXPECT_GT(built, 0);
}

TEST_F(RandomConfigurations, AtTheEndsOfEveryRangeAreTakenByTheEngineOrRefused) {
    for (const auto& key : all_keys()) {
        if (key.type != Type::number && key.type != Type::whole) continue;
        for (const double end : {key.range.least, key.range.most}) {
            const auto value = key.type == Type::whole ? Value(static_cast<std::int64_t>(end)) : Value(end);
            const auto loaded = load_text(setting(key, value), "end");
            if (!loaded.good()) continue;
            EXPECT_NO_THROW(station::Engine(loaded.settings.station, loaded.settings.audio.rate))
                << setting(key, value);
        }
    }
}

}  // namespace
}  // namespace tripline::config
