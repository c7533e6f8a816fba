// The engine from samples to lines.
#include "daemon/station/engine.h"

#include "tests/station/sounds.h"
#include "tests/station/take.h"

#include <gtest/gtest.h>

#include <limits>

namespace tripline::station::test {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr Hertz rate{48000};

Take run(Engine& engine, const Samples& microphone) {
    Take take;
    engine.process({.microphone = microphone}, take);
    return take;
}

Samples one_over() { return room(1s, rate) + syllables(2s, rate) + room(3s, rate); }

Engine on_air() {
    Engine engine(Settings{}, rate);
    run(engine, room(1s, rate) + syllables(2s, rate));
    EXPECT_TRUE(engine.lines().ptt);
    return engine;
}

const std::vector back{State::unkeying, State::antenna_to_receive, State::unmuting, State::rest};

TEST(TheEngine, GoesToTransmitAndBackInOrder) {
    Engine engine(Settings{}, rate);
    std::vector<State> states = run(engine, one_over()).states();
    std::erase_if(states, [](State s) { return s == State::on_air || s == State::hold; });
    EXPECT_EQ(states, (std::vector{State::muting, State::antenna_to_transmit, State::settling,
                                   State::unkeying, State::antenna_to_receive, State::unmuting,
                                   State::rest}));
}

TEST(TheEngine, KeepsEveryLeadAndLagOfTheDefaults) {
    Engine engine(Settings{}, rate);
    const Take take = run(engine, one_over());
    const auto between = [&](State from, State to) {
        return to_duration(take.entry(to).at - take.entry(from).at, rate);
    };
    EXPECT_GE(between(State::muting, State::antenna_to_transmit), 5ms);
    EXPECT_GE(between(State::antenna_to_transmit, State::settling), 20ms);
    EXPECT_GE(between(State::settling, State::on_air), 10ms);
    EXPECT_LE(between(State::muting, State::on_air), 37ms);  // a hop more a step at most
    EXPECT_GE(between(State::unkeying, State::antenna_to_receive), 20ms);
    EXPECT_GE(between(State::antenna_to_receive, State::unmuting), 20ms);
    EXPECT_GE(between(State::unmuting, State::rest), 5ms);
    EXPECT_LE(between(State::unkeying, State::rest), 47ms);
}

TEST(TheEngine, TakesStepsOfNoTimeInOneHopButInOrder) {
    Settings settings;
    settings.sequence = {{0ms, 0ms}, {0ms, 0ms}, {0ms, 0ms}, 0ms};
    settings.loudspeaker_fade = 0ms;
    Engine engine(settings, rate);
    const Take take = run(engine, one_over());
    const std::vector<State> states = take.states();
    ASSERT_GE(states.size(), 8U);
    EXPECT_EQ(
        (std::vector(states.begin(), states.begin() + 4)),
        (std::vector{State::muting, State::antenna_to_transmit, State::settling, State::on_air}));
    EXPECT_EQ((std::vector(states.end() - 4, states.end())), back);
    EXPECT_EQ(take.entry(State::muting).at, take.entry(State::on_air).at);
    EXPECT_EQ(take.entry(State::unkeying).at, take.entry(State::rest).at);
}

TEST(TheEngine, WorksAtEveryRate) {
    for (const double hertz : {8000.0, 11025.0, 16000.0, 44100.0, 48000.0, 96000.0, 192000.0}) {
        const Hertz r{hertz};
        Engine engine(Settings{}, r);
        Take take;
        engine.process({.microphone = room(1s, r) + syllables(2s, r) + room(3s, r)}, take);
        const Duration keyed = to_duration(take.entry(State::on_air).at, r);
        EXPECT_GT(keyed, 1s) << hertz;
        EXPECT_LT(keyed, 1150ms) << hertz;
        EXPECT_EQ(engine.state(), State::rest) << hertz;
    }
    EXPECT_THROW(Engine(Settings{}, Hertz{7999}), std::invalid_argument);
    EXPECT_THROW(Engine(Settings{}, Hertz{192001}), std::invalid_argument);
}

TEST(TheEngine, RefusesToStartUpTransmitting) {
    Settings settings;
    settings.start_mode = Mode::keyed;
    EXPECT_THROW(Engine(settings, rate), std::invalid_argument);
}

TEST(TheEngine, RefusesALookAheadThatWouldCutTheEndOfEachOver) {
    Settings settings;
    settings.detector.hold = 200ms;
    settings.transmit_audio.look_ahead = 201ms;
    EXPECT_THROW(Engine(settings, rate), std::invalid_argument);
}

// Default from 47 CFR 97.213(b): 3 minutes.
TEST(TheEngine, EndsAnOverThatIsTooLongAndStaysUnkeyedUntilTheMicrophoneIsQuiet) {
    Settings settings;
    EXPECT_EQ(settings.limits.longest_over, 180s);
    settings.limits.longest_over = 3s;
    Engine engine(settings, rate);
    Take take = run(engine, room(1s, rate) + syllables(10s, rate));
    EXPECT_EQ(take.entry(State::unkeying).reason, Reason::too_long);
    const Frames keyed = take.entry(State::unkeying).at - take.entry(State::on_air).at;
    EXPECT_GE(to_duration(keyed, rate), 3s);
    EXPECT_LE(to_duration(keyed, rate), 3001ms);
    EXPECT_EQ(engine.state(), State::locked_out);
    run(engine, room(1s, rate) + syllables(1s, rate));
    EXPECT_EQ(engine.state(), State::locked_out);
    take = run(engine, room(4s, rate));
    EXPECT_EQ(take.entry(State::rest).reason, Reason::lifted);
    run(engine, syllables(1s, rate));
    EXPECT_TRUE(engine.lines().ptt);
}

TEST(TheEngine, HoldsAForcedKeyToTheSameLimitAndWantsANewCommandAfterIt) {
    Settings settings;
    settings.limits.longest_over = 3s;
    Engine engine(settings, rate);
    engine.set_mode(Mode::keyed);
    Take take = run(engine, room(2s, rate));
    EXPECT_TRUE(engine.lines().ptt);
    EXPECT_EQ(take.entry(State::muting).reason, Reason::forced);
    take = run(engine, room(20s, rate));
    EXPECT_EQ(take.entry(State::unkeying).reason, Reason::too_long);
    EXPECT_EQ(engine.state(), State::locked_out);
    engine.set_mode(Mode::keyed);
    run(engine, room(1s, rate));
    EXPECT_TRUE(engine.lines().ptt);
}

TEST(TheEngine, NeverKeysInModeSafeAndObeysASafeThatIsFollowedByArmed) {
    Engine engine = on_air();
    engine.set_mode(Mode::safe);
    engine.set_mode(Mode::armed);
    const Take take = run(engine, room(10ms, rate));
    EXPECT_EQ(take.entry(State::unkeying).reason, Reason::safe);
    engine.set_mode(Mode::safe);
    run(engine, room(4s, rate) + syllables(5s, rate));
    EXPECT_EQ(engine.state(), State::rest);
}

TEST(TheEngine, OpensTheKeyInTheHopOfAFault) {
    Engine engine = on_air();
    const Frames before = engine.now();
    engine.set_fault(true);
    const Take take = run(engine, syllables(1s, rate));
    EXPECT_EQ(take.entry(State::unkeying).reason, Reason::fault);
    EXPECT_LE(to_duration(take.entry(State::unkeying).at - before, rate), 1ms);
    EXPECT_EQ(engine.state(), State::rest);
}

void expect_release_by(float bad, bool in_receiver) {
    Engine engine = on_air();
    const Frames before = engine.now();
    Samples microphone = syllables(1s, rate);
    Samples receiver(microphone.size());
    (in_receiver ? receiver : microphone)[0] = bad;
    Samples transmitter(microphone.size());
    Samples loudspeaker(microphone.size());
    Take take;
    engine.process({microphone, receiver, transmitter, loudspeaker}, take);
    EXPECT_EQ(take.entry(State::unkeying).reason, Reason::not_finite);
    EXPECT_LE(to_duration(take.entry(State::unkeying).at - before, rate), 1ms);
    EXPECT_EQ(std::count_if(take.events.begin(), take.events.end(),
                            [](const Event& e) { return e.kind == EventKind::reset; }),
              1);
    for (const Samples& out : {transmitter, loudspeaker})
        for (const float sample : out) ASSERT_TRUE(std::isfinite(sample));
}

TEST(TheEngine, ReleasesTheKeyForASingleBrokenSampleAndSaysSoOnce) {
    using limits = std::numeric_limits<float>;
    for (const float bad :
         {limits::quiet_NaN(), limits::signaling_NaN(), limits::infinity(), -limits::infinity()}) {
        expect_release_by(bad, false);
        expect_release_by(bad, true);
    }
}

TEST(TheEngine, HearsAgainAfterBrokenSamplesAreOver) {
    Engine engine(Settings{}, rate);
    const Samples broken(frames_in(2s, rate), std::numeric_limits<float>::quiet_NaN());
    Take take = run(engine, broken + syllables(400ms, rate));
    EXPECT_TRUE(take.states().empty());
    take = run(engine, room(4s, rate) + syllables(1s, rate));
    EXPECT_TRUE(engine.lines().ptt);
}

TEST(TheEngine, HandsModeLockAndClockToTheEngineThatReplacesIt) {
    Settings settings;
    settings.limits.longest_over = 1s;
    Engine before(settings, rate);
    run(before, room(1s, rate) + syllables(5s, rate));
    ASSERT_EQ(before.state(), State::locked_out);
    before.set_reload(true);
    ASSERT_TRUE(before.at_rest());
    Engine after(Settings{}, rate);
    after.take_over(before);
    EXPECT_EQ(after.now(), before.now());
    EXPECT_EQ(after.state(), State::locked_out);
    run(after, syllables(1s, rate));
    EXPECT_EQ(after.state(), State::locked_out);
    run(after, room(4s, rate) + syllables(1s, rate));
    EXPECT_TRUE(after.lines().ptt);
}

TEST(TheEngine, KnowsWhatTheOneBeforeItHasLearnt) {
    Engine before(Settings{}, rate);
    run(before, room(8s, rate));
    const Power floor = before.heard().measures.floor;
    Settings other;
    other.detector.gate.open.value -= 6;
    Engine after(other, rate), fresh(other, rate);
    after.take_over(before);
    after.learn_from(before);
    run(after, room(10ms, rate));
    run(fresh, room(10ms, rate));
    EXPECT_NEAR(to_dbfs(after.heard().measures.floor).value, to_dbfs(floor).value, 0.5);
    EXPECT_GT(std::abs(to_dbfs(fresh.heard().measures.floor).value - to_dbfs(floor).value), 3);
    EXPECT_EQ(after.state(), State::rest);
}

TEST(TheEngine, GoesBackForNewSettingsAndDoesNotKeyWhileTheyWait) {
    Engine engine = on_air();
    engine.set_reload(true);
    const Take take = run(engine, syllables(2s, rate));
    EXPECT_EQ(take.entry(State::unkeying).reason, Reason::reload);
    EXPECT_EQ(take.states(), back);
    EXPECT_TRUE(engine.at_rest());
}

TEST(TheEngine, LosesNoSyllableWithTheAdvisedLookAhead) {
    Settings settings;
    settings.transmit_audio.look_ahead = advised_look_ahead(settings);
    EXPECT_LE(settings.transmit_audio.look_ahead, 70ms);
    Engine engine(settings, rate);
    const Samples voice = tone(Hertz{1000}, 0.3F, 2s, rate);  // begins at once and loud
    const Samples microphone = room(1s, rate) + voice;
    Take take;
    engine.process({.microphone = microphone}, take);
    const Frames ready = take.entry(State::on_air).at + to_frames(settings.sequence.ptt.lead, rate);
    EXPECT_LE(ready, to_frames(1s + settings.transmit_audio.look_ahead, rate));
}

/// A burst of noise into `samples`, as of relays and an opening receiver.
void add_burst(Samples& samples, Frames from, Duration length) {
    const Samples burst = tone(Hertz{520}, 0.05F, length, rate);
    std::copy(burst.begin(), burst.end(), samples.begin() + from.count);
}

// The closed loop: what the station's own relays and its opening receiver put into the
// microphone lies inside the detector's blanking.
TEST(TheEngine, IsNotKeyedByItsOwnRelaysNorByTheReceiverOpening) {
    const Samples quiet = one_over();
    Engine alone(Settings{}, rate);
    const Take plain = run(alone, quiet);
    const Frames rest = plain.entry(State::rest).at;

    Samples clatter = quiet;
    add_burst(clatter, plain.entry(State::unkeying).at, 85ms);  // until 40 ms after the unmute
    Engine with_clatter(Settings{}, rate);
    EXPECT_EQ(run(with_clatter, clatter).states(), plain.states());

    Samples later = quiet;
    add_burst(later, rest + to_frames(300ms, rate), 85ms);
    Engine with_later(Settings{}, rate);
    EXPECT_NE(run(with_later, later).states(), plain.states()) << "the same sound keys at rest";
}

TEST(TheEngine, HasMutedTheLoudspeakerBeforeTheAntennaMoves) {
    Engine engine(Settings{}, rate);
    const Samples microphone = room(1s, rate) + syllables(1s, rate);
    const Samples receiver = tone(Hertz{3500}, 1e-3F, 2s, rate);
    Samples loudspeaker(microphone.size());
    Take take;
    engine.process({.microphone = microphone, .receiver = receiver, .loudspeaker = loudspeaker},
                   take);
    const auto muting = static_cast<std::size_t>(take.entry(State::muting).at.count);
    const auto moving = static_cast<std::size_t>(take.entry(State::antenna_to_transmit).at.count);
    EXPECT_EQ(loudspeaker[muting - 1], receiver[muting - 1]);
    for (std::size_t i = moving; i < loudspeaker.size(); ++i) ASSERT_EQ(loudspeaker[i], 0.0F);
}

}  // namespace
}  // namespace tripline::station::test
