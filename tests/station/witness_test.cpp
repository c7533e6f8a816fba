// The witness must be able to object: each of these is wrong in one way.
#include "tests/station/witness.h"

#include <string>
#include <vector>

namespace tripline::station::test {
namespace {

constexpr Witness::Times times{.mute_lead = 2,
                               .mute_lag = 1,
                               .antenna_lead = 3,
                               .antenna_lag = 3,
                               .settle = 1,
                               .ptt_lag = 2,
                               .longest_over = 50};

struct Moment {
    std::int64_t at;
    State to;
};

const std::vector<Moment> to_transmit{{10, State::muting},
                                      {12, State::antenna_to_transmit},
                                      {15, State::settling},
                                      {16, State::on_air}};

/// The first objection to a run of states, or nothing.
std::string objection(const std::vector<Moment>& moments) {
    Witness witness(times);
    State state = State::rest;
    for (const Moment& moment : moments) {
        Event event;
        event.from = state;
        event.to = state = moment.to;
        event.lines = lines_of(moment.to);
        if (const char* wrong = witness.see(event, moment.at)) return wrong;
        if (const char* wrong = witness.rest_of(moment.at)) return wrong;
    }
    return {};
}

std::vector<Moment> then(std::vector<Moment> first, const std::vector<Moment>& second) {
    first.insert(first.end(), second.begin(), second.end());
    return first;
}

TEST(TheWitness, IsContentWithARunInOrder) {
    EXPECT_EQ(objection(then(to_transmit, {{30, State::hold},
                                           {40, State::unkeying},
                                           {42, State::antenna_to_receive},
                                           {45, State::unmuting},
                                           {46, State::rest}})),
              "");
}

TEST(TheWitness, ObjectsToAKeyWithoutTheAntenna) {
    EXPECT_EQ(objection({{10, State::muting}, {20, State::on_air}}),
              "keyed with the antenna relay in motion");
}

TEST(TheWitness, ObjectsToAKeyBeforeTheRelayHasSettled) {
    EXPECT_EQ(
        objection({{10, State::muting}, {12, State::antenna_to_transmit}, {15, State::on_air}}),
        "keyed with the antenna relay in motion");
}

TEST(TheWitness, ObjectsToARelayThatMovesBeforeTheMute) {
    EXPECT_EQ(objection({{10, State::muting}, {11, State::antenna_to_transmit}}),
              "the antenna relay moves before the receiver was mute");
}

TEST(TheWitness, ObjectsToARelayThatMovesUnderPower) {
    EXPECT_EQ(
        objection(then(to_transmit, {{30, State::unkeying}, {31, State::antenna_to_receive}})),
        "the antenna relay moves under power");
    EXPECT_EQ(objection(then(to_transmit, {{30, State::antenna_to_receive}})),
              "the antenna relay moves under power");
}

TEST(TheWitness, ObjectsToARelayTurnedRoundInMotion) {
    EXPECT_EQ(objection(then(to_transmit, {{30, State::unkeying},
                                           {32, State::antenna_to_receive},
                                           {33, State::antenna_to_transmit}})),
              "the antenna relay turned round before it had landed");
}

TEST(TheWitness, ObjectsToAReceiverThatOpensTooEarly) {
    EXPECT_EQ(objection(then(to_transmit, {{30, State::rest}})),
              "the antenna relay moves under power");
    EXPECT_EQ(objection(then(
                  to_transmit,
                  {{30, State::unkeying}, {40, State::antenna_to_receive}, {42, State::rest}})),
              "the receiver opens before the relay has landed");
}

TEST(TheWitness, ObjectsToAnOverThatIsTooLong) {
    EXPECT_EQ(objection(then(to_transmit, {{66, State::hold}})), "keyed beyond the longest over");
}

TEST(TheWitness, ObjectsToAStepFromNowhere) {
    Witness witness(times);
    Event event;
    event.from = State::hold;
    event.to = State::rest;
    EXPECT_STREQ(witness.see(event, 1), "a step starts from where the station was not");
}

}  // namespace
}  // namespace tripline::station::test
