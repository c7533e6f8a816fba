// Every reachable situation of the real station logic, with its real clocks, under every
// order of inputs: voice, silence, steady tone, commands, timers, fault, reload, NaN.
#include "tests/station/walk.h"

#include <gtest/gtest.h>

#include <iostream>
#include <set>

namespace tripline::station::test {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

struct Case {
    const char* name;
    SequenceSettings sequence;  ///< in whole ticks of a quarter of a second, so that the graph stays small
};

void PrintTo(const Case& a_case, std::ostream* out) { *out << a_case.name; }

const Case cases[]{
    {"every_step_takes_time", {{250ms, 250ms}, {500ms, 750ms}, {250ms, 500ms}, 250ms}},
    {"mute_and_lags_are_long", {{750ms, 500ms}, {250ms, longest_step}, {250ms, longest_step}, 250ms}},
    {"no_step_takes_time", {{}, {}, {}, 0ms}},
    {"only_the_antenna_takes_time", {{}, {500ms, 250ms}, {}, 0ms}},
    {"there_is_no_antenna_relay", {{250ms, 0ms}, {}, {0ms, 250ms}, 250ms}},
};

Settings settings_of(const Case& a_case) {
    Settings settings;
    settings.sequence = a_case.sequence;
    settings.limits = {.longest_over = 1500ms, .quiet_to_clear = 750ms};
    settings.loudspeaker_fade = 0ms;
    return settings;
}

class TheStation : public testing::TestWithParam<Case> {};

TEST_P(TheStation, KeepsItsPromisesInEveryReachableSituation) {
    const Walk walk(settings_of(GetParam()));
    ASSERT_EQ(walk.wrong, "");
    std::set<State> seen;
    for (const Node& node : walk.nodes) seen.insert(node.state());
    std::cout << walk.nodes.size() << " situations, " << walk.steps << " steps, " << seen.size()
              << " states stood in\n";

    const auto on_air = [](const Node& n) { return n.state() == State::on_air; };
    const auto at_rest = [](const Node& n) { return n.state() == State::rest; };
    EXPECT_EQ(walk.count_that_reach(on_air), walk.nodes.size()) << "a dead end: never on air again";
    EXPECT_EQ(walk.count_that_reach(at_rest), walk.nodes.size())
        << "a dead end: never at rest again";
}

TEST_P(TheStation, ComesToRestByItselfFromEverywhereWhenTheMicrophoneIsQuiet) {
    const Walk walk(settings_of(GetParam()));
    const Input quiet{};
    for (Node node : walk.nodes) {
        for (int hop = 0; hop < 30; ++hop) ASSERT_EQ(node.hop(quiet), nullptr);
        const bool forced = node.mode() == Mode::keyed;
        ASSERT_EQ(node.state(), forced ? State::locked_out : State::rest);
    }
}

INSTANTIATE_TEST_SUITE_P(Walked, TheStation, testing::ValuesIn(cases),
                         [](const auto& tested) { return std::string{tested.param.name}; });

}  // namespace
}  // namespace tripline::station::test
