// Whether the service's thread stood still a moment ago.
#include "daemon/service/standstill.h"

#include <gtest/gtest.h>

namespace tripline::service {
namespace {

using std::chrono_literals::operator""ms;

TEST(AStandstill, IsSeenForASecondAfterATurnThatTookTooLong) {
    Standstill standstill;
    standstill.turn(90000ms);   // the first: nothing is known of before
    EXPECT_FALSE(standstill.just_ended());
    standstill.turn(90400ms);
    EXPECT_FALSE(standstill.just_ended());
    standstill.turn(91000ms);
    EXPECT_TRUE(standstill.just_ended());
    standstill.turn(91499ms);
    standstill.turn(91980ms);
    EXPECT_TRUE(standstill.just_ended());
    standstill.turn(92000ms);
    EXPECT_FALSE(standstill.just_ended());
}

}  // namespace
}  // namespace tripline::service
