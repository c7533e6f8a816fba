// What settings share changes nothing: each is decided on as by an engine of its own.
#include "daemon/replay/playback.h"
#include "daemon/tune/audience.h"
#include "dsp/ear.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <random>

namespace tripline::tune {
namespace {

using station::Settings;

const replay::RecordingSource evening{.file = "testdata/evening.flac"};

unsigned seed() {
    const char* given = std::getenv("TRIPLINE_SEED");
    return given ? static_cast<unsigned>(std::strtoul(given, nullptr, 10)) : std::random_device{}();
}

/// Some share everything but the four that an engine may be shared with, others differ in all.
class Dice {
public:
    explicit Dice(unsigned seed) : random_(seed) {}

    Settings settings() {
        Settings settings = kinds_[index(kinds_.size())];
        auto& detector = settings.detector;
        detector.gate.open = {step(-70, -20)};
        detector.gate.above_floor = Decibels{one_in(3) ? step(3, 20) : 9};
        detector.gate.hysteresis = Decibels{one_in(3) ? step(0, 10) : 4};
        detector.leak.coupling = Decibels{step(-40, 20)};
        return settings;
    }
    void roll_kinds() {
        for (Settings& kind : kinds_) kind = of_a_kind();
    }

private:
    Settings of_a_kind() {
        Settings settings;
        auto& detector = settings.detector;
        if (one_in(2)) return settings;
        if (one_in(3)) detector.gate.threshold = dsp::Threshold::fixed;
        if (one_in(3)) detector.leak.learn = false;
        if (one_in(4)) detector.leak.enabled = false;
        if (one_in(4)) detector.leak.method = dsp::AntiTrip::echo;
        if (one_in(3)) detector.leak.muted_on_air = false;
        if (one_in(3)) detector.leak.delay = std::chrono::milliseconds(index(50));
        if (one_in(3)) detector.hold = std::chrono::milliseconds(200 + index(3000));
        if (one_in(3)) detector.band.low = {step(100, 500)};
        if (one_in(3)) detector.envelope.release = std::chrono::milliseconds(5 + index(60));
        if (one_in(3)) settings.limits.longest_over = std::chrono::seconds(1 + index(5));
        return settings;
    }

    std::size_t index(std::size_t count) { return std::uniform_int_distribution<std::size_t>(0, count - 1)(random_); }
    bool one_in(std::size_t count) { return index(count) == 0; }
    double step(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }

    std::mt19937 random_;
    std::vector<Settings> kinds_ = std::vector<Settings>(4);
};

void expect_same(const std::vector<replay::Spell>& shared, const std::vector<replay::Spell>& alone) {
    ASSERT_EQ(shared.size(), alone.size());
    for (std::size_t i = 0; i < alone.size(); ++i) {
        EXPECT_EQ(shared[i].decided, alone[i].decided);
        EXPECT_EQ(shared[i].keyed, alone[i].keyed);
        EXPECT_EQ(shared[i].released, alone[i].released);
        EXPECT_EQ(shared[i].reason, alone[i].reason);
        EXPECT_EQ(shared[i].began_by, alone[i].began_by);
    }
}

void listen(Audience& audience, const replay::RecordingSource& source) {
    replay::Recording recording(source);
    for (Page page = read_page(recording); !page.microphone.empty(); page = read_page(recording)) {
        audience.judge(page, audience.hear(page));
    }
    audience.close(recording.length());
}

TEST(AnAudience, GivesEachSettingTheSpellsOfAReplayOfItsOwn) {
    const unsigned first = seed();
    for (unsigned round = 0; round < 2; ++round) {
        SCOPED_TRACE("TRIPLINE_SEED=" + std::to_string(first) + ", round " + std::to_string(round));
        Dice dice(first + round);
        dice.roll_kinds();
        std::vector<Settings> settings;
        for (int i = 0; i < 12; ++i) settings.push_back(dice.settings());
        Audience audience(settings, replay::Recording(evening).rate(), 2);
        listen(audience, evening);
        for (std::size_t i = 0; i < settings.size(); ++i) {
            SCOPED_TRACE("setting " + std::to_string(i));
            replay::Recording recording(evening);
            expect_same(audience.spells(i), replay::play(recording, settings[i], {}));
        }
    }
}

TEST(AFlock, SharesEnginesAmongSettingsThatMakeNoDifference) {
    std::vector<Settings> settings(100);
    for (std::size_t i = 0; i < settings.size(); ++i) settings[i].detector.gate.open = {-90 + 0.1 * static_cast<double>(i)};
    const Hertz rate = replay::Recording(evening).rate();
    Flock flock(settings, rate, std::nullopt);
    EXPECT_EQ(flock.engines(), 1U);
    dsp::Ear ear({}, rate);
    std::vector<dsp::Sounds> heard;
    std::mt19937 random(1);
    std::normal_distribution<float> noise(0, 0.001F);
    while (heard.size() < 4000) {
        const float sample = noise(random);
        for (dsp::Sounds sounds : ear.hear({&sample, 1}, {})) {
            sounds.periodicity = ear.periodicity(sounds);
            heard.push_back(sounds);
        }
    }
    flock.take(heard, 1);
    EXPECT_EQ(flock.engines(), 1U);
}

}  // namespace
}  // namespace tripline::tune
