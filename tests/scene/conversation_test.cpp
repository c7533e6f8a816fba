#include "tests/scene/conversation.h"

#include <gtest/gtest.h>

#include <map>

namespace tripline::scene {
namespace {

using std::chrono_literals::operator""h;

double seconds(Duration d) { return std::chrono::duration<double>(d).count(); }

// The exact consequence of the model's numbers (ITU-T P.59's generator; computed): single
// talk 70.11 % of the time, double talk 7.42 %, mutual silence 22.46 %. An hour hundred
// times over keeps the statistical error well under 0.5 %.
TEST(TheConversation, SpendsItsTimeAsTheModelOfP59Says) {
    Random random(59);
    Conversation conversation(random);
    std::map<Talk, double> time;
    double total = 0;
    for (int i = 0; i < 600000; ++i) {
        const auto stay = conversation.next();
        time[stay.talk] += seconds(stay.length);
        total += seconds(stay.length);
    }
    EXPECT_NEAR(100 * (time[Talk::near] + time[Talk::far]) / total, 70.11, 0.3);
    EXPECT_NEAR(100 * time[Talk::both] / total, 7.42, 0.1);
    EXPECT_NEAR(100 * time[Talk::nobody] / total, 22.46, 0.2);
}

// Likewise computed: talk-spurt 1.0348 s, pause 1.4012 s, activity 42.48 % each.
TEST(TheConversation, HasSpurtsAndPausesAsTheModelOfP59Says) {
    Random random(1965);
    const Duration length = 100h;
    const Turns turns = converse(length, random);
    for (const auto& spurts : {turns.near, turns.far}) {
        double active = 0;
        for (const Spurt& s : spurts) active += seconds(s.end - s.onset);
        const double count = static_cast<double>(spurts.size());
        EXPECT_NEAR(active / count, 1.0348, 0.015);
        EXPECT_NEAR((seconds(length) - active) / count, 1.4012, 0.02);
        EXPECT_NEAR(100 * active / seconds(length), 42.48, 0.5);
    }
}

}  // namespace
}  // namespace tripline::scene
