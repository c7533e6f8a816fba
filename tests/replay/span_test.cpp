#include "daemon/replay/detection_cost.h"

#include <gtest/gtest.h>

namespace tripline::replay {
namespace {

using std::chrono_literals::operator""s;

TEST(Spans, AreJoinedWhenTheGapIsShorterThanAsked) {
    const Spans apart{{4s, 5s}, {0s, 1s}, {2s, 3s}};
    EXPECT_EQ(joined(apart, 1s), (Spans{{0s, 1s}, {2s, 3s}, {4s, 5s}}));
    EXPECT_EQ(joined(apart, 1s + Duration{1}), (Spans{{0s, 5s}}));
}

TEST(Spans, OfNoLengthAreDropped) { EXPECT_TRUE(joined({{1s, 1s}, {3s, 2s}}, 0s).empty()); }

TEST(Spans, IntersectAndSubtract) {
    const Spans a{{0s, 5s}, {6s, 10s}};
    const Spans b{{1s, 2s}, {4s, 7s}, {9s, 12s}};
    EXPECT_EQ(intersection(a, b), (Spans{{1s, 2s}, {4s, 5s}, {6s, 7s}, {9s, 10s}}));
    EXPECT_EQ(difference(a, b), (Spans{{0s, 1s}, {2s, 4s}, {7s, 9s}}));
    EXPECT_EQ(difference(a, {}), a);
    EXPECT_TRUE(intersection(a, {}).empty());
}

// The worked case of the pyannote.metrics test suite (detection cost function of NIST's
// OpenSAT evaluations, 0.75 Pmiss + 0.25 Pfa): false alarm 3 s, miss 2 s of 16 s.
class TheWorkedCase : public testing::Test {
protected:
    const Spans reference{{0s, 5s}, {6s, 10s}, {12s, 14s}, {15s, 20s}};
    const Spans detected = joined({{1s, 7s}, {7s, 9s}, {7s, 10s}, {11s, 17s}, {18s, 20s}}, 0s);
};

TEST_F(TheWorkedCase, CostsWhatWasPublished) {
    const Detection d = compare(reference, detected, {{0s, 20s}});
    EXPECT_EQ(d.false_alarm, 3s);
    EXPECT_EQ(d.missed, 2s);
    EXPECT_EQ(d.speech, 16s);
    EXPECT_DOUBLE_EQ(d.cost(), 0.28125);
}

TEST_F(TheWorkedCase, CostsWhatWasPublishedWhenOnlyAPartIsScored) {
    EXPECT_DOUBLE_EQ(compare(reference, detected, {{1s, 14s}}).cost(), 1.0 / 6);
}

TEST(TheDetectionCost, OfNothingIsZero) { EXPECT_EQ(Detection{}.cost(), 0); }

}  // namespace
}  // namespace tripline::replay
