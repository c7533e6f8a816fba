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
    Hold hold(3);
    EXPECT_FALSE(hold(false));
    EXPECT_TRUE(hold(true));
    EXPECT_TRUE(hold(false));
    EXPECT_TRUE(hold(true));
    for (int i = 0; i < 3; ++i) EXPECT_TRUE(hold(false)) << i;
    EXPECT_FALSE(hold(false));
}

TEST(TheHold, OfNoTimeIsTheVoiceItself) {
    Hold hold(0);
    EXPECT_TRUE(hold(true));
    EXPECT_FALSE(hold(false));
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
