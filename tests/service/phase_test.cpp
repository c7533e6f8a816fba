#include "daemon/service/phase.h"

#include <gtest/gtest.h>

namespace tripline::service {
namespace {

TEST(ThePhase, LetsTheKeyThroughOnlyWhileRunning) {
    for (const Phase phase : all_phases) EXPECT_EQ(may_key(phase), phase == Phase::running) << name(phase);
}

TEST(ThePhase, IsRunningOnlyAfterHealth) {
    for (const Phase phase : all_phases) {
        for (const Happening happening : all_happenings) {
            const bool runs = next(phase, happening) == Phase::running;
            EXPECT_EQ(runs, happening == Happening::healthy && phase != Phase::stopping) << name(phase);
        }
    }
}

TEST(ThePhase, NeverLeavesStopping) {
    for (const Happening happening : all_happenings) EXPECT_EQ(next(Phase::stopping, happening), Phase::stopping);
}

TEST(ThePhase, StopsFromEverywhere) {
    for (const Phase phase : all_phases) EXPECT_EQ(next(phase, Happening::stop), Phase::stopping);
}

TEST(ThePhase, StallsOnlyWhenItRan) {
    for (const Phase phase : all_phases) {
        const bool stalls = next(phase, Happening::trouble) == Phase::stalled;
        EXPECT_EQ(stalls, phase == Phase::running || phase == Phase::stalled) << name(phase);
    }
}

}  // namespace
}  // namespace tripline::service
