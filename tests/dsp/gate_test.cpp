#include "dsp/gate.h"

#include "dsp/blanking.h"
#include "dsp/hold.h"

#include <gtest/gtest.h>

namespace tripline::dsp {
namespace {

using std::chrono_literals::operator""ms;

constexpr double hop = 0.5e-3;

TEST(TheGate, OpensOnlyForASoundThatQualifiedAndIsLoudEnough) {
    Gate gate({});
    EXPECT_FALSE(gate(2, 1, false));
    EXPECT_FALSE(gate(0.9F, 1, true));
    EXPECT_TRUE(gate(1.1F, 1, true));
}

TEST(TheGate, ClosesTheHysteresisUnderItsOpeningThreshold) {
    Gate gate({.hysteresis = Decibels{3}});
    ASSERT_TRUE(gate(1.1F, 1, true));
    EXPECT_TRUE(gate(0.6F, 1, false));
    EXPECT_FALSE(gate(0.4F, 1, false));
    EXPECT_FALSE(gate(0.6F, 1, true));
}

TEST(TheGate, IsShutAfterAReset) {
    Gate gate({});
    ASSERT_TRUE(gate(2, 1, true));
    gate.reset();
    EXPECT_FALSE(gate(2, 1, false));
}

TEST(TheHold, OutlastsTheVoiceByItsTimeAndStartsAnewWithEachWord) {
    Hold hold(3, 0);
    EXPECT_FALSE(hold(false, false));
    EXPECT_TRUE(hold(true, false));
    EXPECT_TRUE(hold(false, false));
    EXPECT_TRUE(hold(true, false));
    for (int i = 0; i < 3; ++i) EXPECT_TRUE(hold(false, true)) << i;
    EXPECT_FALSE(hold(false, true));
}

TEST(TheHold, OfNoTimeIsTheVoiceItself) {
    Hold hold(0, 0);
    EXPECT_TRUE(hold(true, false));
    EXPECT_FALSE(hold(false, false));
}

/// Hops until a hold of 3 hops ends after a voice, while `may_open(hop)`.
template <class MayOpen> int ends_after(Hold& hold, MayOpen may_open) {
    hold(true, false);
    int hops = 0;
    while (hold(false, may_open(hops))) ++hops;
    return hops;
}

TEST(TheHold, DoesNotEndInASoundThatMayProveToBeAVoiceButForItsGraceNoLonger) {
    Hold hold(3, 5);
    EXPECT_EQ(ends_after(hold, [](int at) { return at < 3; }), 3) << "over before";
    EXPECT_EQ(ends_after(hold, [](int at) { return at < 5; }), 5) << "over two hops after";
    EXPECT_EQ(ends_after(hold, [](int) { return true; }), 8);
    EXPECT_FALSE(hold(false, true)) << "and none that comes then";
    EXPECT_EQ(ends_after(hold, [](int) { return true; }), 8) << "each voice gives it anew";
}

TEST(TheHold, DefaultIsInsideTheOneToThreeSecondsOfCommonPractice) {
    EXPECT_GE(DetectorSettings{}.hold, 1000ms);
    EXPECT_LE(DetectorSettings{}.hold, 3000ms);
}

TEST(Blanking, LastsItsTimeAfterTheRelaysMove) {
    Blanking blanking({.relay = 2ms, .unmute = 5ms}, hop);
    EXPECT_EQ(blanking(), Settling::nothing);
    blanking.relays_moved();
    for (int i = 0; i < 4; ++i) EXPECT_EQ(blanking(), Settling::relays) << i;
    EXPECT_EQ(blanking(), Settling::nothing);
}

TEST(Blanking, IsNotCutShortByAShorterOne) {
    Blanking blanking({.relay = 1ms, .unmute = 5ms}, hop);
    blanking.receiver_unmuted();
    blanking.relays_moved();
    for (int i = 0; i < 2; ++i) EXPECT_EQ(blanking(), Settling::relays) << i;
    for (int i = 2; i < 10; ++i) EXPECT_EQ(blanking(), Settling::receiver) << i;
    EXPECT_EQ(blanking(), Settling::nothing);
}

}  // namespace
}  // namespace tripline::dsp
