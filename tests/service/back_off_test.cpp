#include "daemon/service/back_off.h"

#include <gtest/gtest.h>

namespace tripline::service {
namespace {

using std::chrono_literals::operator""s;

TEST(TheBackOff, DoublesUpToItsLimit) {
    BackOff wait(1s, 5s);
    EXPECT_EQ(wait.failed(), 1s);
    EXPECT_EQ(wait.failed(), 2s);
    EXPECT_EQ(wait.failed(), 4s);
    EXPECT_EQ(wait.failed(), 5s);
    EXPECT_EQ(wait.failed(), 5s);
}

TEST(TheBackOff, StartsAnewAfterSuccess) {
    BackOff wait(1s, 5s);
    wait.failed();
    wait.failed();
    wait.worked();
    EXPECT_EQ(wait.failed(), 1s);
}

}  // namespace
}  // namespace tripline::service
