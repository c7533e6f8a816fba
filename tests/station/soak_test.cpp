// An hour of operation in the time of its frames, watched by the witness at every event.
#include "daemon/station/engine.h"
#include "dsp/detector.h"

#include "tests/station/seed.h"
#include "tests/station/sounds.h"
#include "tests/station/witness.h"

#include <gtest/gtest.h>

#include <iostream>

namespace tripline::station::test {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr Duration an_hour = 3600s;

/// Settings whose time-outs and locks fall often enough within the hour.
Settings busy_station() {
    Settings settings;
    settings.limits = {.longest_over = 8s, .quiet_to_clear = 1s};
    return settings;
}

class Watch final : public EventSink {
public:
    Watch(const Settings& settings, Hertz rate)
        : witness(
              times_of(settings, [rate](Duration time) { return to_frames(time, rate).count; })) {}

    void take(const Event& event) noexcept override {
        if (event.kind == EventKind::reset) ++resets;
        if (event.kind != EventKind::state) return;
        ++reasons[static_cast<std::size_t>(event.reason)];
        if (const char* what = witness.see(event, event.at.count)) note(what);
    }
    void note(const char* what) { wrong = wrong != nullptr ? wrong : what; }
    std::size_t count(Reason reason) const { return reasons[static_cast<std::size_t>(reason)]; }

    Witness witness;
    const char* wrong = nullptr;
    std::size_t resets = 0;
    std::array<std::size_t, 16> reasons{};
};

void expect_it_all_happened(const Watch& watch) {
    for (const Reason reason :
         {Reason::voice, Reason::silence, Reason::forced, Reason::safe, Reason::too_long,
          Reason::lifted, Reason::fault, Reason::not_finite, Reason::reload})
        EXPECT_GT(watch.count(reason), 0U) << static_cast<int>(reason);
    std::cout << watch.count(Reason::voice) << " voices, " << watch.count(Reason::too_long)
              << " time-outs, " << watch.count(Reason::lifted) << " locks lifted, " << watch.resets
              << " resets\n";
}

/// Spells of random length; `of` draws which comes next.
class Dice {
public:
    explicit Dice(std::uint32_t seed) : random_(seed) {}
    unsigned of(unsigned sides) { return static_cast<unsigned>(random_() % sides); }
    /// One in `turns` on average.
    bool one_in(unsigned turns) { return of(turns) == 0; }
    Duration time(Duration least, Duration most) {
        return least + std::chrono::milliseconds{of(static_cast<unsigned>((most - least) / 1ms))};
    }
    /// Mostly short, now and then very long.
    Duration spell() { return one_in(12) ? time(10s, 30s) : time(20ms, 3s); }

private:
    std::mt19937 random_;
};

dsp::Heard verdict(unsigned kind, bool held) {
    using dsp::Cause;
    constexpr Cause causes[]{Cause::quiet,      Cause::voice,  Cause::masked,    Cause::blanked,
                             Cause::qualifying, Cause::steady, Cause::not_speech};
    dsp::Heard heard;
    heard.cause = causes[kind];
    heard.voice = heard.cause == Cause::voice;
    heard.held = heard.voice || held;
    return heard;
}

TEST(TheSoak, OfTheLogicKeepsEveryPromiseThroughAnHourOfEverything) {
    const std::uint32_t seed = drawn_seed();
    Dice dice(seed);
    const Hertz rate{48000};
    const Frames hop{24};
    const Settings settings = busy_station();
    Logic logic(settings, rate);
    Watch watch(settings, rate);

    Frames now, spell_ends, trouble_ends;
    unsigned kind = 0, trouble = 0;
    bool held = false;
    for (const Frames end = to_frames(an_hour, rate); now < end && watch.wrong == nullptr;) {
        if (now >= spell_ends) {
            held = kind == 1 && dice.of(4) != 0;
            kind = dice.one_in(2) ? dice.of(2) : dice.of(7);
            spell_ends = now + to_frames(dice.spell(), rate);
        }
        if (now >= trouble_ends) {
            trouble = dice.one_in(20) ? 1 + dice.of(3) : 0;
            trouble_ends = now + to_frames(dice.time(1ms, trouble == 0 ? 5s : 700ms), rate);
        }
        now += hop;
        if (dice.one_in(20000))
            logic.set_mode(dice.one_in(2) ? Mode::armed : static_cast<Mode>(dice.of(3)));
        logic.set_fault(trouble == 1);
        logic.set_reload(trouble == 2);
        logic.hop(now, verdict(kind, held), trouble != 3, watch);
        if (logic.lines().ptt && (trouble != 0 || logic.mode() == Mode::safe || logic.lock().any()))
            watch.note("keyed although forbidden");
        if (const char* what = watch.witness.rest_of(now.count)) watch.note(what);
    }
    ASSERT_EQ(watch.wrong, nullptr) << watch.wrong;
    EXPECT_GT(watch.count(Reason::steady_tone), 0U);
    expect_it_all_happened(watch);
}

/// Endless microphone and receiver: room, speech, a leaking far station, tones, broken samples.
class Sound {
public:
    Sound(Dice& dice, Hertz rate, std::uint32_t seed) : dice_(dice), rate_(rate), noise_(seed) {}

    void next(std::span<float> microphone, std::span<float> receiver) {
        for (std::size_t i = 0; i < microphone.size(); ++i, ++at_) {
            if (left_-- <= 0) draw();
            const double time = static_cast<double>(at_) / rate_.value;
            const float hum = static_cast<float>(std::sin(2 * std::numbers::pi * 440 * time));
            receiver[i] = far_ * voice_at(time, 170);
            microphone[i] =
                1e-4F * noise() + near_ * voice_at(time, 120) + tone_ * hum + 0.1F * receiver[i];
        }
        if (dice_.one_in(2000)) microphone[0] = std::numeric_limits<float>::quiet_NaN();
    }

private:
    float noise() { return static_cast<float>(static_cast<std::int32_t>(noise_())) * 0x1p-31F; }
    void draw() {
        const unsigned kind = dice_.of(8);
        near_ = kind < 3 ? 0.05F + 0.4F * static_cast<float>(kind) : 0.0F;
        far_ = kind >= 2 && kind < 5 ? 0.3F : 0.0F;
        tone_ = kind == 5 ? 0.1F : 0.0F;
        left_ = to_frames(dice_.spell(), rate_).count;
    }

    Dice& dice_;
    Hertz rate_;
    std::minstd_rand noise_;
    std::int64_t at_ = 0;
    std::int64_t left_ = 0;
    float near_ = 0, far_ = 0, tone_ = 0;
};

bool within_full_scale(std::span<const float> samples) {
    return std::all_of(samples.begin(), samples.end(), [](float s) { return std::abs(s) <= 1.0F; });
}

/// The operator and the machine's troubles, between blocks.
void interfere(Dice& dice, Engine& engine, bool& fault, bool& reload) {
    fault = fault ? !dice.one_in(4) : dice.one_in(300);
    reload = reload ? !dice.one_in(4) : dice.one_in(300);
    engine.set_fault(fault);
    engine.set_reload(reload);
    if (!dice.one_in(100)) return;
    engine.set_mode(dice.of(3) != 0 ? Mode::armed : static_cast<Mode>(dice.of(3)));
}

TEST(TheSoak, OfTheEngineKeepsTheWitnessContentThroughAnHourOfSound) {
    const std::uint32_t seed = drawn_seed();
    Dice dice(seed);
    const Hertz rate{8000};
    const Settings settings = busy_station();
    Engine engine(settings, rate);
    Watch watch(settings, rate);
    Sound sound(dice, rate, seed);
    const auto hop = static_cast<std::size_t>(dsp::Detector(settings.detector, rate).hop().count);   // a block as long ends one
    Samples microphone(4096), receiver(4096), transmitter(4096), loudspeaker(4096);
    bool fault = false, reload = false;
    for (const Frames end = to_frames(an_hour, rate);
         engine.now() < end && watch.wrong == nullptr;) {
        const std::size_t frames = 1 + dice.of(dice.one_in(8) ? 4096 : 480);
        const auto first = [frames](Samples& samples) { return std::span{samples}.first(frames); };
        sound.next(first(microphone), first(receiver));
        interfere(dice, engine, fault, reload);
        engine.process({first(microphone), first(receiver), first(transmitter), first(loudspeaker)},
                       watch);
        if (const char* what = watch.witness.rest_of(engine.now().count)) watch.note(what);
        if (frames >= hop && engine.lines().ptt && (fault || reload))
            watch.note("keyed although forbidden");
        if (!within_full_scale(first(transmitter)) || !within_full_scale(first(loudspeaker)))
            watch.note("a sample out of bounds");
    }
    ASSERT_EQ(watch.wrong, nullptr) << watch.wrong;
    expect_it_all_happened(watch);
}

}  // namespace
}  // namespace tripline::station::test
