// Healthy inputs pass; each illness is found, and only it.
#include "daemon/inspect/inspection.h"
#include "tests/inspect/sounds.h"

#include <gtest/gtest.h>
#include <sndfile.hh>

#include <algorithm>

namespace tripline::inspect {
namespace {

constexpr double length = 20;

Findings inspect(const Samples& microphone, const Samples& receiver, std::size_t block = 1000) {
    Inspection inspection(rate, true);
    const std::size_t size = std::min(microphone.size(), receiver.size());
    for (std::size_t at = 0; at < size; at += block) {
        const std::size_t count = std::min(block, size - at);
        inspection.push({microphone.data() + at, count}, {receiver.data() + at, count});
    }
    return inspection.findings();
}

/// "microphone clipping, receiver DC": what is bad.
std::string bad(const Findings& findings) {
    std::string text;
    for (const auto& finding : findings) {
        if (finding.good) continue;
        EXPECT_FALSE(finding.cure.empty());
        text += (text.empty() ? "" : ", ") + finding.channel + ' ' + finding.what;
    }
    return text;
}

class Inputs : public testing::Test {
protected:
    Samples receiver_ = syllables(-20, length, 1) + noise(-60, length, 2);
    Samples leak_ = later(scaled(receiver_, 0.1), 80);
    Samples microphone_ = syllables(-22, length, 3) + leak_ + noise(-65, length, 4);
};

TEST_F(Inputs, AreGoodWhenNothingIsWrong) {
    const auto findings = inspect(microphone_, receiver_);
    EXPECT_EQ(bad(findings), "") << to_text(findings);
    EXPECT_EQ(findings.size(), 17U);
}

TEST_F(Inputs, GiveTheSameFindingsInBlocksOfAnySize) {
    const auto text = to_text(inspect(microphone_, receiver_));
    EXPECT_EQ(to_text(inspect(microphone_, receiver_, 37)), text);
}

TEST_F(Inputs, ShowEachIllnessByItself) {
    EXPECT_EQ(bad(inspect(Samples(microphone_.size()), receiver_)), "microphone signal");
    EXPECT_EQ(bad(inspect(microphone_, Samples(microphone_.size()))), "receiver signal");
    EXPECT_EQ(bad(inspect(scaled(microphone_, 0.03), receiver_)), "microphone gain");
    EXPECT_EQ(bad(inspect(microphone_ + Samples(microphone_.size(), 0.05F), receiver_)), "microphone DC");
    EXPECT_EQ(bad(inspect(microphone_ + tone(50, -40, length), receiver_)), "microphone hum");
    EXPECT_EQ(bad(inspect(microphone_, receiver_ + tone(1700, -25, length))), "receiver whistle");
    EXPECT_EQ(bad(inspect(microphone_, microphone_)), "both likeness");
    EXPECT_EQ(bad(inspect(receiver_, microphone_)), "both order");
}

TEST_F(Inputs, ShowClippingAndCrackle) {
    Samples clipped = scaled(receiver_, 10);
    for (float& sample : clipped) sample = std::clamp(sample, -0.4F, 0.4F);
    EXPECT_NE(bad(inspect(microphone_, clipped)).find("receiver clipping"), std::string::npos);
    Samples crackling = microphone_;
    for (std::size_t at = 4000; at < crackling.size(); at += 16000) crackling[at] += 0.8F;
    EXPECT_EQ(bad(inspect(crackling, receiver_)), "microphone crackle");
}

TEST_F(Inputs, TellTheDelayOfThePath) {
    const auto findings = inspect(microphone_, receiver_);
    EXPECT_EQ(findings.back().what, "order");
    EXPECT_EQ(findings.back().figure, "microphone 5.0 ms later");   // 80 frames at 16 kHz
}

/// As a clock that is faster by so much would have sampled it.
Samples stretched(const Samples& samples, double ppm) {
    Samples out(samples.size() - 1000);
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double at = static_cast<double>(i) / (1 + ppm * 1e-6);
        const auto whole = static_cast<std::size_t>(at);
        const auto part = static_cast<float>(at - static_cast<double>(whole));
        out[i] = (1 - part) * samples[whole] + part * samples[whole + 1];
    }
    return out;
}

TEST(TwoClocks, AreFoundAndMeasured) {
    const Samples played = syllables(-20, 70, 1);
    const Samples heard = later(scaled(played, 0.3), 80) + noise(-65, 70, 4);
    for (const double ppm : {-120.0, 40.0}) {
        const auto findings = inspect(heard, stretched(played, ppm));
        EXPECT_NE(bad(findings).find("both clocks"), std::string::npos) << to_text(findings);
        const auto clocks = std::ranges::find(findings, "clocks", &Finding::what);
        EXPECT_NEAR(std::abs(std::stod(clocks->figure)), std::abs(ppm), 0.1 * std::abs(ppm)) << clocks->figure;
    }
    EXPECT_EQ(bad(inspect(heard, played)).find("clocks"), std::string::npos);
}

TEST_F(Inputs, WithoutAReceiverAreTheMicrophoneAlone) {
    Inspection inspection(rate, false);
    inspection.push(microphone_, {});
    const auto findings = inspection.findings();
    EXPECT_EQ(bad(findings), "");
    EXPECT_TRUE(std::ranges::all_of(findings, [](const Finding& f) { return f.channel == "microphone"; }));
}

// testdata/README.md: the loudspeaker reaches the microphone 5 ms later; keys and relays click.
TEST(TheShippedEvening, IsHealthyAndItsPathIsFiveMillisecondsLong) {
    SndfileHandle file("testdata/evening.flac");
    ASSERT_EQ(file.channels(), 2);
    Samples both(static_cast<std::size_t>(file.frames() * 2));
    ASSERT_EQ(file.readf(both.data(), file.frames()), file.frames());
    Inspection inspection(Hertz{static_cast<double>(file.samplerate())}, true);
    for (std::size_t i = 0; i < both.size(); i += 2) inspection.push({&both[i], 1}, {&both[i + 1], 1});
    const auto findings = inspection.findings();
    EXPECT_EQ(bad(findings), "") << to_text(findings);
    EXPECT_EQ(findings.back().figure, "microphone 5.0 ms later");
}

}  // namespace
}  // namespace tripline::inspect
