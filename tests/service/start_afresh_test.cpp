#include "daemon/service/start_afresh.h"

#include <gtest/gtest.h>

#include <cstdlib>

namespace tripline::service {
namespace {

using station::Mode;

TEST(AStartAfresh, KeepsTheOperatorsModeOnce) {
    EXPECT_EQ(take_kept_mode(Mode::armed), Mode::armed);
    ::setenv("TRIPLINE_KEPT_MODE", "safe", 1);
    EXPECT_EQ(take_kept_mode(Mode::armed), Mode::safe);
    EXPECT_EQ(take_kept_mode(Mode::armed), Mode::armed);
}

TEST(AStartAfresh, KnowsHowOftenTheSoundWasOpenedOnce) {
    EXPECT_EQ(take_kept_opened(), 0U);
    ::setenv("TRIPLINE_KEPT_OPENED", "7", 1);
    EXPECT_EQ(take_kept_opened(), 7U);
    EXPECT_EQ(take_kept_opened(), 0U);
}

TEST(AStartAfresh, IsSafeWhenTheModeIsNoPlainOne) {
    ::setenv("TRIPLINE_KEPT_MODE", "keyed", 1);
    EXPECT_EQ(take_kept_mode(Mode::armed), Mode::safe);
}

}  // namespace
}  // namespace tripline::service
