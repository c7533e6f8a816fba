// Three places bound the times of the lines: the settings file, the station logic, the guard.
#include "config/keys.h"
#include "daemon/guard/plan.h"
#include "daemon/station/check.h"

#include <gtest/gtest.h>

#include <stdexcept>

namespace tripline::service {
namespace {

config::Settings with(const config::Key& key, double ms) {
    config::Settings settings;
    key.write(settings, config::Value(ms));
    return settings;
}

bool station_takes(const config::Settings& settings) {
    try {
        station::check(settings.station);
    } catch (const std::invalid_argument&) {
        return false;
    }
    return true;
}

bool guard_takes(const config::Settings& settings) {
    guard::Plan plan;
    plan.steps = settings.station.sequence;
    try {
        guard::check(plan);
    } catch (const std::invalid_argument&) {
        return false;
    }
    return true;
}

TEST(TheTimesOfTheLines, HaveTheSameBoundInTheSettingsFileTheStationAndTheGuard) {
    int seen = 0;
    for (const config::Key& key : config::all_keys()) {
        const std::string_view leaf = config::leaf_of(key.path);
        if (leaf != "lead_ms" && leaf != "lag_ms" && leaf != "settle_ms") continue;
        ++seen;
        for (const double ms : {key.range.least, key.range.most, key.range.most + 1}) {
            const bool within = ms <= key.range.most;
            EXPECT_EQ(station_takes(with(key, ms)), within) << key.path << " of " << ms << " ms";
            EXPECT_EQ(guard_takes(with(key, ms)), within) << key.path << " of " << ms << " ms";
        }
    }
    EXPECT_EQ(seen, 7);
}

}  // namespace
}  // namespace tripline::service
