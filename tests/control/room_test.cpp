// Who makes room for a newcomer at the control socket.
#include "daemon/control/room.h"

#include <gtest/gtest.h>

namespace tripline::control {
namespace {

using std::chrono_literals::operator""s;

constexpr Duration now = 100s;

TEST(WhoMakesRoom, IsFirstWhoNeverSpokeThenTheMostSilent) {
    EXPECT_EQ(who_goes({{.spoke = true, .heard = 1s}, {.heard = 50s}, {.heard = 40s}}, now), 2U);
    EXPECT_EQ(who_goes({{.spoke = true, .heard = 9s}, {.spoke = true, .heard = 5s}, {.spoke = true, .heard = 7s}}, now), 1U);
}

TEST(WhoMakesRoom, IsNotWhoHasJustComeWhileAnyoneHasHadHisAnswers) {
    EXPECT_EQ(who_goes({{.heard = now - time_to_speak}, {.spoke = true, .heard = now}}, now), 1U);
    EXPECT_EQ(who_goes({{.heard = now - 50ms}, {.heard = now - 90ms}, {.heard = now}}, now), 1U) << "of them, who came first";
}

TEST(WhoMakesRoom, IsLastWhoWaitsForTheAnswerToASafe) {
    const Guest waits{.spoke = true, .waits = true, .heard = 2s};
    const Guest waits_for_safe{.spoke = true, .waits = true, .waits_for_safe = true, .heard = 1s};
    EXPECT_EQ(who_goes({waits_for_safe, {.spoke = true, .heard = now}, waits, {.heard = now}}, now), 1U);
    EXPECT_EQ(who_goes({waits_for_safe, waits, {.heard = now}, {.heard = now}}, now), 1U);
    EXPECT_EQ(who_goes({{.heard = now}, waits_for_safe, waits_for_safe, {.heard = now}}, now), 1U) << "half of all: others must get to say theirs";
}

}  // namespace
}  // namespace tripline::control
