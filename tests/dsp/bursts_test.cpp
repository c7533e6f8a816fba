// What the receiver does when it comes back on, and how it is told from a word.
#include "dsp/bursts.h"

#include <gtest/gtest.h>

namespace tripline::dsp {
namespace {

using std::chrono_literals::operator""ms;

constexpr BlankingSettings settling{30ms, 150ms};

void let_pass(Bursts& bursts, int hops) {
    for (int i = 0; i < hops; ++i) bursts.withholds();
}

constexpr int goes_on = 1500;  // hops

/// Begins so many hops after an unmute, mutes the receiver at once, and its voice goes on for some, so loud; the
/// receiver is seen to fall after some.
void spell_after_unmute(Bursts& bursts, int hops, int voice, bool speech = true, Power loud = 1,
                        int falls = goes_on) {
    bursts.unmuted();
    let_pass(bursts, hops);
    bursts.begin();
    bursts(true, 1, 1);
    bursts.muted();
    for (int i = 0; i < goes_on; ++i) bursts(i < voice, loud, i < falls ? 1.0F : 0.001F);
    bursts.end(speech);
}

/// Hops of the next unmute in which nothing is believed, though something sounds all the time.
int withheld(Bursts bursts) {
    bursts.unmuted();
    int count = 0;
    for (int i = 0; i < 25000; ++i) {
        bursts.sounds(true);
        count += bursts.withholds() ? 1 : 0;
    }
    return count;
}

TEST(Bursts, AreSuspectedUntilAVoiceThatBeganAsEarlyHasGoneOn) {
    Bursts bursts(settling, 0ms, 0.001);
    EXPECT_EQ(withheld(bursts), 0);
    spell_after_unmute(bursts, 50, 100);
    EXPECT_EQ(withheld(bursts), 150) << "over with the mute";
    spell_after_unmute(bursts, 50, 400);
    EXPECT_EQ(withheld(bursts), 0) << "a voice that began as early has gone on";
    spell_after_unmute(bursts, 50, 400, false);
    EXPECT_EQ(withheld(bursts), 150) << "no speech";
    bursts.begin();
    bursts.muted();
    for (int i = 0; i < goes_on; ++i) bursts(true, 1, 0);
    bursts.end(true);
    EXPECT_EQ(withheld(bursts), 150) << "that voice began long after";
    spell_after_unmute(bursts, 160, 200);
    EXPECT_EQ(withheld(bursts), 0) << "a short word of the operator's, as loud after the mute as before";
    spell_after_unmute(bursts, 10, 200, true, 0.1F);
    EXPECT_EQ(withheld(bursts), 150) << "a room dies away";
}

TEST(Bursts, AreOverSoonerWhereTheReceiverIsSeenToFall) {
    Bursts bursts(settling, 0ms, 0.001);
    spell_after_unmute(bursts, 50, 85, true, 1, 10);
    EXPECT_EQ(withheld(bursts), 0) << "a word as loud 70 ms after the receiver fell";
    spell_after_unmute(bursts, 50, 75, true, 1, 10);
    EXPECT_EQ(withheld(bursts), 150) << "over before that";
    spell_after_unmute(bursts, 160, 85, true, 0.1F, 10);
    EXPECT_EQ(withheld(bursts), 300) << "a room dies away";
    spell_after_unmute(bursts, 310, 85);
    EXPECT_EQ(withheld(bursts), 600) << "the receiver sounds on";

    Bursts far(settling, 40ms, 0.001);
    spell_after_unmute(far, 50, 110, true, 1, 10);
    EXPECT_EQ(withheld(far), 150) << "what falls reaches the microphone later";
    spell_after_unmute(far, 160, 125, true, 1, 10);
    EXPECT_EQ(withheld(far), 0);
}

TEST(Bursts, AreWaitedForTwiceAsLongAfterEachThatKeyedAgain) {
    Bursts bursts(settling, 0ms, 0.001);
    for (const int expected : {150, 300, 600, 1200, 1200}) {
        spell_after_unmute(bursts, withheld(bursts) + 10, 100);
        EXPECT_EQ(withheld(bursts), expected);
    }
}

TEST(Bursts, AreNotWhatIsSaidWhileTheReceiverIsMute) {
    Bursts bursts(settling, 0ms, 0.001);
    bursts.unmuted();
    let_pass(bursts, 300);
    bursts.muted();  // the operator keys by hand
    let_pass(bursts, 200);
    bursts.begin();
    for (int i = 0; i < 4000; ++i) bursts(true, 1, 0);
    EXPECT_FALSE(bursts.end(true));
    EXPECT_EQ(bursts.doubts(), 0);
}

TEST(Bursts, AreLookedForAfterALongBlankingToo) {
    Bursts bursts({30ms, 2000ms}, 0ms, 0.001);
    spell_after_unmute(bursts, 2100, 100);
    EXPECT_EQ(bursts.doubts(), 1);
    EXPECT_EQ(withheld(bursts), 2000);
    spell_after_unmute(bursts, 2100, 100);
    EXPECT_EQ(withheld(bursts), 2000) << "no longer than it is, or 1.2 s";
}

TEST(Bursts, AreForgottenOnceAnUnmuteHasPassedInSilence) {
    Bursts bursts(settling, 0ms, 0.001);
    spell_after_unmute(bursts, 50, 100);
    spell_after_unmute(bursts, 300, 100);
    EXPECT_EQ(bursts.doubts(), 2);
    bursts.unmuted();
    let_pass(bursts, 1250);
    EXPECT_EQ(bursts.doubts(), 2);
    let_pass(bursts, 100);
    EXPECT_EQ(bursts.doubts(), 0);
}

/// An unmute after which something sounds for 80 hops from this one on, and keys nothing.
void sounds_after_unmute(Bursts& bursts, int from) {
    bursts.unmuted();
    for (int i = 1; i <= 3000; ++i) {
        bursts.withholds();
        bursts.sounds(i >= from && i < from + 80);
    }
}

TEST(Bursts, AreForgottenOnceTwoUnmutesHavePassedInWhichTheyStayAway) {
    for (const int word : {100, 140, 160, 300}) {
        Bursts bursts(settling, 0ms, 0.001);
        spell_after_unmute(bursts, 120, 100);
        EXPECT_EQ(bursts.doubts(), 1);
        sounds_after_unmute(bursts, word);
        EXPECT_EQ(bursts.doubts(), 1) << "it may have been drowned";
        sounds_after_unmute(bursts, 120);
        EXPECT_EQ(bursts.doubts(), 1) << "it came again";
        sounds_after_unmute(bursts, 134);
        EXPECT_EQ(bursts.doubts(), 1) << "nearly at the same instant";
        sounds_after_unmute(bursts, word);
        EXPECT_EQ(bursts.doubts(), 1) << "once more";
        sounds_after_unmute(bursts, word);
        EXPECT_EQ(bursts.doubts(), 0) << "what was said " << word << " ms after two unmutes was something else";
    }
}

/// Sounds from one hop after an unmute on, but for gaps, and begins at another.
void sounding_spell(Bursts& bursts, int from, int begins) {
    bursts.unmuted();
    for (int i = 1; i <= begins; ++i) {
        bursts.withholds();
        bursts.sounds(i >= from && i % 20 != 0);
    }
    bursts.begin();
    bursts.muted();
    for (int i = 0; i < goes_on; ++i) bursts(i < 100, 1, 1);
    bursts.end(true);
}

TEST(Bursts, AreKnownAgainByWhenTheyBeganToSoundAndNotByWhenTheyKeyed) {
    Bursts bursts(settling, 0ms, 0.001);
    sounding_spell(bursts, 90, 151);
    sounding_spell(bursts, 92, 171);
    EXPECT_EQ(bursts.doubts(), 2);
    for (int times = 0; times < 5; ++times) sounds_after_unmute(bursts, 91);
    EXPECT_EQ(bursts.doubts(), 2) << "it is heard each time, and withheld";
}

/// A word that is over 85 ms after the mute, where the receiver is seen to fall.
void brief_spell(Bursts& bursts, int hops) { spell_after_unmute(bursts, hops, 85, true, 1, 10); }

TEST(Bursts, AreBriefSpellsThatBeginAtTheSameInstantThreeTimesRunning) {
    Bursts bursts(settling, 0ms, 0.001);
    for (const int instant : {200, 210, 196}) {
        EXPECT_EQ(bursts.doubts(), 0) << "a path longer than is known is not ruled out";
        brief_spell(bursts, instant);
    }
    EXPECT_EQ(withheld(bursts), 150);
    brief_spell(bursts, 205);
    EXPECT_EQ(withheld(bursts), 300) << "and once more";
    brief_spell(bursts, 400);
    EXPECT_EQ(bursts.doubts(), 0) << "a word is said at another";
}

TEST(Bursts, AreNoBriefWordsSaidNowAndThen) {
    Bursts bursts(settling, 0ms, 0.001);
    for (const int instant : {200, 200, 240, 240, 200, 200}) brief_spell(bursts, instant);
    EXPECT_EQ(bursts.doubts(), 0) << "twice may be chance";
    spell_after_unmute(bursts, 200, 400);
    brief_spell(bursts, 200);
    EXPECT_EQ(bursts.doubts(), 0) << "a longer one was between them";
    brief_spell(bursts, 200);
    spell_after_unmute(bursts, 1300, 85);
    brief_spell(bursts, 200);
    EXPECT_EQ(bursts.doubts(), 0) << "one came long after the unmute";
}

}  // namespace
}  // namespace tripline::dsp
