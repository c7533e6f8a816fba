// The guided session: what it asks, when it repeats a step, what it does not let pass.
#include "daemon/setup/guide.h"
#include "tests/cli/run.h"

#include <gtest/gtest.h>

#include <cmath>
#include <deque>
#include <iostream>
#include <numbers>
#include <random>
#include <sstream>

namespace tripline::setup {
namespace {

using std::chrono_literals::operator""s;

constexpr Hertz rate{8000};

constexpr double voice_dbfs = -25;

/// Sound of a take: noise of a level in each channel.
struct Sound {
    double microphone_dbfs;
    double receiver_dbfs;
    double limit = 1;   ///< of a sample
    double hum_dbfs = -200;   ///< 50 Hz at the microphone
    Duration spoken{};        ///< how long somebody is heard besides, at the microphone, from 3 s on
};

class PretendedEar final : public Ear {
public:
    explicit PretendedEar(std::deque<Sound> sounds) : sounds_(std::move(sounds)) {}

    Hertz rate() const override { return setup::rate; }
    Take listen(Duration length, const std::function<void(std::span<const Frame>)>& meter) override {
        if (sounds_.empty()) throw std::runtime_error("the sound has ended");
        const Sound sound = sounds_.front();
        sounds_.pop_front();
        Take take{now_ + Frames{8000}, {}};   // a second passes while the operator reads
        const auto count = static_cast<std::size_t>(to_frames(length, setup::rate).count);
        while (take.frames.size() < count) {
            const auto hum = static_cast<float>(std::pow(10, sound.hum_dbfs / 20) * std::sin(2 * std::numbers::pi * 50 * static_cast<double>(take.frames.size()) / setup::rate.value));
            const Duration at = to_duration({static_cast<std::int64_t>(take.frames.size())}, setup::rate) - 3s;
            const float besides = at >= 0s && at < sound.spoken ? sample(voice_dbfs, sound.limit) : 0;
            take.frames.push_back({sample(sound.microphone_dbfs, sound.limit) + hum + besides, sample(sound.receiver_dbfs, sound.limit)});
        }
        now_ = take.begin + Frames{static_cast<std::int64_t>(count)};
        meter(take.frames);
        return take;
    }

private:
    float sample(double dbfs, double limit) {
        const double value = noise_(random_) * std::sqrt(0.5) * std::pow(10, dbfs / 20);
        return static_cast<float>(std::clamp(value, -limit, limit));
    }

    std::deque<Sound> sounds_;
    std::mt19937 random_{1};
    std::normal_distribution<double> noise_;
    Frames now_;
};

class PretendedOperator final : public Operator {
public:
    explicit PretendedOperator(std::deque<std::string> answers) : answers_(std::move(answers)) {}

    void tell(const std::string& line) override { told += line + '\n'; }
    void show(const TakeLevels&, Duration) override { ++meters; }
    void show_end() override {}
    std::optional<std::string> ask(const std::string&) override {
        if (answers_.empty()) return std::nullopt;
        const std::string answer = answers_.front();
        answers_.pop_front();
        return answer;
    }

    std::string told;
    int meters = 0;

private:
    std::deque<std::string> answers_;
};

const Sound room{-60, -120};
const Sound receiver{-40, -25};
const Sound voice{voice_dbfs, -120};
const Sound soft{-35, -120};

TEST(AGuidedSession, TakesEachStepOnceWhenNothingIsWrong) {
    PretendedEar ear({room, receiver, voice, soft});
    PretendedOperator who({"", "", "", "", "", "", "", ""});
    const auto found = guide(ear, who, {.take = 6s});
    ASSERT_TRUE(found) << who.told;
    EXPECT_EQ(found->room, (replay::Span{1s, 7s}));
    EXPECT_EQ(found->receiver, (replay::Span{8s, 14s}));
    EXPECT_EQ(found->voice, (replay::Span{15s, 21s}));
    ASSERT_TRUE(found->soft);
    EXPECT_EQ(*found->soft, (replay::Span{22s, 28s}));
    EXPECT_EQ(who.meters, 4);
    EXPECT_EQ(who.told.find("TROUBLE"), std::string::npos) << who.told;
}

TEST(AGuidedSession, HasNoStepForAReceiverThatTheStationDoesNotHave) {
    PretendedEar ear({room, voice});
    PretendedOperator who({"", "", "", "", "s"});
    const auto found = guide(ear, who, {.take = 6s, .receiver = false});
    ASSERT_TRUE(found) << who.told;
    EXPECT_FALSE(found->receiver);
    EXPECT_EQ(found->voice, (replay::Span{8s, 14s}));
    EXPECT_NE(who.told.find("Step 2 of 3: your voice"), std::string::npos) << who.told;
}

TEST(AGuidedSession, RepeatsAStepAsOftenAsWanted) {
    PretendedEar ear({room, room, room, receiver, voice});
    PretendedOperator who({"", "r", "r", "", "", "", "", "", "s"});
    const auto found = guide(ear, who, {.take = 6s});
    ASSERT_TRUE(found) << who.told;
    EXPECT_EQ(found->room, (replay::Span{15s, 21s}));   // the third
    EXPECT_FALSE(found->soft);
}

TEST(AGuidedSession, DoesNotKeepATakeWithTroubleUnlessTold) {
    PretendedEar ear({room, room, receiver, room, voice});
    PretendedOperator who({"", "", /* the receiver is silent: repeat */ "", "", "", /* no voice: keep */ "", "k", "s"});
    const auto found = guide(ear, who, {.take = 6s});
    ASSERT_TRUE(found) << who.told;
    EXPECT_NE(who.told.find("TROUBLE: The receiver is not heard on its own input"), std::string::npos) << who.told;
    EXPECT_NE(who.told.find("TROUBLE: Your voice is not heard"), std::string::npos) << who.told;
    EXPECT_EQ(found->receiver, (replay::Span{15s, 21s}));
    EXPECT_EQ(found->voice, (replay::Span{22s, 28s}));
}

TEST(AGuidedSession, NoticesClippingAndExchangedChannels) {
    PretendedEar ear({room, receiver, {-3, -120, 0.5}, {-60, -25}});
    PretendedOperator who({"", "", "", "", "", "k", "", "k"});
    ASSERT_TRUE(guide(ear, who, {.take = 6s}));
    EXPECT_NE(who.told.find("TROUBLE: clipping, microphone"), std::string::npos) << who.told;
    EXPECT_NE(who.told.find("microphone and receiver are exchanged"), std::string::npos) << who.told;
}

TEST(AGuidedSession, NoticesAVoiceAndAReceiverAtAWrongGain) {
    PretendedEar ear({room, {-60, -52}, {-48, -120}});
    PretendedOperator who({"", "", "", "k", "", "k", "s"});
    ASSERT_TRUE(guide(ear, who, {.take = 6s}));
    EXPECT_NE(who.told.find("TROUBLE: gain, microphone"), std::string::npos) << who.told;
    EXPECT_NE(who.told.find("TROUBLE: gain, receiver"), std::string::npos) << who.told;
}

TEST(AGuidedSession, NoticesSomebodyWhoSpeaksInTheReceiversTakeAndNamesThat) {
    const Sound spoken_over{-40, -25, 1, -200, 1s};
    PretendedEar ear({room, spoken_over, receiver, voice});
    PretendedOperator who({"", "", "", /* repeat */ "", "", "", "", "s"});
    const auto found = guide(ear, who, {.take = 6s});
    ASSERT_TRUE(found) << who.told;
    EXPECT_EQ(found->receiver, (replay::Span{15s, 21s})) << who.told;
    EXPECT_NE(who.told.find("TROUBLE: For 1.0 s of it the microphone hears what the receiver's input does not carry: somebody spoke"),
              std::string::npos) << who.told;
}

TEST(AGuidedSession, TakesNoShortClickInTheReceiversTakeForSomebody) {
    const Sound clicked{-40, -25, 1, -200, std::chrono::milliseconds{150}};
    PretendedEar ear({room, clicked, voice});
    PretendedOperator who({"", "", "", "", "", "", "s"});
    ASSERT_TRUE(guide(ear, who, {.take = 6s})) << who.told;
    EXPECT_EQ(who.told.find("TROUBLE"), std::string::npos) << who.told;
}

TEST(AGuidedSession, TellsAReceiverThatSpokeInTheRoomsTakeToo) {
    PretendedEar ear({receiver, receiver});
    PretendedOperator who({"", "k", "", "q"});
    EXPECT_FALSE(guide(ear, who, {.take = 6s}));
    EXPECT_NE(who.told.find("TROUBLE: The receiver is no louder on its own input (-2"), std::string::npos) << who.told;
}

TEST(AGuidedSession, TellsHumAsHumAndNotAsAVoiceThatIsNotHeard) {
    const Sound humming_room{-60, -120, 1, -35};
    const Sound humming_voice{-40, -120, 1, -35};
    PretendedEar ear({humming_room, receiver, humming_voice});
    PretendedOperator who({"", "k", "", "", "", "k", "s"});
    ASSERT_TRUE(guide(ear, who, {.take = 6s})) << who.told;
    EXPECT_NE(who.told.find("TROUBLE: hum, microphone"), std::string::npos) << who.told;
    EXPECT_EQ(who.told.find("is not heard"), std::string::npos) << who.told;
}

TEST(AGuidedSession, CanBeGivenUpAnywhereAndEndsWithItsAnswers) {
    for (std::deque<std::string> answers : {std::deque<std::string>{"q"}, {"", "q"}, {}, {"", "", ""}}) {
        PretendedEar ear({room, receiver});
        PretendedOperator who(std::move(answers));
        EXPECT_FALSE(guide(ear, who, {.take = 6s}));
    }
}

/// Answers at standard input while it lives.
class Answers {
public:
    explicit Answers(const std::string& text) : text_(text), before_(std::cin.rdbuf(text_.rdbuf())) {}
    ~Answers() {
        std::cin.rdbuf(before_);
        std::cin.clear();
    }

private:
    std::istringstream text_;
    std::streambuf* before_;
};

TEST(ALiveSession, IsLedThroughARecordingPlayedAsIfLive) {
    const Answers answers("\nk\n\nk\n\nk\ns\n");
    const auto outcome = cli::run({"setup", "--from", "testdata/evening.flac", "--take", "5"});
    EXPECT_NE(outcome.code, 2) << outcome.err << outcome.out;
    for (const char* text : {"Step 1 of 4: the room", "Step 4 of 4", "left: microphone", "Measured:", "Distances, in the voice band:"})
        EXPECT_NE(outcome.out.find(text), std::string::npos) << text << " in " << outcome.out;
}

TEST(ALiveSession, WritesNothingWhenItIsGivenUp) {
    const Answers answers("q\n");
    const auto outcome = cli::run({"setup", "--from", "testdata/evening.flac"});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_NE(outcome.out.find("nothing was written"), std::string::npos);
}

TEST(ALiveSession, IsNotMixedWithTheStretchesOfARecording) {
    EXPECT_EQ(cli::run({"setup", "--room", "0-10"}).code, 2);
    EXPECT_EQ(cli::run({"setup", "testdata/evening.flac", "--room", "0-10"}).code, 2);
    EXPECT_EQ(cli::run({"setup", "testdata/evening.flac", "--room", "0-5", "--receiver", "5-10", "--voice", "10-15", "--take", "5"}).code, 2);
}

}  // namespace
}  // namespace tripline::setup
