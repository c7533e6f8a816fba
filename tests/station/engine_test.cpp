// The engine from samples to lines.
#include "daemon/station/engine.h"

#include "tests/station/sounds.h"
#include "tests/station/take.h"

#include <gtest/gtest.h>

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

TEST(TheEngine, GoesToTransmitAndBackInOrder) {
    Engine engine(Settings{}, rate);
    const Take take = run(engine, room(1s, rate) + syllables(2s, rate) + room(3s, rate));
    std::vector<State> states = take.states();
    std::erase_if(states, [](State s) { return s == State::on_air || s == State::hold; });
    EXPECT_EQ(states, (std::vector{State::muting, State::antenna_to_transmit, State::settling,
                                   State::unkeying, State::antenna_to_receive, State::unmuting,
                                   State::rest}));
}

TEST(TheEngine, KeepsEveryLeadAndLagOfTheDefaults) {
    Engine engine(Settings{}, rate);
    const Take take = run(engine, room(1s, rate) + syllables(2s, rate) + room(3s, rate));
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

TEST(TheEngine, RefusesToStartUpTransmitting) {
    Settings settings;
    settings.start_mode = Mode::keyed;
    EXPECT_THROW(Engine(settings, rate), std::invalid_argument);
}

}  // namespace
}  // namespace tripline::station::test
